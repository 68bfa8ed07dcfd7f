//! What stands beside the openings or below them: what to watch for in the unit, then the order of work.

use std::borrow::Cow;

use super::super::look::Tone;
use super::line::Line;
use super::source::Source;
use crate::query::OpeningIndex;
use crate::report::{CODES_AND_TRADES, FixingOrder, FixingStep, Unit};

/// Texts under a heading.
pub(super) struct Note {
    pub heading: String,
    pub texts: Vec<String>,
}

/// The unit's cautions, then the steps of each mount.
pub(super) fn notes(source: &Source<'_>, unit: &Unit<'_>) -> Vec<Note> {
    let orders = source.report.fixing_orders(unit);
    let steps = |order: &FixingOrder| Note {
        heading: heading(source, order),
        texts: numbered(source, order).into_iter().map(|(_, words)| words).collect(),
    };
    cautions(source, unit).into_iter().chain(orders.iter().map(steps)).collect()
}

/// The same below the openings: cautions two by two, then the lists of steps; each is kept together on a page.
pub(super) fn blocks<'p>(source: &Source<'p>, unit: &Unit<'_>) -> Vec<Vec<Line<'p>>> {
    let orders = source.report.fixing_orders(unit);
    let mut blocks: Vec<Vec<Line<'p>>> = cautions(source, unit).map(two_by_two).into_iter().collect();
    match orders.as_slice() {
        [left, right] => blocks.push(side_by_side(source, [left, right])),
        orders => blocks.extend(orders.iter().map(|order| alone(source, order))),
    }
    blocks
}

/// Between sentences that are run on.
const BETWEEN: &str = "   ";

/// What found no room beside the openings, run on over the whole width, for every line counts there.
pub(super) fn below<'p>(note: &Note) -> Vec<Line<'p>> {
    vec![
        Line::Band(note.heading.clone(), Tone::PageHeading),
        Line::Words(note.texts.join(BETWEEN).into(), Tone::PageWords),
    ]
}

/// The steps of one mount.
fn alone<'p>(source: &Source<'p>, order: &FixingOrder) -> Vec<Line<'p>> {
    let mut lines = vec![Line::Band(heading(source, order), Tone::PageHeading)];
    let steps = numbered(source, order);
    lines.extend(steps.into_iter().map(|(_, words)| Line::Words(words.into(), Tone::PageWords)));
    lines
}

/// The steps of two mounts, each number beside its like.
fn side_by_side<'p>(source: &Source<'p>, orders: [&FixingOrder; 2]) -> Vec<Line<'p>> {
    let mut lines = vec![Line::Halves(orders.map(|order| heading(source, order).into()), Tone::PageHeading)];
    let mut steps = orders.map(|order| numbered(source, order).into_iter().peekable());
    while let Some(number) = steps.iter_mut().filter_map(|steps| steps.peek().map(|step| step.0)).min() {
        let halves = steps.each_mut().map(|steps| match steps.next_if(|step| step.0 == number) {
            Some((_, words)) => Cow::Owned(words),
            None => Cow::Borrowed(""),
        });
        lines.push(Line::Halves(halves, Tone::PageWords));
    }
    lines
}

fn heading(source: &Source<'_>, order: &FixingOrder) -> String {
    let mut openings: Vec<OpeningIndex> = order.grounds.values().flatten().copied().collect();
    openings.sort_unstable();
    format!("Order of work, {} mount: {}", order.mount.word(), names(source, &openings))
}

/// Each step in words, behind its number; one that is for some of the openings names them. Those that
/// stand for each other have a letter: `4a`, `4b`.
fn numbered(source: &Source<'_>, order: &FixingOrder) -> Vec<(usize, String)> {
    let words = |(place, step): (usize, &FixingStep)| {
        let alike = |steps: &[FixingStep]| steps.iter().filter(|other| other.number == step.number).count();
        let letter = match alike(&order.steps) {
            1 => None,
            _ => ('a'..='z').nth(alike(&order.steps[..place])),
        };
        let letter = letter.map_or_else(String::new, String::from);
        let openings = step.ground.and_then(|ground| Some((ground, order.grounds.get(&ground)?)));
        let which = openings.map_or_else(String::new, |(ground, openings)| {
            format!("Into {} ({}): ", ground.words(), names(source, openings))
        });
        (step.number, format!("{}{letter}  {which}{}", step.number, step.words))
    };
    order.steps.iter().enumerate().map(words).collect()
}

/// Openings that are named one by one.
const NAMED: usize = 12;

fn names(source: &Source<'_>, openings: &[OpeningIndex]) -> String {
    let name = |&opening: &OpeningIndex| source.report.survey.openings[opening].who.name.to_string();
    let mut names: Vec<String> = openings.iter().take(NAMED).map(name).collect();
    if openings.len() > NAMED {
        names.push(format!("and {} more", openings.len() - NAMED));
    }
    names.join(", ")
}

/// What to watch for in the unit; nothing where nothing hangs.
fn cautions(source: &Source<'_>, unit: &Unit<'_>) -> Option<Note> {
    let cautions = source.report.cautions(source.doubts, &unit.openings);
    let mut texts: Vec<String> = cautions.map(|caution| caution.on_page()).collect();
    if texts.is_empty() {
        return None;
    }
    texts.push(CODES_AND_TRADES.into());
    Some(Note { heading: "Before you drill".to_owned(), texts })
}

fn two_by_two<'p>(note: Note) -> Vec<Line<'p>> {
    let mut lines = vec![Line::Band(note.heading, Tone::PageHeading)];
    let mut texts = note.texts.into_iter();
    while let Some(left) = texts.next() {
        let right = texts.next().unwrap_or_default();
        lines.push(Line::Halves([left.into(), right.into()], Tone::PageWords));
    }
    lines.push(Line::Gap(3));
    lines
}
