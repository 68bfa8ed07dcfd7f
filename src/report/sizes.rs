//! Which sizes there are most of, and what their bars come to.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use super::Report;
use crate::cutting::CutPlan;
use crate::length::Length;
use crate::sizing::Size;

/// Blinds of one product and size.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SizeCount<'r> {
    /// The product.
    pub product: &'r str,
    /// The finished size.
    pub size: Size,
    /// How many blinds.
    pub blinds: u64,
}

impl Report<'_> {
    /// Every distinct size, the commonest first; of equals the narrower.
    pub fn sizes_by_count(&self) -> Vec<SizeCount<'_>> {
        let mut counts: BTreeMap<(&str, Size), u64> = BTreeMap::new();
        for line in &self.order.lines {
            *counts.entry((&line.key.product, line.key.size)).or_default() += line.quantity;
        }
        let counts = counts.into_iter();
        let mut sizes: Vec<SizeCount<'_>> =
            counts.map(|((product, size), blinds)| SizeCount { product, size, blinds }).collect();
        sizes.sort_by_key(|count| (Reverse(count.blinds), count.size));
        sizes
    }
}

impl CutPlan {
    /// Length of the pieces of all bars and offcuts that are cut, and of what comes off them: trims,
    /// kerf and ends, kept or not.
    pub fn used_and_cut_off(&self) -> (Length, Length) {
        let (mut used, mut stock) = (Length::ZERO, Length::ZERO);
        for pattern in &self.patterns {
            let bars = i64::try_from(pattern.bars).unwrap_or(i64::MAX);
            for piece in &pattern.pieces {
                used = used + piece.length * bars;
            }
            stock = stock + pattern.stock * bars;
        }
        (used, stock - used)
    }
}
