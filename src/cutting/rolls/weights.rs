//! What an order of rolls costs.

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;

use crate::rounding::half_away;

/// Decimals of a roll to which the cost of a torn blind counts.
const DECIMALS: u32 = 6;

/// What a bought roll counts beside a torn blind.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Weights {
    pub(super) roll: i128,
    pub(super) torn: i128,
}

impl Weights {
    /// A torn blind costs so many rolls.
    pub(super) fn of(torn_costs: Decimal) -> Weights {
        let roll = 10_i128.pow(DECIMALS);
        let torn = (half_away(torn_costs, DECIMALS) * Decimal::from(10_i64.pow(DECIMALS))).to_i128();
        Weights { roll, torn: torn.unwrap_or(roll) }
    }

    /// The fewest rolls, whatever they tear; of these the fewest torn.
    pub(super) const FEWEST_ROLLS: Weights = Weights { roll: 1_000_000_000, torn: 1 };

    pub(super) fn cost(self, bought: u64, torn: u64) -> i128 {
        self.roll * i128::from(bought) + self.torn * i128::from(torn)
    }
}
