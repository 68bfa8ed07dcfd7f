//! The cut plans against the pieces of the blinds, and against bars, rolls and offcuts.

use std::collections::{BTreeMap, HashMap};

use super::{Fault, Invariant};
use crate::cutting::{CutPlan, From, Piece};
use crate::length::Length;
use crate::report::Report;
use crate::rules::{CostBasis, CutIn, Offcut};
use crate::schema::blinds::BlindState;
use crate::schema::choices::{Origin, Release};

pub(super) const INVARIANTS: &[Invariant] = &[
    Invariant::of_parts("every piece of every blind to be made is cut once", every_piece_once),
    Invariant::of_parts(
        "the pieces of a bar come out of it, with its kerfs and both trims",
        no_bar_is_over_full,
    ),
    Invariant::of_parts(
        "bars are of lengths on offer, and no more offcuts are cut than are on hand",
        bars_are_there,
    ),
];

/// A material in a color, and a piece of it.
type Wanted<'r> = (&'r str, &'r str, Piece);

/// How often each piece is wanted, less how often it is cut.
struct Balance<'r> {
    report: &'r Report<'r>,
    // Looked up, and walked only to find the first in order.
    pieces: HashMap<Wanted<'r>, i128>,
}

impl<'r> Balance<'r> {
    fn want(&mut self, material: &'r str, color: &'r str, piece: Piece, count: u64) {
        let colored = self.report.rules.material(material).is_some_and(|material| material.colored);
        let color = if colored { color } else { "" };
        *self.pieces.entry((material, color, piece)).or_default() += i128::from(count);
    }
}

fn every_piece_once(report: &Report<'_>) -> Result<(), Fault> {
    let basis = report.rules.project.cost_basis;
    let mut balance = Balance { report, pieces: HashMap::new() };
    for line in report.order.lines.iter().filter(|line| line.key.release == Release::Make) {
        for seat in line.seats.iter().filter(|_| line.key.origin == Origin::Made) {
            let blind = seat.opening.and_then(|opening| report.blinds.get(opening)?.as_ref());
            let parts = match (seat.state, basis) {
                (None, _) => blind.map(|blind| &blind.fitted.parts),
                // What is ordered of ourselves is still to be cut, as it was ordered.
                (Some(BlindState::Ordered), CostBasis::Make) => seat.opening.map(|_| &line.key.parts),
                _ => None,
            };
            for part in parts.into_iter().flat_map(|parts| &**parts) {
                let piece = Piece { length: part.length, line: Some(line.line), part: part.part };
                let count = u64::from(part.each) * (1 + seat.last - seat.first);
                balance.want(&part.material, &line.key.color, piece, count);
            }
        }
    }
    for spare in report.spares.iter().filter(|spare| basis == CostBasis::Make && spare.before.is_none()) {
        let piece = Piece { length: spare.cut, line: None, part: spare.part };
        balance.want(&spare.material, &spare.color, piece, spare.count);
    }
    for plan in &report.cuts.plans {
        for pattern in &plan.patterns {
            for &piece in &pattern.pieces {
                *balance.pieces.entry((&plan.material, &plan.color, piece)).or_default() -=
                    i128::from(pattern.bars);
            }
        }
    }
    let off = balance.pieces.into_iter().filter(|(_, count)| *count != 0).min();
    let Some(((material, color, piece), count)) = off else { return Ok(()) };
    let line = piece.line.map_or_else(|| "spares".to_owned(), |line| format!("line {line}"));
    let how = if count > 0 { "few" } else { "many" };
    let length = piece.length.in_full(report.rules.project.units);
    let found = format!("has {} too {how} of {length} for {line}", count.abs());
    Err(Fault::at(name(material, color), found))
}

fn name(material: &str, color: &str) -> String {
    format!("material {material} {color}").trim_end().to_owned()
}

fn of_plan(plan: &CutPlan, found: impl Into<String>) -> Fault {
    Fault::at(name(&plan.material, &plan.color), found)
}

fn no_bar_is_over_full(report: &Report<'_>) -> Result<(), Fault> {
    for plan in &report.cuts.plans {
        let Some(material) = report.rules.material(&plan.material) else {
            return Err(of_plan(plan, "is not listed"));
        };
        for pattern in &plan.patterns {
            let pieces: Length = pattern.pieces.iter().map(|piece| piece.length).sum();
            let kerfs: Length = pattern.pieces.iter().skip(1).map(|_| material.kerf).sum();
            if pieces + kerfs + material.trim * 2 > pattern.stock {
                return Err(of_plan(plan, format!("has too much on a bar of pattern {}", pattern.number)));
            }
            let shared: usize = pattern.shares.iter().map(|share| share.pieces).sum();
            if plan.cut_in == CutIn::Blinds && shared != pattern.pieces.len() {
                return Err(of_plan(plan, format!("has pieces of no blind on roll {}", pattern.number)));
            }
        }
    }
    Ok(())
}

fn bars_are_there(report: &Report<'_>) -> Result<(), Fault> {
    let mut used: BTreeMap<(&str, &str, Length), u64> = BTreeMap::new();
    for plan in &report.cuts.plans {
        let mut bars = 0;
        for pattern in &plan.patterns {
            let mut bars_on_offer = report.rules.bars.iter().filter(|bar| bar.material == plan.material);
            match pattern.from {
                From::Bar if bars_on_offer.any(|bar| bar.length == pattern.stock) => bars += pattern.bars,
                From::Bar => return Err(of_plan(plan, "is cut from a length that is not listed")),
                From::Offcut => {
                    *used.entry((&plan.material, &plan.color, pattern.stock)).or_default() += pattern.bars;
                }
            }
        }
        let bought: u64 = plan.bought.iter().map(|(_, _, count)| count).sum();
        if (plan.bars, bought) != (bars, bars) {
            return Err(of_plan(plan, format!("says that {bought} bars are bought, and {bars} are cut")));
        }
    }
    for ((material, color, length), used) in used {
        let is_it = |offcut: &&Offcut| {
            let is_in_color = color.is_empty() || &*offcut.color == color;
            &*offcut.material == material && offcut.length == length && is_in_color
        };
        let on_hand = report.rules.offcuts.iter().filter(is_it).map(|offcut| u64::from(offcut.quantity));
        if used > on_hand.sum() {
            let length = length.in_full(report.rules.project.units);
            return Err(Fault::at(name(material, color), format!("has {used} offcuts of {length} cut")));
        }
    }
    Ok(())
}
