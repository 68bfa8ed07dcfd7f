//! One cell: its value by its type, and how many cells it stands for.

use rust_decimal::Decimal;

use crate::grid::Value;
use crate::grid::cells::{self, unreadable};
use crate::grid::error::Damage;
use crate::grid::number::{Epoch, date, decimal};
use crate::grid::shown::percent;
use crate::grid::xml::{Element, resolved};
use crate::place::MOST_ROWS;

/// Errors by the names that every spreadsheet program gives them (OpenFormula, 5.12).
const ERRORS: [&str; 7] = ["#NULL!", "#DIV/0!", "#VALUE!", "#REF!", "#NAME?", "#NUM!", "#N/A"];

/// What a cell says of itself, before the text that it shows.
#[derive(Default)]
pub(super) struct Cell {
    /// Its type. A cell may have it twice, of which the second is what the program that wrote it
    /// means by the first.
    kind: Option<Kind>,
    is_error: bool,
    is_formula: bool,
    number: String,
    date: String,
    time: String,
    truth: String,
    text: String,
    /// How many cells beside each other are alike.
    pub repeated: u32,
    /// Rows and columns that it is merged over.
    pub rows: u32,
    pub columns: u32,
}

#[derive(Clone, Copy)]
enum Kind {
    Number,
    Percentage,
    Date,
    Time,
    Truth,
    Text,
    Unknown,
}

impl Kind {
    fn named(name: &str) -> Kind {
        match name {
            "float" | "currency" => Kind::Number,
            "percentage" => Kind::Percentage,
            "date" => Kind::Date,
            "time" => Kind::Time,
            "boolean" => Kind::Truth,
            "string" => Kind::Text,
            _ => Kind::Unknown,
        }
    }
}

impl Cell {
    pub(super) fn of(element: &Element<'_>) -> Result<Cell, Damage> {
        let mut cell = Cell { repeated: 1, rows: 1, columns: 1, ..Cell::default() };
        for attribute in element.attributes() {
            let (name, raw) = attribute?;
            match name {
                "value-type" => {
                    cell.is_error |= raw == "error";
                    cell.kind.get_or_insert(Kind::named(&raw));
                }
                "formula" => cell.is_formula = true,
                "value" => cell.number = resolved(&raw)?,
                "date-value" => cell.date = resolved(&raw)?,
                "time-value" => cell.time = resolved(&raw)?,
                "boolean-value" => cell.truth = resolved(&raw)?,
                "string-value" => cell.text = resolved(&raw)?,
                "number-columns-repeated" => cell.repeated = times(&raw),
                "number-rows-spanned" => cell.rows = times(&raw),
                "number-columns-spanned" => cell.columns = times(&raw),
                _ => {}
            }
        }
        Ok(cell)
    }

    /// Its value, if it shows this text.
    pub(super) fn value(&self, shown: String) -> Option<Value> {
        if self.is_error {
            return Some(unreadable(&shown));
        }
        // A formula's number that is not there is no zero.
        let or_none = |stored: &str, value: Option<Value>| match (stored.is_empty(), self.is_formula) {
            (true, true) => Some(Value::NoResult),
            (true, false) => cells::text(shown.as_str().into()),
            (false, _) => Some(value.unwrap_or_else(|| unreadable(stored))),
        };
        match self.kind {
            Some(Kind::Number) => or_none(&self.number, decimal(&self.number).map(Value::Number)),
            Some(Kind::Percentage) => or_none(&self.number, decimal(&self.number).and_then(percent)),
            Some(Kind::Date) => or_none(&self.date, Some(Value::Date(moment(&self.date).into()))),
            Some(Kind::Time) => {
                or_none(&self.time, days(&self.time).and_then(|days| date(days, Epoch::January1900)))
            }
            Some(Kind::Truth) => match self.truth.as_str() {
                "true" => Some(Value::Truth(true)),
                "false" => Some(Value::Truth(false)),
                other => or_none(other, None),
            },
            Some(Kind::Text) if self.is_formula && is_error(&shown) => Some(unreadable(&shown)),
            Some(Kind::Text) if shown.is_empty() => cells::text(self.text.as_str().into()),
            Some(Kind::Text) => cells::text(shown.into()),
            _ if self.is_formula => Some(Value::NoResult),
            _ => cells::text(shown.into()),
        }
    }
}

/// How often something comes, once if nothing is said. A count past every sheet is as good as one
/// just past it.
pub(super) fn times(repeated: &str) -> u32 {
    repeated.parse::<u64>().map_or(1, |times| times.clamp(1, u64::from(MOST_ROWS) + 1) as u32)
}

/// Whether a formula's text is that of an error.
fn is_error(text: &str) -> bool {
    ERRORS.contains(&text) || text.strip_prefix("Err:").is_some_and(|code| code.parse::<u16>().is_ok())
}

/// A day and its time without its midnight and its parts of a second.
fn moment(written: &str) -> &str {
    let whole = written.split_once('.').map_or(written, |(whole, _)| whole);
    whole.strip_suffix("T00:00:00").unwrap_or(whole)
}

/// A duration such as `PT10H30M00S` in days (ISO 8601, 4.4.3).
fn days(written: &str) -> Option<f64> {
    let mut seconds = Decimal::ZERO;
    let mut rest = written.strip_prefix("PT")?;
    for (unit, in_seconds) in [('H', 3600), ('M', 60), ('S', 1)] {
        if let Some((count, after)) = rest.split_once(unit) {
            let count: Decimal = decimal(count)?;
            seconds = seconds.checked_add(count.checked_mul(in_seconds.into())?)?;
            rest = after;
        }
    }
    let days: f64 = seconds.try_into().ok()?;
    rest.is_empty().then_some(days / 86_400.0)
}

#[cfg(test)]
mod tests {
    use super::{days, moment};

    #[test]
    fn moments_and_durations_are_read() {
        assert_eq!(moment("2026-03-04"), "2026-03-04");
        assert_eq!(moment("2026-03-04T00:00:00"), "2026-03-04");
        assert_eq!(moment("2026-03-04T10:30:00.000000000"), "2026-03-04T10:30:00");
        // 10.5 of 24 hours.
        assert_eq!(days("PT10H30M00S"), Some(0.4375));
        assert_eq!(days("PT30H"), Some(1.25));
        assert_eq!(days("PT10H30M00.000000S"), Some(0.4375));
        for nonsense in ["", "PT", "10:30", "PT1X", "PTxS"] {
            assert!(days(nonsense).is_none_or(|days| days == 0.0), "{nonsense}");
        }
    }
}
