//! The offcuts that are on hand when everything is sawn: those kept of this run's bars, and those
//! that were on hand before and were not needed.
//!
//! Kept is what has the least useful length or more, and more than two trims; what was on hand and
//! not cut stays, however short. On the sheet lengths are decimals under a heading with their unit,
//! so that the next survey reads them to the nanometer whatever its own unit.

use std::cmp::Reverse;
use std::collections::BTreeMap;
use std::sync::Arc;

use super::{CutPlan, From, Pattern};
use crate::length::Length;
use crate::rules::Rules;

/// Offcuts alike.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OffcutLeft {
    /// The material.
    pub material: Arc<str>,
    /// Its color; empty for a material without.
    pub color: Arc<str>,
    /// Length of each, with a raw end, as the saw leaves it.
    pub length: Length,
    /// Where they come from.
    pub from: LeftFrom,
    /// How many there are; above zero.
    pub quantity: u64,
}

/// Where an offcut that is left comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum LeftFrom {
    /// Left of a bar or an offcut that was cut in this run, and kept.
    Kept,
    /// On hand before, and not needed.
    OnHand,
}

impl LeftFrom {
    /// `kept` or `on hand`.
    pub const fn word(self) -> &'static str {
        match self {
            LeftFrom::Kept => "kept",
            LeftFrom::OnHand => "on hand",
        }
    }
}

/// Material, color, then the longest first.
type Kind = (Arc<str>, Arc<str>, Reverse<Length>, LeftFrom);

/// What is left of `plans`, and of the offcuts that the rules say were on hand, of whatever
/// material.
pub(super) fn offcuts_left(plans: &[CutPlan], rules: &Rules) -> Vec<OffcutLeft> {
    let mut left: BTreeMap<Kind, u64> = BTreeMap::new();
    for offcut in &rules.offcuts {
        let kind = (offcut.material.clone(), offcut.color.clone(), Reverse(offcut.length), LeftFrom::OnHand);
        *left.entry(kind).or_default() += u64::from(offcut.quantity);
    }
    for plan in plans {
        for pattern in &plan.patterns {
            let of = |length, from| (plan.material.clone(), plan.color.clone(), Reverse(length), from);
            if pattern.from == From::Offcut
                && let Some(count) = left.get_mut(&of(pattern.stock, LeftFrom::OnHand))
            {
                *count = count.saturating_sub(pattern.bars);
            }
            if plan.keeps(pattern) {
                *left.entry(of(pattern.offcut, LeftFrom::Kept)).or_default() += pattern.bars;
            }
        }
    }
    let some_left = left.into_iter().filter(|(_, quantity)| *quantity > 0);
    some_left
        .map(|((material, color, Reverse(length), from), quantity)| OffcutLeft {
            material,
            color,
            length,
            from,
            quantity,
        })
        .collect()
}

impl CutPlan {
    /// Whether what is left of a pattern's bars is kept: it is of use, and more than its two trims.
    pub fn keeps(&self, pattern: &Pattern) -> bool {
        pattern.offcut > self.trim * 2 && pattern.offcut >= self.least_useful
    }
}
