//! The one place where a floating-point number is read.

use rust_decimal::Decimal;

use super::Value;

/// Significant digits that a spreadsheet shows; what a double holds beyond them is the residue of
/// binary sums, such as the last digit of 876.0000000000001.
const SIGNIFICANT_DIGITS: usize = 15;

/// The first serial number past 9999-12-31, in days since the turn of 1900.
const FIRST_PAST_THE_CALENDAR: f64 = 2_958_466.0;

/// A number as a file stores it, to 15 significant digits; `None` if that is no finite number, or
/// one past 28 digits.
pub(super) fn decimal(written: &str) -> Option<Decimal> {
    // So few digits are what the double was written from.
    few_digits(written).or_else(|| nearest(written.trim().parse().ok()?))
}

/// A number of 15 digits at most, without an exponent.
fn few_digits(written: &str) -> Option<Decimal> {
    let (negative, digits) = written.strip_prefix('-').map_or((false, written), |digits| (true, digits));
    let (whole, fraction) = digits.split_once('.').unwrap_or((digits, ""));
    let fraction = fraction.trim_end_matches('0');
    if whole.is_empty() || whole.len() + fraction.len() > SIGNIFICANT_DIGITS {
        return None;
    }
    let mut number: i64 = 0;
    for digit in whole.bytes().chain(fraction.bytes()) {
        number = 10 * number + i64::from(digit.checked_sub(b'0').filter(|digit| *digit < 10)?);
    }
    // At most 15, so that it is whole.
    let scale = fraction.len() as u32;
    Some(Decimal::new(if negative { -number } else { number }, scale))
}

/// The decimal of 15 significant digits next to a double; `None` if that is no finite number, or
/// one past 28 digits.
pub(super) fn nearest(number: f64) -> Option<Decimal> {
    if !number.is_finite() {
        return None;
    }
    let fixed = Decimal::from_scientific(&format!("{number:.*e}", SIGNIFICANT_DIGITS - 1));
    // Too small for fifteen digits within 28 decimals: what is left of them.
    let tiny = || Decimal::from_str_exact(&format!("{number:.28}")).ok().filter(|_| number.abs() < 1.0);
    fixed.ok().or_else(tiny).map(|number| number.normalize())
}

/// A serial number shown as a date: an ISO 8601 day, a day with its time, or below 1 a time of day.
/// `None` if no calendar has it.
pub(super) fn date(serial: f64, epoch: Epoch) -> Option<Value> {
    if !(0.0..FIRST_PAST_THE_CALENDAR).contains(&serial) {
        return None;
    }
    let seconds = (serial * 86_400.0).round() as u64;
    let (days, second) = (seconds / 86_400, seconds % 86_400);
    let time = format!("{:02}:{:02}:{:02}", second / 3600, second / 60 % 60, second % 60);
    let (year, month, day) = calendar(match epoch {
        Epoch::January1900 if days < LEAP_DAY_OF_1900 => DAYS_TO_1899_12_30 + days + 1,
        // It was no leap year, and the number is that of no day.
        Epoch::January1900 if days == LEAP_DAY_OF_1900 => return None,
        Epoch::January1900 => DAYS_TO_1899_12_30 + days,
        Epoch::January1904 => DAYS_TO_1904_01_01 + days,
    });
    let text = match (days, second) {
        (0, _) => time,
        (_, 0) => format!("{year:04}-{month:02}-{day:02}"),
        _ => format!("{year:04}-{month:02}-{day:02}T{time}"),
    };
    Some(Value::Date(text.into()))
}

/// Days from 0000-03-01 to the days that serial numbers count from.
const DAYS_TO_1899_12_30: u64 = 693_899;
const DAYS_TO_1904_01_01: u64 = DAYS_TO_1899_12_30 + 1_462;

/// Spreadsheet programs count a 29 February 1900, so that numbers below it are a day behind.
const LEAP_DAY_OF_1900: u64 = 60;

/// Year, month and day of a count of days from 0000-03-01, in the Gregorian calendar. Years begin
/// in March here, so that a leap day is the last of its year.
fn calendar(days: u64) -> (u64, u64, u64) {
    // 400 years, 100 years, 4 years and a year; the last day of a round may be a leap day.
    let (rounds, day) = (days / 146_097, days % 146_097);
    let year = (day - day / 1_460 + day / 36_524 - day / 146_096) / 365;
    let day = day - (365 * year + year / 4 - year / 100);
    // Five months from March on have 153 days.
    let month = (5 * day + 2) / 153;
    let day = day - (153 * month + 2) / 5 + 1;
    let (month, turn) = if month < 10 { (month + 3, 0) } else { (month - 9, 1) };
    (400 * rounds + year + turn, month, day)
}

/// The day that a workbook's serial numbers count from.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum Epoch {
    /// 1 is 1900-01-01.
    #[default]
    January1900,
    /// 0 is 1904-01-01.
    January1904,
}

#[cfg(test)]
mod tests {
    use super::{Epoch, date, decimal};
    use crate::grid::Value;

    #[test]
    fn numbers_are_read_to_fifteen_digits() {
        let cases = [
            ("876", Some("876")),
            ("876.0000000000001", Some("876")),
            ("875.99999999999989", Some("876")),
            ("0.30000000000000004", Some("0.3")),
            ("105.0625", Some("105.0625")),
            ("-3.50", Some("-3.5")),
            ("-0.0", Some("0")),
            ("100", Some("100")),
            ("1.10", Some("1.1")),
            (".5", Some("0.5")),
            (" 36 ", Some("36")),
            ("1.0E-2", Some("0.01")),
            ("1e21", Some("1000000000000000000000")),
            ("123456789012345678", Some("123456789012346000")),
            ("1.2345E-20", Some("0.000000000000000000012345")),
            ("1e-300", Some("0")),
            ("1e400", None),
            ("1e300", None),
            ("NaN", None),
            ("inf", None),
            ("abc", None),
            ("1_000", None),
            ("1-2", None),
            ("--1", None),
            ("1.2.3", None),
            ("-", None),
            ("", None),
        ];
        for (written, expected) in cases {
            assert_eq!(decimal(written).map(|number| number.to_string()).as_deref(), expected, "{written}");
        }
    }

    #[test]
    fn serial_numbers_are_days_of_either_epoch() {
        let shown = |serial, epoch| match date(serial, epoch) {
            Some(Value::Date(text)) => text.into_string(),
            other => format!("{other:?}"),
        };
        // 2026-03-04 is 46,085 days after 1899-12-30, and 1,462 days fewer after 1904-01-01.
        let cases = [
            (46085.0, Epoch::January1900, "2026-03-04"),
            (44623.0, Epoch::January1904, "2026-03-04"),
            (1.0, Epoch::January1900, "1900-01-01"),
            (59.0, Epoch::January1900, "1900-02-28"),
            (60.0, Epoch::January1900, "None"),
            (61.0, Epoch::January1900, "1900-03-01"),
            (36585.0, Epoch::January1900, "2000-02-29"),
            (2_958_465.0, Epoch::January1900, "9999-12-31"),
            (46085.4375, Epoch::January1900, "2026-03-04T10:30:00"),
            (0.4375, Epoch::January1900, "10:30:00"),
            (-1.0, Epoch::January1900, "None"),
            (1e300, Epoch::January1900, "None"),
            (f64::NAN, Epoch::January1900, "None"),
        ];
        for (serial, epoch, expected) in cases {
            assert_eq!(shown(serial, epoch), expected);
        }
    }
}
