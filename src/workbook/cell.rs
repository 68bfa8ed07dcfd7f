//! What a cell can hold. Text from a survey is text and nothing else; the one place where an
//! exact number becomes the floating-point number that a spreadsheet stores.

use std::borrow::Cow;
use std::sync::Arc;

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;

use super::measure::{DIGIT, Weight, width, wrapped};
use super::shown::Shown;
use crate::angle::Angle;
use crate::date::Date;
use crate::length::{Length, Units};
use crate::place::LONGEST_TEXT;
use crate::report::expr::{Address, Formula, UNKNOWN};
use crate::report::figure::Value;
use crate::weight;

/// Ends a text that was too long for its cell.
const CUT_MARK: &str = " … (cut: too long for a cell)";
/// Stands for a character that has no place in a cell.
const REFUSED_MARK: char = '\u{FFFD}';

/// What one cell holds.
#[derive(Clone, Debug)]
pub(super) enum Cell<'r> {
    /// Nothing: the figure does not apply.
    Blank,
    /// A figure that is not known, which is never 0.
    Unknown,
    /// Text, written as text whatever it looks like.
    Text(Cow<'r, str>),
    /// A length in the survey's units, inches as fractions.
    Length(Length),
    /// A length in the survey's units, as a decimal number.
    Decimal(Length),
    /// A count.
    Whole(u64),
    /// An amount in the project's currency.
    Money(Decimal),
    /// A plain decimal number.
    Number(Decimal),
    /// Kilograms, shown in the unit of weight that goes with the survey's lengths.
    Mass(Decimal),
    /// A share of one.
    Share(Decimal),
    /// Degrees.
    Angle(Angle),
    /// A calendar date.
    Date(Date),
    /// Text that leads to a cell of this workbook.
    Link(Address, Cow<'r, str>),
    /// A figure in a look of its own.
    Figure(Decimal, Shown),
    /// A formula with its result.
    Live(Formula, Shown),
}

/// What a spreadsheet stores for a cell.
pub(super) enum Stored<'c> {
    /// Nothing but its format.
    Blank,
    /// The word `unknown`, where a number would stand.
    Unknown,
    /// Text.
    Text(Cow<'c, str>),
    /// A number and how it is shown.
    Number(f64, Shown),
    /// Text that leads to a cell.
    Link(&'c Address, Cow<'c, str>),
    /// A formula, its result and how that is shown.
    Formula(&'c Formula, Shown),
}

impl<'r> Cell<'r> {
    /// The cell of a figure, or the word `unknown`.
    pub(super) fn known(figure: Option<impl Into<Cell<'r>>>) -> Cell<'r> {
        figure.map_or(Cell::Unknown, Into::into)
    }

    /// What the spreadsheet stores.
    pub(super) fn stored(&self, units: Units) -> Stored<'_> {
        let exact = |number: Decimal, shown| match number.to_f64() {
            Some(number) if number.is_finite() => Stored::Number(number, shown),
            _ => Stored::Unknown,
        };
        match self {
            Cell::Blank => Stored::Blank,
            Cell::Unknown => Stored::Unknown,
            Cell::Text(text) if text.is_empty() => Stored::Blank,
            Cell::Text(text) => Stored::Text(clean(text)),
            Cell::Length(length) => exact(length.in_unit(units.unit()), Shown::of_length(*length, units)),
            Cell::Decimal(length) => {
                let shown = match units {
                    Units::Inches => Shown::Thousandths,
                    Units::Millimeters => Shown::Tenths,
                };
                exact(length.in_unit(units.unit()), shown)
            }
            Cell::Whole(count) => exact(Decimal::from(*count), Shown::Whole),
            Cell::Money(amount) => exact(*amount, Shown::Money),
            Cell::Number(number) => exact(*number, Shown::number(*number)),
            Cell::Mass(kilograms) => exact(weight::beside(*kilograms, units), Shown::Mass),
            Cell::Share(share) => exact(*share, Shown::Share),
            Cell::Angle(angle) => exact(angle.degrees(), Shown::Angle),
            Cell::Date(date) => match serial_day(*date) {
                Some(day) => exact(Decimal::from(day), Shown::Date),
                None => Stored::Text(Cow::Owned(date.to_string())),
            },
            Cell::Figure(figure, shown) => exact(*figure, *shown),
            Cell::Live(formula, shown) => Stored::Formula(formula, *shown),
            Cell::Link(address, text) => Stored::Link(address, clean(text)),
        }
    }

    /// Whether nothing is shown.
    pub(super) fn is_blank(&self) -> bool {
        match self {
            Cell::Blank => true,
            Cell::Text(text) => text.is_empty(),
            _ => false,
        }
    }

    /// How many lines the cell takes where so many digits fit on one.
    pub(super) fn lines(&self, characters: usize) -> usize {
        let room = u32::try_from(characters).unwrap_or(u32::MAX).saturating_mul(DIGIT);
        self.lines_within(room, Weight::Regular)
    }

    /// How many lines the cell takes in so much room; a number is never wrapped.
    pub(super) fn lines_within(&self, room: u32, weight: Weight) -> usize {
        match self {
            Cell::Text(text) | Cell::Link(_, text) => wrapped(text, room, weight).len(),
            _ => 1,
        }
    }

    /// How wide the cell is where nothing wraps, in thousandths of the font's height.
    pub(super) fn width(&self, units: Units, weight: Weight) -> u32 {
        let digits = |count: u32| count * DIGIT;
        match self {
            Cell::Blank => 0,
            Cell::Unknown => width(UNKNOWN, weight),
            Cell::Text(text) | Cell::Link(_, text) => {
                text.split('\n').map(|line| width(line, weight)).max().unwrap_or(0)
            }
            Cell::Whole(count) => digits(grouped(whole_digits(u128::from(*count)))),
            Cell::Angle(_) | Cell::Share(_) => digits(6),
            Cell::Date(_) => digits(10),
            Cell::Length(length) => {
                digits(length_digits(*length, units) + Shown::of_length(*length, units).after_the_whole())
            }
            Cell::Decimal(length) => digits(length_digits(*length, units) + 4),
            Cell::Mass(kilograms) => digits(decimal_digits(weight::beside(*kilograms, units)) + 4),
            Cell::Money(number) => digits(decimal_digits(*number) + 4),
            Cell::Figure(number, _) => digits(decimal_digits(*number) + 4),
            // Room for the word where there is no number yet.
            Cell::Live(formula, _) => match formula.number() {
                Some(number) => digits(decimal_digits(number) + 4),
                None => self::width(UNKNOWN, weight),
            },
            Cell::Number(number) => digits(decimal_digits(*number) + number.normalize().scale().min(6) + 1),
        }
    }
}

/// Digits of a whole number.
fn whole_digits(number: u128) -> u32 {
    number.checked_ilog10().map_or(1, |digits| digits + 1)
}

/// Digits and the marks between thousands.
fn grouped(digits: u32) -> u32 {
    digits + digits.saturating_sub(1) / 3
}

/// Digits, marks and sign before a decimal number's point.
fn decimal_digits(number: Decimal) -> u32 {
    grouped(whole_digits(number.trunc().mantissa().unsigned_abs())) + u32::from(number.is_sign_negative())
}

/// Digits and sign before a length's point.
fn length_digits(length: Length, units: Units) -> u32 {
    let whole = length.nm() / units.unit().nanometers();
    whole_digits(u128::from(whole.unsigned_abs())) + u32::from(length < Length::ZERO)
}

/// A figure of a row; a list is put in words by its row.
impl<'r> From<Value<'r>> for Cell<'r> {
    fn from(value: Value<'r>) -> Self {
        match value {
            Value::Null | Value::List(_) | Value::Rows(_) | Value::Object(_) => Cell::Blank,
            Value::Text(text) => Cell::Text(text),
            Value::Truth(truth) => if truth { "yes" } else { "no" }.into(),
            Value::Whole(count) => Cell::Whole(count),
            Value::Difference(count) => Cell::Number(count.into()),
            Value::Length(length) => Cell::Length(length),
            Value::Angle(angle) => Cell::Angle(angle),
            Value::Date(date) => Cell::Date(date),
            Value::Mass(kilograms) => Cell::Mass(kilograms),
            Value::Share(share) => Cell::Share(share),
            Value::Number(number) => Cell::Number(number),
            Value::Money(amount) => Cell::Money(amount),
        }
    }
}

impl From<Length> for Cell<'_> {
    fn from(length: Length) -> Self {
        Cell::Length(length)
    }
}

impl From<Angle> for Cell<'_> {
    fn from(angle: Angle) -> Self {
        Cell::Angle(angle)
    }
}

impl From<Date> for Cell<'_> {
    fn from(date: Date) -> Self {
        Cell::Date(date)
    }
}

/// A formula for money.
impl From<Formula> for Cell<'_> {
    fn from(formula: Formula) -> Self {
        Cell::Live(formula, Shown::Money)
    }
}

impl From<u64> for Cell<'_> {
    fn from(count: u64) -> Self {
        Cell::Whole(count)
    }
}

impl From<u32> for Cell<'_> {
    fn from(count: u32) -> Self {
        Cell::Whole(u64::from(count))
    }
}

impl From<usize> for Cell<'_> {
    fn from(count: usize) -> Self {
        Cell::Whole(count as u64)
    }
}

impl<'r> From<&'r str> for Cell<'r> {
    fn from(text: &'r str) -> Self {
        Cell::Text(Cow::Borrowed(text))
    }
}

impl<'r> From<&'r Arc<str>> for Cell<'r> {
    fn from(text: &'r Arc<str>) -> Self {
        Cell::Text(Cow::Borrowed(text))
    }
}

/// A blank where the figure does not apply.
impl<'r, V: Into<Cell<'r>>> From<Option<V>> for Cell<'r> {
    fn from(figure: Option<V>) -> Self {
        figure.map_or(Cell::Blank, Into::into)
    }
}

impl From<String> for Cell<'_> {
    fn from(text: String) -> Self {
        Cell::Text(Cow::Owned(text))
    }
}

impl<'r> From<Cow<'r, str>> for Cell<'r> {
    fn from(text: Cow<'r, str>) -> Self {
        Cell::Text(text)
    }
}

/// Days as spreadsheets count them from 1899-12-30; `None` before their first day.
fn serial_day(date: Date) -> Option<i32> {
    let day = date.days_since(Date::from_ymd(1899, 12, 30)?);
    (day > 0).then_some(day)
}

/// `text` as a cell can hold it: what XML refuses is replaced by a visible mark, and what is too
/// long is cut with one.
fn clean(text: &str) -> Cow<'_, str> {
    let refused =
        |letter: char| (letter.is_control() && letter != '\n') || matches!(letter, '\u{FFFE}' | '\u{FFFF}');
    let legal: Cow<'_, str> = if text.contains(refused) {
        Cow::Owned(
            text.chars()
                .filter(|&letter| letter != '\r')
                .map(|letter| match letter {
                    '\t' => ' ',
                    letter if refused(letter) => REFUSED_MARK,
                    letter => letter,
                })
                .collect(),
        )
    } else {
        Cow::Borrowed(text)
    };
    if legal.len() <= LONGEST_TEXT || legal.encode_utf16().count() <= LONGEST_TEXT {
        return legal;
    }
    let room = LONGEST_TEXT - CUT_MARK.encode_utf16().count();
    let mut units = 0;
    let kept: String = legal
        .chars()
        .take_while(|letter| {
            units += letter.len_utf16();
            units <= room
        })
        .collect();
    Cow::Owned(kept + CUT_MARK)
}

#[cfg(test)]
mod tests {
    use rust_decimal::Decimal;

    use super::{Cell, Stored, clean};
    use crate::length::{Length, Units};
    use crate::place::LONGEST_TEXT;

    #[test]
    fn what_a_cell_cannot_hold_is_marked() {
        assert_eq!(clean("=1+1"), "=1+1");
        assert_eq!(clean("two\r\nlines\tand a bell\u{7}"), "two\nlines and a bell\u{FFFD}");
        let long = clean(&"𝔸".repeat(LONGEST_TEXT)).into_owned();
        assert!(long.ends_with("(cut: too long for a cell)"));
        assert!(long.encode_utf16().count() <= LONGEST_TEXT);
    }

    #[test]
    fn a_length_is_stored_in_the_surveys_units() {
        // 105 1/2 in = 2,679.7 mm.
        let length = Length::sixty_fourths(105 * 64 + 32);
        let stored = |units| match Cell::Length(length).stored(units) {
            Stored::Number(number, _) => number,
            _ => f64::NAN,
        };
        assert_eq!(stored(Units::Inches), 105.5);
        assert_eq!(stored(Units::Millimeters), 2679.7);
        assert!(matches!(Cell::known(None::<Length>).stored(Units::Inches), Stored::Unknown));
        assert!(matches!(Cell::Money(Decimal::new(1255, 2)).stored(Units::Inches), Stored::Number(12.55, _)));
    }
}
