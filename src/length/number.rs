//! Numbers as digits, marks and a fraction make them; where a mark can be meant in two ways, both.
//!
//! Quotes around a number are quotes, not inches or feet; an apostrophe before it is a
//! spreadsheet's mark of text.

use rust_decimal::{Decimal, RoundingStrategy};

/// Parts into which a tape, or a character such as `⅓`, divides a unit.
const DENOMINATORS: [u32; 12] = [2, 3, 4, 5, 6, 7, 8, 9, 10, 16, 32, 64];

/// Significant digits that a spreadsheet keeps; what stands beyond them is the residue of binary
/// sums, such as the last digit of 876.0000000000001.
const SIGNIFICANT_DIGITS: u32 = 15;

/// A number as one choice of marks reads it.
pub(super) struct Number {
    pub value: Decimal,
    /// The comma or point between thousands.
    pub grouped: Option<char>,
    decimal_mark: Option<char>,
}

/// A fraction, alone or after a whole number and a space or a dash; `above` holds all before the stroke.
pub(super) fn with_fraction(above: &str, below: &str) -> Vec<Number> {
    let whole_end = above.trim_end_matches(|character: char| character.is_ascii_digit()).len();
    let (whole, numerator) = above.split_at(whole_end);
    let Some(fraction) = proper_fraction(numerator, below) else { return Vec::new() };
    let whole = whole.trim_end();
    let whole = whole.strip_suffix('-').unwrap_or(whole).trim_end();
    if whole_end == 0 {
        return vec![Number { value: fraction, grouped: None, decimal_mark: None }];
    }
    let mut wholes = numbers(whole);
    wholes.retain(|number| number.decimal_mark.is_none());
    for number in &mut wholes {
        number.value += fraction;
    }
    wholes
}

/// A fraction between 0 and 1 that a tape may show; one written like a date, `03/04`, is none.
fn proper_fraction(above: &str, below: &str) -> Option<Decimal> {
    if above.starts_with('0') || below.starts_with('0') {
        return None;
    }
    let (above, below): (u32, u32) = (above.parse().ok()?, below.parse().ok()?);
    (above < below && DENOMINATORS.contains(&below)).then(|| Decimal::from(above) / Decimal::from(below))
}

/// Every way in which digits with spaces, commas and points make a number.
pub(super) fn numbers(text: &str) -> Vec<Number> {
    let mut numbers = Vec::new();
    for decimal_mark in [None, Some('.'), Some(',')] {
        for group in [None, Some(' '), Some(','), Some('.')] {
            if let Some(value) = number(text, group, decimal_mark) {
                numbers.push(Number { value, grouped: group.filter(|mark| *mark != ' '), decimal_mark });
            }
        }
    }
    numbers
}

/// The number under one choice of marks, if the text holds each of them and nothing else.
fn number(text: &str, group: Option<char>, decimal_mark: Option<char>) -> Option<Decimal> {
    let (whole, decimals) = match decimal_mark {
        Some(mark) => text.split_once(mark).filter(|(_, decimals)| !decimals.is_empty())?,
        None => (text, ""),
    };
    let whole = match group {
        Some(mark) => in_threes(whole, mark)?,
        None => whole.to_owned(),
    };
    let digits = |part: &str| part.bytes().all(|byte| byte.is_ascii_digit());
    if !digits(&whole) || !digits(decimals) || (whole.is_empty() && decimals.is_empty()) {
        return None;
    }
    let exact = Decimal::from_str_exact(&format!("0{whole}.{decimals}0")).ok()?;
    exact.round_sf_with_strategy(SIGNIFICANT_DIGITS, RoundingStrategy::MidpointAwayFromZero)
}

/// The digits of `1 450` without the mark: up to three that do not begin with 0, then threes.
fn in_threes(text: &str, mark: char) -> Option<String> {
    let mut groups = text.split(mark);
    let first = groups.next()?;
    let threes: Vec<&str> = groups.collect();
    let grouped = (1..=3).contains(&first.len())
        && !first.starts_with('0')
        && !threes.is_empty()
        && threes.iter().all(|group| group.len() == 3);
    grouped.then(|| text.replace(mark, ""))
}
