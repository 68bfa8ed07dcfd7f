//! The lines of the order against the openings that they are for.

use std::collections::HashSet;

use super::{Fault, Invariant};
use crate::fitting::Blind;
use crate::order::LineKey;
use crate::report::Report;
use crate::sizing::Mount;

pub(super) const INVARIANTS: &[Invariant] = &[
    Invariant::of_whole(
        "each blind is on one line of the order, and no blind of a held opening is ordered",
        on_one_line,
    ),
    Invariant::of_parts(
        "a line counts its own blinds, each number once, and no other line has its number",
        counts_itself,
    ),
    Invariant::of_parts("a line that is not ordered yet is what its openings need", is_what_is_needed),
];

fn on_one_line(report: &Report<'_>) -> Result<(), Fault> {
    // Blinds of each opening: all of them, and those that are not ordered yet.
    let mut blinds = vec![(0_u64, 0_u64); report.survey.openings.len()];
    for seat in report.order.lines.iter().flat_map(|line| &line.seats).filter(|seat| seat.counts()) {
        let Some((all, open)) = seat.opening.and_then(|opening| blinds.get_mut(opening)) else { continue };
        let count = 1 + seat.last - seat.first;
        *all += count;
        *open += if seat.state.is_none() { count } else { 0 };
    }
    for (opening, (surveyed, (all, open))) in report.survey.openings.iter().zip(blinds).enumerate() {
        let wanted = u64::from(surveyed.who.quantity);
        match report.blinds.get(opening) {
            Some(Some(_)) if all != wanted => {
                let found = format!("has {all} blinds in the order, not {wanted}");
                return Err(Fault::opening(report, opening, found));
            }
            Some(None) if open > 0 => {
                return Err(Fault::opening(report, opening, "is held and in the order"));
            }
            Some(_) => {}
            None => return Err(Fault::opening(report, opening, "is neither held nor covered")),
        }
    }
    Ok(())
}

fn counts_itself(report: &Report<'_>) -> Result<(), Fault> {
    let mut numbers = HashSet::new();
    for line in report.order.lines.iter().chain(&report.order.ended) {
        let mut last = 0;
        let mut counted = 0;
        for seat in &line.seats {
            // What an earlier fit-out has goes by its own labels.
            let is_past = seat.kept.is_none() && seat.last > line.of;
            if seat.first <= last || seat.last < seat.first || is_past {
                let found = format!("has a blind numbered {} of {}", seat.first, line.of);
                return Err(Fault::line(line.line, found));
            }
            last = seat.last;
            counted += if seat.counts() { 1 + seat.last - seat.first } else { 0 };
        }
        if counted != line.quantity {
            let found = format!("has {counted} blinds and says {}", line.quantity);
            return Err(Fault::line(line.line, found));
        }
        if !numbers.insert(line.line) {
            return Err(Fault::line(line.line, "is there twice"));
        }
    }
    let mut new = report.spares.iter().filter(|spare| spare.before.is_none());
    match new.find(|spare| !numbers.insert(spare.line)) {
        Some(spare) => Err(Fault::line(spare.line, "is there twice, once for spare louvers")),
        None => Ok(()),
    }
}

fn is_what_is_needed(report: &Report<'_>) -> Result<(), Fault> {
    for line in &report.order.lines {
        for seat in line.seats.iter().filter(|seat| seat.state.is_none()) {
            let Some(opening) = seat.opening else {
                return Err(Fault::line(line.line, "has a blind for no opening"));
            };
            let phase = report.survey.openings.get(opening).map(|surveyed| &surveyed.who.phase);
            let blind = report.blinds.get(opening).and_then(Option::as_ref);
            if phase != Some(&line.key.phase) || !blind.is_some_and(|blind| is_alike(&line.key, blind)) {
                let name = &report.survey.openings[opening].who.name;
                return Err(Fault::line(line.line, format!("is not what opening {name} needs")));
            }
        }
    }
    Ok(())
}

fn is_alike(key: &LineKey, blind: &Blind<'_>) -> bool {
    let Blind { sizing, sourced, fitted } = blind;
    key.product == sizing.product.name
        && key.color == sizing.color
        && key.size == sourced.size
        && key.parts == fitted.parts
        && key.draw == fitted.panel.stack.map(|stack| stack.draw)
        && key.control == sizing.operation.control
        && (key.control_side, key.wand, key.cord) == (fitted.control_side, fitted.wand, fitted.cord)
        && key.mount() == sizing.hung.mount()
        && (key.mount() != Mount::Outside || key.reach() == sizing.hung.reach())
        && (&key.bracket, key.brackets as usize) == (&fitted.brackets.item, fitted.brackets.from_left.len())
        && (key.valance, key.returns()) == (fitted.valance, fitted.returns())
        && key.origin == sourced.supply.origin()
        && key.stock == sourced.supply.stock().map(|stock| stock.id)
        && key.release == sizing.release
}
