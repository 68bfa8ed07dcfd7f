//! Reading a length from a tape's text: every way in which the text can be meant.
//!
//! A bare `2,692` in an inch survey is a query, even where only one reading is within bounds.

use rust_decimal::Decimal;

use super::Unit;
use super::number::{Number, numbers, with_fraction};
use super::spelling::{plain, unit_named, unquoted};

/// One way in which a text can be read as a length.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Reading {
    /// The number; of the unit below if there is one, else of the heading's or the project's.
    pub value: Decimal,
    /// The unit that the text names; inches for feet and inches together.
    pub unit: Option<Unit>,
    /// The comma or point that this reading takes as a mark between thousands, as in `2,692`,
    /// where it could as well stand before decimals.
    pub grouped: Option<char>,
}

/// Longer texts are remarks, not lengths.
pub(super) const LONGEST_TEXT: usize = 64;

/// What stands before or after a length that was not measured, longer spellings first.
const DOUBTFUL: [&str; 14] = [
    "~",
    "≈",
    "∼",
    "±",
    "?",
    "approximately",
    "approx",
    "about",
    "abt",
    "circa",
    "ca",
    "etwa",
    "environ",
    "tbc",
];

/// Every way in which `text` can be read as a length; empty if there is none.
///
/// Read are decimals with a point or a comma (`105.5`, `105,5`), thousands grouped by a space, a
/// comma or a point (`1 450`, `2,692`, `2.692,5`), proper fractions (`105 1/2`, `105-1/2`, `105½`),
/// each with a unit or without (`2692 mm`, `105 1/2"`), and feet with inches (`8'-10 1/2"`,
/// `3 ft 6 in`); in digits of any width, and within quotes. A leading minus is kept. A decimal of
/// more than 15 digits is rounded to as many.
pub fn readings(text: &str) -> Vec<Reading> {
    readings_of_plain(&plain(text))
}

/// Every way in which the length in a text such as `~900` or `900 approx.` can be read, if that
/// says it was not measured; else none.
pub fn doubtful_readings(text: &str) -> Vec<Reading> {
    let text = plain(text);
    let is_apart = |rest: &str| !rest.starts_with(char::is_alphabetic);
    let after = DOUBTFUL.iter().find_map(|word| text.strip_prefix(word).filter(|rest| is_apart(rest)));
    let before = || {
        let text = text.strip_suffix('.').unwrap_or(&text);
        DOUBTFUL.iter().find_map(|word| text.strip_suffix(word))
    };
    after.or_else(before).map_or_else(Vec::new, |size| readings_of_plain(size.trim_matches(['.', ' ', ':'])))
}

pub(super) fn readings_of_plain(text: &str) -> Vec<Reading> {
    if text.len() > LONGEST_TEXT {
        return Vec::new();
    }
    let text = unquoted(text);
    let (negative, size) = match text.strip_prefix('-') {
        Some(rest) => (true, rest.trim_start()),
        None => (false, text),
    };
    let mut readings = match feet_and_inches(size) {
        Some(reading) => vec![reading],
        None => number_with_unit(size),
    };
    for reading in &mut readings {
        reading.value.set_sign_negative(negative && !reading.value.is_zero());
        reading.value.normalize_assign();
    }
    readings
}

/// `8' 10 1/2"`, `8'-10`, `3 ft 6 in`: whole feet, then less than twelve inches.
fn feet_and_inches(text: &str) -> Option<Reading> {
    let feet_end = text.find(|character: char| !character.is_ascii_digit())?;
    let feet: Decimal = text[..feet_end].parse().ok()?;
    let rest = text[feet_end..].trim_start();
    let inches =
        ["feet", "foot", "ft.", "ft", "'"].iter().find_map(|spelling| rest.strip_prefix(spelling))?.trim();
    let inches = inches.strip_prefix('-').unwrap_or(inches).trim_start();
    let mut below_a_foot = number_with_unit(inches).into_iter().filter(|reading| {
        matches!(reading.unit, None | Some(Unit::Inch)) && reading.value < Decimal::from(12)
    });
    let (inches, None) = (below_a_foot.next()?, below_a_foot.next()) else { return None };
    let value = feet.checked_mul(Decimal::from(12))?.checked_add(inches.value)?;
    Some(Reading { value, unit: Some(Unit::Inch), grouped: None })
}

/// A number that ends at the text's last digit or the point after it, and the unit if one follows.
fn number_with_unit(text: &str) -> Vec<Reading> {
    let Some(last_digit) = text.rfind(|character: char| character.is_ascii_digit()) else {
        return Vec::new();
    };
    let (number, unit) = text.split_at(last_digit + 1);
    let unit = match unit.strip_prefix('.').unwrap_or(unit).trim() {
        "" => None,
        unit => match unit_named(unit) {
            Some(unit) => Some(unit),
            None => return Vec::new(),
        },
    };
    let numbers = match number.split_once('/') {
        Some((above, below)) => with_fraction(above, below),
        None => numbers(number),
    };
    numbers.into_iter().map(|Number { value, grouped, .. }| Reading { value, unit, grouped }).collect()
}
