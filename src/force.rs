//! Forces are newtons, exact; where sizes are in inches a reader sees them in pounds-force.

use rust_decimal::Decimal;

use crate::length::Units;

/// One pound-force in newtons: 0.453 592 37 kg x 9.806 65 m/s2 (NIST SP 811, B.8: exact).
pub const POUND_FORCE: Decimal = Decimal::from_parts(3_534_835_229, 10_356, 0, false, 13);

/// The unit that forces are shown in beside lengths in `units`.
pub const fn symbol(units: Units) -> &'static str {
    match units {
        Units::Inches => "lbf",
        Units::Millimeters => "N",
    }
}

/// So many newtons in that unit.
pub fn beside(newtons: Decimal, units: Units) -> Decimal {
    match units {
        Units::Inches => newtons / POUND_FORCE,
        Units::Millimeters => newtons,
    }
}

#[cfg(test)]
mod tests {
    use super::POUND_FORCE;

    #[test]
    fn a_pound_force_is_a_pound_times_standard_gravity() {
        assert_eq!(POUND_FORCE.to_string(), "4.4482216152605");
    }
}
