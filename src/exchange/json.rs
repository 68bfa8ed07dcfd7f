//! The fit-out as one JSON document. `templates/result.schema.json` describes it. Money is text with
//! its decimals, so that no reader takes it for a binary number; other decimals are as fine as a
//! reader may need. Binary numbers appear here and nowhere above, on the way out.

use std::io::{self, Write};

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;
use serde::{Serialize, Serializer};

use crate::money::Currency;
use crate::report::figure::{Row, Value};
use crate::report::rows::{ChangeRow, DocumentRow};
use crate::report::{Change, Doubts, Report};
use crate::rounding::half_away;

/// Decimals of a kilogram: to the gram.
const MASS: u32 = 3;
/// Decimals of a part of a whole.
const SHARE: u32 = 4;
/// Decimals of any other number.
const NUMBER: u32 = 6;

/// Writes the document and a line end. Rows are made and written one by one.
///
/// # Errors
/// Only what `out` reports.
pub fn write(report: &Report<'_>, mut out: impl Write) -> io::Result<()> {
    let doubts = Doubts::of(report);
    let units = report.units();
    let changes = report.changes();
    serde_json::to_writer(&mut out, &DocumentRow::of(report, &doubts, &units, changes).object())?;
    out.write_all(b"\n")
}

/// Writes changes as a list, as the document has them under `changes`, and a line end. `currency` is that
/// of their prices.
///
/// # Errors
/// Only what `out` reports.
pub fn write_changes(changes: &[Change], currency: Option<Currency>, mut out: impl Write) -> io::Result<()> {
    let rows = ChangeRow::all(changes, currency).map(ChangeRow::object).collect();
    serde_json::to_writer(&mut out, &Value::List(rows))?;
    out.write_all(b"\n")
}

impl Serialize for Value<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self {
            Value::Null => serializer.serialize_none(),
            Value::Text(text) => serializer.serialize_str(text),
            Value::Truth(truth) => serializer.serialize_bool(*truth),
            Value::Whole(count) => serializer.serialize_u64(*count),
            Value::Difference(count) => serializer.serialize_i64(*count),
            Value::Length(length) => length.serialize(serializer),
            Value::Angle(angle) => angle.serialize(serializer),
            Value::Date(date) => serializer.collect_str(date),
            Value::Mass(_) | Value::Share(_) | Value::Number(_) => {
                let number = self.rounded();
                match (number.scale(), number.to_i64()) {
                    (0, Some(whole)) => serializer.serialize_i64(whole),
                    _ => serializer.serialize_f64(number.to_f64().unwrap_or(f64::NAN)),
                }
            }
            Value::Money(money) => serializer.collect_str(money),
            Value::List(values) => serializer.collect_seq(values),
            Value::Rows(rows) => serializer.collect_seq(rows()),
            Value::Object(keys) => serializer.collect_map(keys.iter().map(|(key, value)| (key, value))),
        }
    }
}

impl Value<'_> {
    /// A decimal as fine as it is written, half away from zero.
    pub(super) fn rounded(&self) -> Decimal {
        let (exact, decimals) = match self {
            Value::Mass(exact) => (*exact, MASS),
            Value::Share(exact) => (*exact, SHARE),
            Value::Number(exact) => (*exact, NUMBER),
            _ => return Decimal::ZERO,
        };
        half_away(exact, decimals).normalize()
    }
}

#[cfg(test)]
mod tests {
    use rust_decimal::Decimal;

    use crate::report::figure::Value;

    #[test]
    fn numbers_are_as_fine_as_the_contract_says() {
        let decimal = |text: &str| text.parse::<Decimal>().unwrap();
        let cases = [
            (Value::Mass(decimal("7.0005")), "7.001"),
            (Value::Share(decimal("0.66665")), "0.6667"),
            (Value::Share(decimal("1.00")), "1"),
            (Value::Number(decimal("2.5000001")), "2.5"),
            (Value::Money(decimal("0.1250")), "\"0.1250\""),
        ];
        for (value, json) in cases {
            assert_eq!(serde_json::to_string(&value).unwrap(), json);
        }
    }
}
