//! The one place where a floating-point number is read.
//!
//! A text of more than 15 digits is rounded to as many, as a number is: the rest is the residue of
//! binary sums.

use calamine::{ExcelDateTime, ExcelDateTimeType};
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
    let seconds = (serial * SECONDS_A_DAY).round();
    let (day, is_whole) = ((seconds / SECONDS_A_DAY).floor(), seconds % SECONDS_A_DAY == 0.0);
    if epoch == Epoch::January1900 && day == LEAP_DAY_OF_1900 {
        return None;
    }
    let from_1904 = epoch == Epoch::January1904;
    let moment = ExcelDateTime::new(seconds / SECONDS_A_DAY, ExcelDateTimeType::DateTime, from_1904);
    let (year, month, day_of_month, hour, minute, second, _) = moment.to_ymd_hms_milli();
    let date = format!("{year:04}-{month:02}-{day_of_month:02}");
    let time = format!("{hour:02}:{minute:02}:{second:02}");
    let text = match day {
        0.0 => time,
        _ if is_whole => date,
        _ => format!("{date}T{time}"),
    };
    Some(Value::Date(text.into()))
}

const SECONDS_A_DAY: f64 = 86_400.0;

/// Spreadsheet programs count a 29 February 1900; it was no leap year, and the number is no day's.
const LEAP_DAY_OF_1900: f64 = 60.0;

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
