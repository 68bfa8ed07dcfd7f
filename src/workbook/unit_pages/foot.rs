//! What stands below the openings: what to watch for in the unit, then the order of work.

use std::borrow::Cow;

use super::super::look::Tone;
use super::line::Line;
use super::paper::Paper;
use super::source::Source;
use crate::query::OpeningIndex;
use crate::report::{CODES_AND_TRADES, FixingOrder, FixingStep, Unit};

/// Between sentences that are run on.
const BETWEEN: &str = "   ";

/// The unit's cautions, then the lists of steps; each is kept together on a page.
pub(super) fn blocks<'p>(source: &Source<'p>, unit: &Unit<'_>, paper: Paper) -> Vec<Vec<Line<'p>>> {
    let orders = source.report.fixing_orders(unit);
    let mut blocks = vec![cautions(source, unit, paper)];
    match orders.as_slice() {
        [] => {}
        [one] => blocks.push(alone(source, one)),
        [left, right, ..] if paper == Paper::LyingSmaller => {
            blocks.push(run_on(source, [left, right]));
        }
        [left, right, ..] => blocks.push(side_by_side(source, [left, right])),
    }
    blocks
}

/// The steps of the only mount that there is.
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

/// The same, run on in one text each, where every line counts.
fn run_on<'p>(source: &Source<'p>, orders: [&FixingOrder; 2]) -> Vec<Line<'p>> {
    let text = |order| {
        let steps: Vec<String> = numbered(source, order).into_iter().map(|(_, words)| words).collect();
        Cow::Owned(steps.join(BETWEEN))
    };
    vec![
        Line::Halves(orders.map(|order| heading(source, order).into()), Tone::PageHeading),
        Line::Halves(orders.map(text), Tone::PageWords),
    ]
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

fn cautions<'p>(source: &Source<'p>, unit: &Unit<'_>, paper: Paper) -> Vec<Line<'p>> {
    let cautions = source.report.cautions(source.doubts, &unit.openings);
    let mut words: Vec<Cow<'_, str>> = cautions.map(|caution| caution.on_page().into()).collect();
    if words.is_empty() {
        return Vec::new();
    }
    words.push(CODES_AND_TRADES.into());
    let mut lines = vec![Line::Band("Before you drill".to_owned(), Tone::PageHeading)];
    if paper == Paper::LyingSmaller {
        // Run on, where every line counts.
        let rest = words.split_off(words.len().div_ceil(2));
        lines.push(Line::Halves([words, rest].map(|words| words.join(BETWEEN).into()), Tone::PageWords));
    } else {
        let mut words = words.into_iter();
        while let Some(left) = words.next() {
            let right = words.next().unwrap_or_default();
            lines.push(Line::Halves([left, right], Tone::PageWords));
        }
    }
    lines.push(Line::Gap(3));
    lines
}
