//! Reading a length from a tape's text: every way in which the text can be meant.

use rust_decimal::Decimal;

use super::Unit;

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
const LONGEST_TEXT: usize = 64;

/// Parts into which a tape, or a character such as `⅓`, divides a unit.
const DENOMINATORS: [u32; 12] = [2, 3, 4, 5, 6, 7, 8, 9, 10, 16, 32, 64];

/// Every way in which `text` can be read as a length; empty if there is none.
///
/// Read are decimals with a point or a comma (`105.5`, `105,5`), thousands grouped by a space, a
/// comma or a point (`1 450`, `2,692`, `2.692,5`), proper fractions (`105 1/2`, `105-1/2`, `105½`),
/// each with a unit or without (`2692 mm`, `105 1/2"`), and feet with inches (`8'-10 1/2"`,
/// `3 ft 6 in`). A leading minus is kept.
pub fn readings(text: &str) -> Vec<Reading> {
    let text = plain(text);
    if text.len() > LONGEST_TEXT {
        return Vec::new();
    }
    let (negative, size) = match text.strip_prefix('-') {
        Some(rest) => (true, rest.trim_start()),
        None => (false, text.as_str()),
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

/// Reads a unit's usual spellings.
pub(super) fn unit_named(text: &str) -> Option<Unit> {
    let text = plain(text);
    Some(match text.strip_suffix('.').unwrap_or(&text) {
        "in" | "ins" | "inch" | "inches" | "\"" => Unit::Inch,
        "ft" | "foot" | "feet" | "'" => Unit::Foot,
        "mm" | "mms" | "millimetre" | "millimetres" | "millimeter" | "millimeters" => Unit::Millimetre,
        "cm" | "cms" | "centimetre" | "centimetres" | "centimeter" | "centimeters" => Unit::Centimetre,
        "m" | "metre" | "metres" | "meter" | "meters" => Unit::Metre,
        _ => return None,
    })
}

/// The text in lower case with one kind of space, quote and dash, and fractions spelled out.
fn plain(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for character in text.trim().chars() {
        match character {
            '‘' | '’' | '‛' | '′' | '´' | '`' => plain.push('\''),
            '“' | '”' | '‟' | '″' => plain.push('"'),
            '\u{2010}'..='\u{2015}' | '−' => plain.push('-'),
            '⁄' | '∕' => plain.push('/'),
            _ if character.is_whitespace() => plain.push(' '),
            _ => match vulgar_fraction(character) {
                Some(fraction) => plain.extend([" ", fraction]),
                None => plain.extend(character.to_lowercase()),
            },
        }
    }
    let plain = plain.replace("''", "\"");
    plain.trim().to_owned()
}

/// The fractions that have a character of their own.
fn vulgar_fraction(character: char) -> Option<&'static str> {
    Some(match character {
        '½' => "1/2",
        '⅓' => "1/3",
        '⅔' => "2/3",
        '¼' => "1/4",
        '¾' => "3/4",
        '⅕' => "1/5",
        '⅖' => "2/5",
        '⅗' => "3/5",
        '⅘' => "4/5",
        '⅙' => "1/6",
        '⅚' => "5/6",
        '⅐' => "1/7",
        '⅛' => "1/8",
        '⅜' => "3/8",
        '⅝' => "5/8",
        '⅞' => "7/8",
        '⅑' => "1/9",
        '⅒' => "1/10",
        _ => return None,
    })
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

/// A number that ends at the text's last digit, and the unit after it if anything is there.
fn number_with_unit(text: &str) -> Vec<Reading> {
    let Some(last_digit) = text.rfind(|character: char| character.is_ascii_digit()) else {
        return Vec::new();
    };
    let (number, unit) = text.split_at(last_digit + 1);
    let unit = match unit.trim() {
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

/// A number as one choice of marks reads it.
struct Number {
    value: Decimal,
    grouped: Option<char>,
    decimal_mark: Option<char>,
}

/// A fraction, alone or after a whole number and a space or a dash; `above` holds all before the stroke.
fn with_fraction(above: &str, below: &str) -> Vec<Number> {
    let whole_end = above.rfind(|character: char| !character.is_ascii_digit()).map_or(0, |last| last + 1);
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
fn numbers(text: &str) -> Vec<Number> {
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
    Decimal::from_str_exact(&format!("0{whole}.{decimals}0")).ok()
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
