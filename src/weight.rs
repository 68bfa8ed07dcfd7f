//! Weights are kilograms, exact; where sizes are in inches a reader sees them in pounds.

use rust_decimal::Decimal;

use crate::length::Units;

/// One pound in kilograms (NIST SP 811, B.8: exact).
const POUND: Decimal = Decimal::from_parts(45_359_237, 0, 0, false, 8);

/// The unit that weights are shown in beside lengths in `units`.
pub const fn symbol(units: Units) -> &'static str {
    match units {
        Units::Inches => "lb",
        Units::Millimeters => "kg",
    }
}

/// So many kilograms in that unit.
pub fn beside(kilograms: Decimal, units: Units) -> Decimal {
    match units {
        Units::Inches => kilograms / POUND,
        Units::Millimeters => kilograms,
    }
}
