//! One cell: its value by its type, and how many cells it stands for.

use quick_xml::events::BytesStart;
use rust_decimal::Decimal;

use super::sheet::times;
use super::text;
use crate::grid::Value;
use crate::grid::cells::{self, unreadable};
use crate::grid::error::Damage;
use crate::grid::guard::Part;
use crate::grid::number::{Epoch, date, decimal};
use crate::grid::shown::percent;
use crate::grid::xml::Attributes;

/// Errors by the names that every spreadsheet program gives them (OpenFormula, 5.12).
const ERRORS: [&str; 7] = ["#NULL!", "#DIV/0!", "#VALUE!", "#REF!", "#NAME?", "#NUM!", "#N/A"];

/// What a cell holds, and what room it takes.
pub(super) struct Cell {
    pub value: Option<Value>,
    /// How many cells beside each other are alike.
    pub repeated: u32,
    /// Rows and columns that it is merged over.
    pub rows: u32,
    pub columns: u32,
}

impl Cell {
    /// Reads a cell to its end.
    pub(super) fn read(element: &BytesStart<'_>, part: &mut Part<'_>) -> Result<Cell, Damage> {
        let attributes = Attributes::of(element)?;
        let cell = Cell {
            value: None,
            repeated: times(&attributes.text("number-columns-repeated")?),
            rows: times(&attributes.text("number-rows-spanned")?),
            columns: times(&attributes.text("number-columns-spanned")?),
        };
        let shown = text::read(part)?;
        Ok(Cell { value: value(&attributes, shown)?, ..cell })
    }
}

/// The value of a cell that shows this text. A cell may have its type twice, of which the second is
/// what the program that wrote it means by the first.
fn value(attributes: &Attributes<'_>, shown: String) -> Result<Option<Value>, Damage> {
    let kinds = attributes.all("value-type").collect::<Result<Vec<_>, _>>()?;
    let is_formula = attributes.all("formula").next().is_some();
    let stored = |name: &str| attributes.text(name);
    // A formula's number that is not there is no zero.
    let or_none = |text: &str, value: Option<Value>| match (text.is_empty(), is_formula) {
        (true, true) => Some(Value::NoResult),
        (true, false) => cells::text(shown.as_str().into()),
        (false, _) => Some(value.unwrap_or_else(|| unreadable(text))),
    };
    if kinds.iter().any(|kind| kind == "error") {
        return Ok(Some(unreadable(&shown)));
    }
    Ok(match kinds.first().map(String::as_str) {
        Some("float" | "currency") => {
            let number = stored("value")?;
            or_none(&number, decimal(&number).map(Value::Number))
        }
        Some("percentage") => {
            let share = stored("value")?;
            or_none(&share, decimal(&share).and_then(percent))
        }
        Some("date") => {
            let day = stored("date-value")?;
            or_none(&day, Some(Value::Date(moment(&day).into())))
        }
        Some("time") => {
            let time = stored("time-value")?;
            or_none(&time, days(&time).and_then(|days| date(days, Epoch::January1900)))
        }
        Some("boolean") => match stored("boolean-value")?.as_str() {
            "true" => Some(Value::Truth(true)),
            "false" => Some(Value::Truth(false)),
            other => or_none(other, None),
        },
        Some("string") if is_formula && is_error(&shown) => Some(unreadable(&shown)),
        Some("string") if shown.is_empty() => cells::text(stored("string-value")?.into()),
        Some("string") => cells::text(shown.into()),
        _ if is_formula => Some(Value::NoResult),
        _ => cells::text(shown.into()),
    })
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
