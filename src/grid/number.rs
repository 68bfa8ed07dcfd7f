//! The one place where a floating-point number is read.

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
    let digits = written.bytes().filter(u8::is_ascii_digit).count();
    let others = written.bytes().filter(|byte| !byte.is_ascii_digit());
    if digits <= SIGNIFICANT_DIGITS && others.into_iter().all(|byte| matches!(byte, b'.' | b'-')) {
        // So few digits are what the double was written from.
        return Decimal::from_str_exact(written).ok().map(|number| number.normalize());
    }
    nearest(written.trim().parse().ok()?)
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
    let from_1904 = epoch == Epoch::January1904;
    let moment = ExcelDateTime::new(serial, ExcelDateTimeType::DateTime, from_1904);
    let (year, month, day, hour, minute, second, _) = moment.to_ymd_hms_milli();
    let date = format!("{year:04}-{month:02}-{day:02}");
    let time = format!("{hour:02}:{minute:02}:{second:02}");
    let text = match serial {
        time_of_day if time_of_day < 1.0 => time,
        day if day.fract() == 0.0 => date,
        _ => format!("{date}T{time}"),
    };
    Some(Value::Date(text.into()))
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
