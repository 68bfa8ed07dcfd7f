//! What holds a blind up, and heights and depths that follow from what was measured.

use super::{Covered, Invariant};
use crate::rules::Capacity;
use crate::sizing::Hung;

pub(super) const INVARIANTS: &[Invariant] = &[
    Invariant::of_opening(
        "its fixings hold a blind, or a query says that they do not or that it is unknown",
        holds,
    ),
    Invariant::of_opening(
        "what a fixing holds is unknown where its capacity is, and never 0",
        capacity_is_known,
    ),
    Invariant::of_opening("a depth or a height that nobody measured is unknown, and never 0", depth_is_known),
];

/// Queries that say that a capacity is unknown.
const UNKNOWN: &[&str] =
    &["capacity-unknown", "substrate-unknown", "no-fixing-listed", "fixing-too-short", "thin-casing"];

fn holds(of: &Covered<'_, '_>) -> Option<String> {
    let does = match (of.blind.fitted.fixings.hung, of.blind.fitted.fixings.pulled) {
        (Some(hung), Some(pulled)) => {
            hung.max(pulled) <= 1.into() || of.is_told(&["fixing-overloaded", "fixing-pulled-out"])
        }
        (None, None) => of.is_told(UNKNOWN),
        _ => false,
    };
    (!does).then(|| "has fixings that may not hold its blind".to_owned())
}

fn capacity_is_known(of: &Covered<'_, '_>) -> Option<String> {
    let fixings = &of.blind.fitted.fixings;
    let mut chosen = fixings.kinds().map(|screws| screws.fixing);
    let unknown = chosen.any(|fixing| fixing.is_none_or(|fixing| fixing.capacity == Capacity::Unknown));
    let fails = unknown && (fixings.hung.is_some() || fixings.pulled.is_some());
    fails.then(|| "compares a load with a capacity that is unknown".to_owned())
}

fn depth_is_known(of: &Covered<'_, '_>) -> Option<String> {
    let guessed = match &of.blind.sizing.hung {
        Hung::Inside(recess) => recess.rail.is_some() && of.facts.recess_depth.is_none(),
        Hung::Outside(_) | Hung::Ceiling(_) => false,
    };
    let height = of.blind.fitted.brackets.top_above_floor;
    let fails = guessed || height.is_some() && of.facts.sill_height().is_none();
    fails.then(|| "has its rail where nothing was measured".to_owned())
}
