//! The ways in which a decimal number is rounded.

use rust_decimal::prelude::ToPrimitive;
use rust_decimal::{Decimal, RoundingStrategy};

/// The number with so many decimals at the most, half away from zero: as a spreadsheet's `ROUND`
/// does, where a decimal's own rounding takes halves to even.
pub fn half_away(number: Decimal, decimals: u32) -> Decimal {
    number.round_dp_with_strategy(decimals, RoundingStrategy::MidpointAwayFromZero)
}

/// So many percent of a count, rounded up to a whole one.
pub fn percent_up(count: u64, percent: Decimal) -> u64 {
    let share = (percent * Decimal::from(count) / Decimal::ONE_HUNDRED).ceil().to_u64();
    debug_assert!(share.is_some(), "{percent} % of {count} is no count");
    share.unwrap_or(count)
}

#[cfg(test)]
mod tests {
    use rust_decimal::Decimal;

    use super::half_away;

    #[test]
    fn halves_go_away_from_zero() {
        for (thousandths, hundredths) in [(125, 13), (-125, -13), (124, 12), (135, 14)] {
            assert_eq!(half_away(Decimal::new(thousandths, 3), 2), Decimal::new(hundredths, 2));
        }
    }
}
