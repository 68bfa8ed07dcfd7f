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

/// Whether two numbers are one to a spreadsheet, which keeps 15 significant digits of each and may
/// write the last of them anew.
pub fn same_as_stored(one: Decimal, other: Decimal) -> bool {
    /// Of the greater number.
    const RESIDUE: Decimal = Decimal::from_parts(1, 0, 0, false, 12);
    let greater = one.abs().max(other.abs());
    one.checked_sub(other).is_some_and(|apart| apart.abs() <= greater * RESIDUE)
}

#[cfg(test)]
mod tests {
    use rust_decimal::Decimal;

    use super::{half_away, same_as_stored};

    #[test]
    fn a_stored_number_is_the_same_but_for_its_last_digits() {
        let number = |text: &str| Decimal::from_str_exact(text).unwrap_or_default();
        for (one, other, same) in [
            ("0.3", "0.30000000000000004", true),
            ("3.3333333333333333333333333333", "3.33333333333333", true),
            ("0", "0.000", true),
            ("0", "0.01", false),
            ("999999999.99", "1000000000.00", false),
            ("0.05", "0.0500001", false),
            ("1", "-1", false),
        ] {
            assert_eq!(same_as_stored(number(one), number(other)), same, "{one}, {other}");
        }
    }

    #[test]
    fn halves_go_away_from_zero() {
        for (thousandths, hundredths) in [(125, 13), (-125, -13), (124, 12), (135, 14)] {
            assert_eq!(half_away(Decimal::new(thousandths, 3), 2), Decimal::new(hundredths, 2));
        }
    }
}
