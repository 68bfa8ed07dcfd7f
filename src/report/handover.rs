//! What stays with a unit when its blinds hang: what hangs where, the spare louvers that are left, and
//! how to look after the blinds and keep children safe. The lines on care, and those on children that
//! name no source, are common practice, no source.

use std::collections::{BTreeMap, BTreeSet};

use super::{CODES_AND_TRADES, Report, Unit};
use crate::fitting::Cord;
use crate::length::Length;
use crate::order::{OrderLine, Seat};
use crate::query::OpeningIndex;
use crate::rules::safety::Products;
use crate::schema::blinds::BlindState;
use crate::sourcing::Origin;
use crate::survey::Control;

/// How to look after louvers (common practice, no source).
pub const CARE: [&str; 5] = [
    "Dust the louvers from top to bottom with a soft dry cloth.",
    "Wipe marks off with a damp cloth and mild soap. No bleach, no solvent, no scrubbing; do not soak the louvers.",
    "Open the louvers before you draw the blind aside, and close them only when it is fully drawn across.",
    "Operate the blind by its control alone. Hang nothing on rail, louvers or control, and do not overload the rail.",
    "If a louver comes off or a bracket is loose, leave the blind alone until it is repaired.",
];

/// Blinds of a unit's opening that hang, or are to hang; `None` for an opening of which no blind is in
/// the order.
#[derive(Clone, Copy, Debug)]
pub struct Hangs<'r> {
    /// The opening.
    pub opening: OpeningIndex,
    /// Their line, and which of its blinds they are.
    pub seat: Option<(&'r OrderLine, &'r Seat)>,
}

/// A unit of which some blind hangs, with all its openings.
#[derive(Clone, Debug)]
pub struct Kept<'r> {
    /// The unit.
    pub unit: &'r Unit<'r>,
    /// What hangs at its openings, in survey order, or is to.
    pub hangs: Vec<Hangs<'r>>,
}

/// Spare louvers of one color and size that were ordered.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SpareLeft<'r> {
    /// Their color; empty for a material without.
    pub color: &'r str,
    /// Width of each.
    pub width: Length,
    /// Finished length of each.
    pub length: Length,
    /// How many are left; `None` if nobody counted them.
    pub left: Option<u64>,
}

impl Hangs<'_> {
    /// Whether it hangs.
    pub fn is_fitted(&self) -> bool {
        self.seat.is_some_and(|(_, seat)| is_fitted(seat))
    }
}

fn is_fitted(seat: &Seat) -> bool {
    seat.state == Some(BlindState::Fitted)
}

impl<'r> Report<'r> {
    /// Whether some blind hangs at an opening of the survey.
    pub fn has_fitted(&self) -> bool {
        let mut seats = self.order.lines.iter().flat_map(|line| &line.seats);
        seats.any(|seat| seat.opening.is_some() && is_fitted(seat))
    }

    /// The units of which some blind hangs, in their order; `units` are those of the report.
    pub fn handed_over<'u>(&'u self, units: &'u [Unit<'u>]) -> Vec<Kept<'u>> {
        if !self.has_fitted() {
            return Vec::new();
        }
        let lines = self.order.lines.iter();
        let seats = lines.flat_map(|line| line.seats.iter().map(move |seat| (line, seat)));
        let mut seats: Vec<(OpeningIndex, (&OrderLine, &Seat))> = seats
            .filter(|(_, seat)| seat.counts())
            .filter_map(|seat| Some((seat.1.opening?, seat)))
            .collect();
        seats.sort_by_key(|(opening, (line, seat))| (*opening, !is_fitted(seat), line.line, seat.first));
        let of_opening = |&opening: &OpeningIndex| -> Vec<Hangs<'u>> {
            let first = seats.partition_point(|(other, _)| *other < opening);
            let own = seats[first..].iter().take_while(|(other, _)| *other == opening);
            let hangs: Vec<_> = own.map(|(_, seat)| Hangs { opening, seat: Some(*seat) }).collect();
            if hangs.is_empty() { vec![Hangs { opening, seat: None }] } else { hangs }
        };
        let kept = units
            .iter()
            .map(|unit| Kept { unit, hangs: unit.openings.iter().flat_map(of_opening).collect() });
        kept.filter(|kept| kept.hangs.iter().any(Hangs::is_fitted)).collect()
    }

    /// Spare louvers that were ordered for the project, by color and size.
    pub fn spares_left(&self) -> Vec<SpareLeft<'_>> {
        let mut left: BTreeMap<(&str, Length, Length), Option<u64>> = BTreeMap::new();
        for spares in self.order.spares_before.iter().filter(|spares| spares.is_ordered()) {
            let counted = spares.typed.left.map(u64::from);
            let all = left.entry((&spares.color, spares.width, spares.length)).or_insert(Some(0));
            // One row that nobody counted leaves the sum unknown.
            *all = all.zip(counted).map(|(all, more)| all + more);
        }
        left.into_iter()
            .map(|((color, width, length), left)| SpareLeft { color, width, length, left })
            .collect()
    }

    /// What keeps children safe from the blinds that hang in a unit, by what operates them; a cord's rules
    /// by the project's jurisdiction, where none is named all of them.
    pub fn child_safety(&self, hangs: &[Hangs<'_>]) -> Vec<String> {
        let fitted = || {
            let fitted = hangs.iter().filter(|hangs| hangs.is_fitted());
            fitted.filter_map(|hangs| Some((hangs.opening, hangs.seat?.0)))
        };
        let has = |control| fitted().any(|(_, line)| line.key.control == control);
        let mut lines = vec![
            "Keep beds, cribs and anything that a child can climb away from windows. A blind does not stop a fall.".to_owned(),
        ];
        if has(Control::Wand) {
            lines.push(
                "Wand: keep furniture away from it, and never tie a cord or a string to it.".to_owned(),
            );
        }
        if has(Control::Motor) {
            lines.push(
                "Motor: keep its remote control or switch away from children, and keep clear while the blind moves.".to_owned(),
            );
        }
        if has(Control::Cord) {
            lines.push(
                "Cord: a child can strangle in it. Keep it in its device and out of reach; never lengthen it, tie it to another or remove the device.".to_owned(),
            );
            lines.extend(self.cords(fitted()));
        }
        lines.push(CODES_AND_TRADES.to_owned());
        lines
    }

    /// The cords of blinds, each set of openings that have the same once, and the rules that they are under.
    fn cords<'h>(&self, fitted: impl Iterator<Item = (OpeningIndex, &'h OrderLine)>) -> Vec<String> {
        let units = self.rules.project.units;
        let mut kept: BTreeMap<Cord, BTreeSet<OpeningIndex>> = BTreeMap::new();
        let mut rules: Vec<String> = Vec::new();
        for (opening, line) in fitted {
            let Some(cord) = line.key.cord else { continue };
            kept.entry(cord).or_default().insert(opening);
            let products = match line.key.origin {
                Origin::Made => Products::Made,
                Origin::Stock => Products::Stock,
            };
            for rule in self.rules.safety.cords(self.rules.project.jurisdiction, products) {
                let cited = format!("{}: {}, {}.", rule.jurisdiction, rule.source.title, rule.source);
                if !rules.contains(&cited) {
                    rules.push(cited);
                }
            }
        }
        let cords = kept.into_iter().map(|(cord, openings)| {
            let names: Vec<&str> =
                openings.into_iter().map(|opening| &*self.survey.openings[opening].who.name).collect();
            let device = cord.device.map_or("no device given", |device| device.word());
            let height = cord.height.map_or_else(String::new, |height| {
                format!(", lowest point {} above the floor as measured", height.show(units))
            });
            format!("{}: {device}{height}.", names.join(", "))
        });
        cords.chain(rules).collect()
    }
}
