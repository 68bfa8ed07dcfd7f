//! What stands below the openings: the order of work, and what holds all over the site.

use super::super::look::Tone;
use super::line::Line;
use super::source::Source;
use crate::report::{FixingOrder, Unit};

/// A list of steps for each mount, then the site's cautions; each is kept together on a page.
pub(super) fn blocks<'p>(source: &Source<'p>, unit: &Unit<'_>) -> Vec<Vec<Line<'p>>> {
    let orders = source.report.fixing_orders(unit);
    let mut blocks: Vec<Vec<Line<'p>>> = orders.iter().map(|order| work(source, order)).collect();
    let mut cautions = vec![Line::Band("Before anything is drilled".to_owned(), Tone::Section)];
    let words = source.report.site_cautions();
    cautions.extend(words.into_iter().map(|caution| Line::Words(caution.into(), Tone::PageWords)));
    blocks.push(cautions);
    blocks
}

fn work<'p>(source: &Source<'p>, order: &FixingOrder) -> Vec<Line<'p>> {
    let names = |openings: &[usize]| {
        let names: Vec<&str> =
            openings.iter().map(|&opening| &*source.report.survey.openings[opening].who.name).collect();
        names.join(", ")
    };
    let mut all: Vec<usize> = order.grounds.values().flatten().copied().collect();
    all.sort_unstable();
    let band = format!("Order of work, {} mount: {}", order.mount.word(), names(&all));
    let mut lines = vec![Line::Band(band, Tone::Section)];
    for step in &order.steps {
        let for_which = step.ground.map_or_else(String::new, |ground| match order.grounds.get(&ground) {
            Some(openings) => format!("Into {} ({}): ", ground.words(), names(openings)),
            None => String::new(),
        });
        lines
            .push(Line::Words(format!("{}  {for_which}{}", step.number, step.words).into(), Tone::PageWords));
    }
    lines.push(Line::Gap(3));
    lines
}
