//! A length in other units.

use std::str::FromStr;

use rust_decimal::Decimal;

/// Units, each in words that people write.
pub const FORMS: [(&str, &[&str]); 5] = [
    ("in", &["in", "inches", "in.", "IN", "inch"]),
    ("mm", &["mm", "MM", "millimeters", "millimetres"]),
    ("cm", &["cm", "CM", "centimeters"]),
    ("m", &["m", "meters", "metres"]),
    ("ft", &["ft", "feet", "FT"]),
];

/// So many millimeters in a unit.
pub fn in_unit(mm: &str, unit: &str) -> Decimal {
    let of_unit = match unit {
        "in" => Decimal::new(254, 1),
        "cm" => Decimal::TEN,
        "m" => Decimal::ONE_THOUSAND,
        "ft" => Decimal::new(3048, 1),
        _ => Decimal::ONE,
    };
    (Decimal::from_str(mm).unwrap() / of_unit).normalize()
}
