//! One cell's value, of the kind that its column holds.

use std::borrow::Cow;

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;

use super::queries::{CellQuery, Expected};
use super::{Datum, Unread};
use crate::date::Date;
use crate::grid::Value;
use crate::length::{Length, Unit, readings};
use crate::name::{fold, is_spelled, nearest};
use crate::schema::choices::{Choice, UNITS, Words, YES_NO};
use crate::schema::{Column, Kind, MOST_MONEY};

/// One value of the kind its column holds. The unit of a length is its own, else the heading's,
/// else `bare`, the survey's. Blank cells are not asked about: a text of spaces alone is unreadable.
pub fn read_value(
    value: &Value,
    column: &Column,
    heading_unit: Option<Unit>,
    bare: Unit,
) -> Result<Datum, Unread> {
    let cell = Cell { value, column: column.name, bare };
    let unit = heading_unit.unwrap_or(bare);
    match (value, column.kind) {
        (Value::Error(_), _) => return Err(CellQuery::Error { column: cell.column }.unread(cell.written())),
        (Value::NoResult, _) => return Err(CellQuery::NoResult { column: cell.column }.unread("")),
        (Value::Date(_), Kind::Date | Kind::Dates) => {}
        (Value::Date(date), _) => return Err(cell.date_for(date, column.kind, unit)),
        _ => {}
    }
    match column.kind {
        Kind::Text => cell.text().map(Datum::Text),
        Kind::Length { least, most } => cell.length(unit, least, most).map(Datum::Length),
        Kind::SteelThickness => cell.steel_thickness(unit).map(Datum::Length),
        Kind::LengthOr { word, .. } if cell.says(word) => Ok(Datum::NoLength),
        Kind::LengthOr { most, .. } => cell.length(unit, Length::ZERO, most).map(Datum::Length),
        Kind::Pair(order) => cell.pair(heading_unit, order).map(Datum::Pair),
        Kind::Whole { least, most } => cell.whole(least, most).map(Datum::Whole),
        Kind::Number { most } => cell.number(Expected::Number, Some(most)).map(Datum::Number),
        Kind::Percent { most } => cell.number(Expected::Percent, Some(most)).map(Datum::Number),
        Kind::Money => cell.number(Expected::Money, Some(MOST_MONEY)).map(Datum::Number),
        Kind::Date => cell.date().map(Datum::Date),
        Kind::Dates => cell.dates().map(Datum::Dates),
        Kind::Choice(words) => cell.choice(&shown(value), words).map(Datum::Choice),
        Kind::Choices(words) => {
            let chosen = cell.list()?;
            let words: Result<_, _> = chosen.iter().map(|word| cell.choice(word, words)).collect();
            words.map(Datum::Choices)
        }
        Kind::List => cell.list().map(Datum::List),
    }
}

/// A value as a person reads it in the sheet; empty for a formula without a result.
pub fn shown(value: &Value) -> Cow<'_, str> {
    match value {
        Value::Text(text) | Value::Date(text) | Value::Error(text) => Cow::Borrowed(text.trim()),
        Value::Number(number) => Cow::Owned(number.normalize().to_string()),
        Value::Percent(percent) => Cow::Owned(format!("{} %", percent.normalize())),
        Value::Truth(true) => Cow::Borrowed("TRUE"),
        Value::Truth(false) => Cow::Borrowed("FALSE"),
        Value::NoResult => Cow::Borrowed(""),
    }
}

/// A value on its way to becoming a datum.
#[derive(Clone, Copy)]
pub(super) struct Cell<'c> {
    pub value: &'c Value,
    pub column: &'static str,
    /// The survey's unit of a bare number.
    pub bare: Unit,
}

impl Cell<'_> {
    pub(super) fn written(self) -> String {
        format!("\"{}\"", shown(self.value))
    }

    /// What was written, with what it likely means.
    pub(super) fn written_for(self, likely: Option<String>) -> String {
        let written = self.written();
        likely.map_or_else(|| written.clone(), |likely| format!("{written}: probably {likely}"))
    }

    pub(super) fn unreadable(self, expected: Expected) -> Unread {
        CellQuery::Unreadable { column: self.column, expected }.unread(self.written())
    }

    /// What was written, and what it could mean.
    pub(super) fn ambiguous<T: ToString>(self, meanings: impl IntoIterator<Item = T>) -> Unread {
        let meanings: Vec<String> = meanings.into_iter().map(|meaning| meaning.to_string()).collect();
        CellQuery::Ambiguous { column: self.column }.unread(format!(
            "{}: {}",
            self.written(),
            meanings.join(" or ")
        ))
    }

    fn text(self) -> Result<Box<str>, Unread> {
        match shown(self.value) {
            text if text.is_empty() => Err(self.unreadable(Expected::Text)),
            text => Ok(text.into()),
        }
    }

    /// Whether the cell holds this word, or for `no` another way to say it.
    fn says(self, word: &'static str) -> bool {
        let text = shown(self.value);
        is_spelled(word, &fold(&text)) || YES_NO.meant(&text) == Some(word)
    }

    /// A number of 0 or more. A point stands before decimals unless that cannot be.
    fn number(self, expected: Expected, most: Option<u32>) -> Result<Decimal, Unread> {
        let number = match self.value {
            Value::Number(number) => *number,
            Value::Percent(percent) => match expected {
                Expected::Percent => *percent,
                Expected::Number => *percent / Decimal::ONE_HUNDRED,
                _ => return Err(self.unreadable(expected)),
            },
            Value::Text(text) => {
                let number = match expected {
                    Expected::Percent => text.trim_end().trim_end_matches('%'),
                    _ => text,
                };
                let mut readings = readings(number);
                readings.retain(|reading| reading.unit.is_none());
                if readings.len() > 1 {
                    readings.retain(|reading| reading.grouped != Some('.'));
                }
                match *readings {
                    [] => return Err(self.unreadable(expected)),
                    [reading] => reading.value,
                    _ => return Err(self.ambiguous(readings.iter().map(|reading| reading.value))),
                }
            }
            _ => return Err(self.unreadable(expected)),
        };
        if number < Decimal::ZERO {
            return Err(CellQuery::Negative { column: self.column }.unread(self.written()));
        }
        match most {
            Some(most) if number > Decimal::from(most) => Err(self.out_of_bounds(0, most)),
            _ => Ok(number),
        }
    }

    fn whole(self, least: u32, most: u32) -> Result<u32, Unread> {
        let number = self.number(Expected::Whole, None)?;
        if !number.is_integer() {
            return Err(self.unreadable(Expected::Whole));
        }
        match number.to_u32() {
            Some(whole) if (least..=most).contains(&whole) => Ok(whole),
            _ => Err(self.out_of_bounds(least, most)),
        }
    }

    fn out_of_bounds(self, least: u32, most: u32) -> Unread {
        let (least, most) = (least.to_string(), most.to_string());
        CellQuery::OutOfBounds { column: self.column, least, most, likely: None }.unread(self.written())
    }

    /// A date's cell, or its ISO 8601 text; `03/04/2026` is two days in two countries.
    fn date(self) -> Result<Date, Unread> {
        match self.value {
            Value::Date(text) | Value::Text(text) => Date::from_iso(text),
            _ => None,
        }
        .ok_or_else(|| self.unreadable(Expected::Date))
    }

    /// One date's cell, or the ISO 8601 texts of several.
    fn dates(self) -> Result<Vec<Date>, Unread> {
        let (Value::Date(text) | Value::Text(text)) = self.value else {
            return Err(self.unreadable(Expected::Dates));
        };
        let written = text.split([',', ';', '\n']).map(str::trim).filter(|date| !date.is_empty());
        let mut dates = Vec::new();
        for date in written {
            dates.push(Date::from_iso(date).ok_or_else(|| self.unreadable(Expected::Dates))?);
        }
        dates.sort_unstable();
        dates.dedup();
        if dates.is_empty() { Err(self.unreadable(Expected::Dates)) } else { Ok(dates) }
    }

    /// The word that is written, or said in another way; a unit in any of its spellings.
    fn choice(self, written: &str, words: &'static Words) -> Result<&'static str, Unread> {
        let unit = || Unit::of(Unit::named(written)?.symbol()).filter(|_| words == UNITS).map(Unit::symbol);
        // A word in doubt is none: `cleared?`.
        let meant = words.meant(written).or_else(unit).filter(|_| !written.contains('?'));
        meant.ok_or_else(|| {
            let words = words.own;
            let nearest = nearest(written, words.iter().copied());
            CellQuery::UnknownWord { column: self.column, words, nearest }.unread(format!("\"{written}\""))
        })
    }

    fn list(self) -> Result<Vec<Box<str>>, Unread> {
        let text = shown(self.value);
        let items: Vec<Box<str>> =
            text.split(',').map(str::trim).filter(|item| !item.is_empty()).map(Box::from).collect();
        if items.is_empty() { Err(self.unreadable(Expected::Text)) } else { Ok(items) }
    }
}
