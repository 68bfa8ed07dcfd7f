//! How far a plan may be above the least that any plan could do.
//!
//! The gap of a plan that is not proven is stated in bars where there is a bound in bars, and in
//! money where every bar has a price. With several lengths, or offcuts on hand, the aim is the
//! cost, and so is the gap.

use rust_decimal::Decimal;

use super::CutPlan;

/// How far a plan may be above the least: nothing where it is proven.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Gap {
    /// In bars; `None` with offcuts on hand or bars of several lengths, where the aim is the cost.
    pub bars: Option<u64>,
    /// In money, exact; `None` if a bar has no price.
    pub cost: Option<Decimal>,
}

impl CutPlan {
    /// How far the plan may be above the least.
    pub fn gap(&self) -> Gap {
        Gap {
            bars: self.at_least.map(|least| self.bars.saturating_sub(least)),
            cost: self.cost.zip(self.cost_at_least).map(|(cost, least)| (cost - least).max(Decimal::ZERO)),
        }
    }
}
