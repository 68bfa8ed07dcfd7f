//! What sawing each phase by itself takes, beside the whole project at once.

use rust_decimal::Decimal;

use super::Report;
use crate::cutting::CutPlan;

/// One material in one color, sawn phase by phase and at once.
#[derive(Clone, Copy, Debug)]
pub struct ByPhase<'r> {
    /// The plan of the whole project at once.
    pub at_once: &'r CutPlan,
    /// Bars that the phases buy, each by itself.
    pub bars: u64,
    /// What those cost, exact; `None` if a bar has no price.
    pub cost: Option<Decimal>,
}

impl ByPhase<'_> {
    /// Bars beyond those of the whole project at once. Below zero where dearer bars are fewer.
    pub fn more_bars(&self) -> i64 {
        self.bars.cast_signed().saturating_sub(self.at_once.bars.cast_signed())
    }

    /// Cost beyond that of the whole project at once; `None` if a bar has no price.
    pub fn more_cost(&self) -> Option<Decimal> {
        Some(self.cost? - self.at_once.cost?)
    }
}

impl<'r> Report<'r> {
    /// Each material in each color, where the project is sawn phase by phase; nothing otherwise.
    pub fn by_phase(&self) -> impl Iterator<Item = ByPhase<'_>> {
        self.cuts.at_once.iter().map(|at_once| {
            let same = |plan: &&CutPlan| (&plan.material, &plan.color) == (&at_once.material, &at_once.color);
            let plans = || self.cuts.plans.iter().filter(same);
            ByPhase {
                at_once,
                bars: plans().map(|plan| plan.bars).sum(),
                cost: plans().map(|plan| plan.cost).sum(),
            }
        })
    }
}
