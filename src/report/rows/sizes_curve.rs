//! Sizes against money: what fewer sizes cost and save.

use super::cost::amount;
use crate::length::Length;
use crate::report::Report;
use crate::report::figure::{Money, Said, row};
use crate::sourcing::{Cheapest, SizesAt};

/// What sharing sizes comes to where blinds may move so far.
#[derive(Clone, Copy)]
pub struct SizesAtRow<'r> {
    report: &'r Report<'r>,
    at: &'r SizesAt,
}

row! {
    /// Made blinds whose sizes may be adjusted so far: the fewest sizes, and the sizes that cost the least. Costs are
    /// those of the made blinds by the price list, and of the set-up of each different product, width and drop.
    SizesAtRow<'r>: row {
        /// How far width and drop of a blind may each be adjusted; null as far as its window goes.
        adjusted_by_mm: Option<Length> = row.at.furthest
            => headed("Adjusted by up to"), strong, worded(|row, by| row.limit(by));
        /// Fewest different sizes that were found, each phase counted by itself.
        sizes: usize = row.at.fewest.after => shown, strong;
        /// No sharing can need fewer.
        sizes_at_least: usize = row.at.fewest.at_least => headed("Fewest possible");
        /// Whether it is proven that there are no fewer.
        sizes_proven: bool = row.at.fewest.is_fewest();
        /// How much all blinds are adjusted together, in width and in drop.
        adjusted_mm: Length = row.at.fewest.movement => headed("Adjusted in all");
        /// Whether it is proven that so few sizes, and no fewer, cannot do with less.
        adjusted_proven: bool = row.at.fewest.is_least_movement
            => headed("Proven"), worded(|_, proven| yes_or_no(proven));
        /// What made blinds and set-ups cost at these sizes; null if a price is unknown.
        cost: Option<Money> = row.at.cost.map(|cost| amount(cost, row.report))
            => shown, strong, worded(|row, cost| if cost.is_none() { Said::Unknown } else { Said::of(row.cost()) });
        /// Different sizes at the minimum cost; null where a set-up costs nothing, or a price is unknown.
        cheapest_sizes: Option<usize> = row.cheapest().map(|plan| plan.merging.after)
            => headed("Sizes at minimum cost"), unless_blank;
        /// How much all blinds are adjusted together at the minimum cost; null likewise.
        cheapest_adjusted_mm: Option<Length> = row.cheapest().map(|plan| plan.merging.movement)
            => headed("Adjusted then in all"), unless_blank;
        /// The minimum cost that was found; null likewise.
        cheapest_cost: Option<Money> = row.cheapest().map(|plan| amount(plan.cost, row.report))
            => headed("Minimum cost"), unless_blank, strong;
        /// Whether it is proven that no sizes cost less; null likewise.
        cheapest_proven: Option<bool> = row.cheapest().map(|plan| plan.is_least)
            => headed("Minimum proven"), unless_blank, worded(|_, proven| proven.map_or("", yes_or_no));
    }
}

fn yes_or_no(truth: bool) -> &'static str {
    if truth { "yes" } else { "no" }
}

impl<'r> SizesAtRow<'r> {
    /// Every limit, from no change to whole windows.
    pub fn all(report: &'r Report<'r>) -> impl Iterator<Item = SizesAtRow<'r>> + Clone {
        report.sizes_curve.iter().map(move |at| SizesAtRow { report, at })
    }

    fn cheapest(self) -> Option<&'r Cheapest> {
        self.at.cheapest.as_ref()
    }

    /// The limit in words, without its unit: a bar of the chart is named by it.
    fn limit(self, by: Option<Length>) -> String {
        match by {
            None => "whole window".to_owned(),
            Some(Length::ZERO) => "not at all".to_owned(),
            Some(by) => {
                let units = self.report.rules.project.units;
                by.show(units).trim_end_matches(units.symbol()).trim_end().to_owned()
            }
        }
    }
}
