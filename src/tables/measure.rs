//! Lengths in a cell: one of a column's own bounds, or a width and a height together.

use rust_decimal::Decimal;

use super::cell::{Cell, shown};
use super::queries::{CellQuery, Expected};
use super::{Pair, Unread};
use crate::grid::Value;
use crate::length::{
    Length, PLAUSIBLE, PairOrder, Reading, Unit, Units, doubtful_readings, modules, pair_of_leaves, readings,
    run_together, written_pair,
};
use crate::schema::{LEAST_SIZE, MOST_LENGTH};

/// Where the digits of a width and a height run together also make a size in another unit, a lower
/// height than this is hardly meant (common practice, no source).
const LEAST_RUN_TOGETHER: Length = Length::inches(24);
/// A height from here on is that of a door, and meant (common practice, no source).
const DOOR_RUN_TOGETHER: Length = Length::inches(78);

/// The unit of length that a cell's own text names.
pub fn unit_in(value: &Value) -> Option<Unit> {
    match value {
        Value::Text(text) => match readings(text).first() {
            Some(reading) => reading.unit,
            None => written_pair(text)?.readings.iter().find_map(|readings| readings.first()?.unit),
        },
        _ => None,
    }
}

impl Cell<'_> {
    /// Of all readings, the one whose length is within the bounds, if there is but one.
    pub(super) fn length(self, unit: Unit, least: Length, most: Length) -> Result<Length, Unread> {
        match self.value {
            Value::Number(number) => {
                self.one_length(&[Reading { value: *number, unit: None, grouped: None }], unit, least, most)
            }
            Value::Text(text) => self.one_length(&readings(text), unit, least, most),
            _ => Err(self.unreadable(Expected::Length)),
        }
    }

    fn one_length(
        self,
        readings: &[Reading],
        unit: Unit,
        least: Length,
        most: Length,
    ) -> Result<Length, Unread> {
        if readings.is_empty() {
            return Err(self
                .doubtful(unit)
                .unwrap_or_else(|| self.leaves_or_unreadable(unit, Expected::Length)));
        }
        if least >= Length::ZERO && readings.iter().any(|reading| reading.value < Decimal::ZERO) {
            return Err(CellQuery::Negative { column: self.column }.unread(self.written()));
        }
        let length = |reading: &Reading| Length::of(reading.value, reading.unit.unwrap_or(unit));
        let shown = |length: Length| length.show(self.bare.shown_in());
        if readings.iter().any(|reading| is_foreign_to_inches(reading, unit)) {
            return Err(self.ambiguous(readings.iter().filter_map(length).map(shown)));
        }
        let meant = || readings.iter().filter(|reading| may_be_meant(reading, unit)).filter_map(length);
        let is_size = least > Length::ZERO;
        if is_size && meant().any(|length| length == Length::ZERO) {
            return Err(CellQuery::Zero { column: self.column }.unread(self.written()));
        }
        let within = || meant().filter(|length| (least..=most).contains(length));
        let Some(first) = within().next() else {
            let [least, most] = [least, most].map(|bound| bound.show(Units::Millimeters));
            let column = self.column;
            let (likely, in_words) = if is_size { self.likely(readings, unit) } else { (None, None) };
            let query = CellQuery::OutOfBounds { column, least, most, likely: likely.map(Unit::plural) };
            return Err(query.unread(self.written_for(in_words)));
        };
        if within().any(|length| length != first) {
            return Err(self.ambiguous(within().map(shown)));
        }
        Ok(first)
    }

    /// What a size out of bounds likely is: a number in another unit, or the feet and inches of a
    /// width and a height run together, and the unit where it is nothing else.
    fn likely(self, readings: &[Reading], unit: Unit) -> (Option<Unit>, Option<String>) {
        let written = shown(self.value);
        let in_feet = run_together(&written).filter(|_| unit == Unit::Inch);
        let is_door = |[_, height]: &[Length; 2]| *height >= DOOR_RUN_TOGETHER;
        let other = likely_unit(readings, unit).filter(|_| !in_feet.as_ref().is_some_and(is_door));
        let in_feet = in_feet.filter(|[_, height]| other.is_none() || *height >= LEAST_RUN_TOGETHER);
        let in_other = other.map(|unit| format!("{written} {unit}"));
        match (in_other, in_feet.map(|pair| self.shown_pair(pair))) {
            (Some(in_other), Some(in_feet)) => (None, Some(format!("{in_other} or {in_feet}"))),
            (in_other, in_feet) => (other, in_other.or(in_feet)),
        }
    }

    /// A width and a height, which is which told by the cell, else by its heading.
    pub(super) fn pair(self, heading_unit: Option<Unit>, order: Option<PairOrder>) -> Result<Pair, Unread> {
        let text = shown(self.value);
        let unit = heading_unit.unwrap_or(self.bare);
        // Under a heading in inches, 9x21 is in inches.
        let may_be_modules = heading_unit.is_none_or(|unit| unit == Unit::Millimeter || unit == Unit::Meter);
        let in_modules = || modules(&text, unit).filter(|_| may_be_modules);
        let in_feet = || run_together(&text).filter(|_| self.bare == Unit::Inch);
        if let Some(likely) = in_feet().or_else(in_modules) {
            let query = CellQuery::Shorthand { column: self.column };
            return Err(query.unread(self.written_for(Some(self.shown_pair(likely)))));
        }
        let written = written_pair(&text).ok_or_else(|| self.leaves_or_unreadable(unit, Expected::Pair))?;
        let length = |readings: &[Reading]| self.one_length(readings, unit, LEAST_SIZE, MOST_LENGTH);
        let [first, second] = &written.readings;
        let (first, second) = (length(first)?, length(second)?);
        let with_third = written.with_third;
        match written.order.or(order) {
            _ if first == second => Ok(Pair { width: first, height: first, with_third }),
            Some(PairOrder::WidthFirst) => Ok(Pair { width: first, height: second, with_third }),
            Some(PairOrder::HeightFirst) => Ok(Pair { width: second, height: first, with_third }),
            None => {
                let [first, second] = [first, second].map(|length| length.show(self.bare.shown_in()));
                let query = CellQuery::WidthOrHeight { column: self.column };
                Err(query.unread(format!(
                    "{}: {first} wide and {second} high, or {second} wide and {first} high",
                    self.written()
                )))
            }
        }
    }

    /// What cannot be read, unless as a pair of leaves, which is then the likely reading.
    fn leaves_or_unreadable(self, unit: Unit, expected: Expected) -> Unread {
        let likely = pair_of_leaves(&shown(self.value), unit).map(|(width, height)| {
            let shown = |length: Length| length.show(self.bare.shown_in());
            let size =
                height.map_or_else(|| shown(width), |height| format!("{} x {}", shown(width), shown(height)));
            format!("a pair of leaves, {size} in all")
        });
        CellQuery::Unreadable { column: self.column, expected }.unread(self.written_for(likely))
    }

    /// A text such as `~900`.
    fn doubtful(self, unit: Unit) -> Option<Unread> {
        let readings = doubtful_readings(&shown(self.value));
        let likely = readings.first()?;
        let length = Length::of(likely.value, likely.unit.unwrap_or(unit));
        let query = CellQuery::Doubtful { column: self.column };
        Some(query.unread(self.written_for(length.map(|length| length.show(self.bare.shown_in())))))
    }

    fn shown_pair(self, pair: [Length; 2]) -> String {
        let [width, height] = pair.map(|length| length.show(self.bare.shown_in()));
        format!("{width} x {height}")
    }
}

/// The unit in which a bare number would make a door or a window, where it is too long in the
/// column's or too short.
fn likely_unit(readings: &[Reading], unit: Unit) -> Option<Unit> {
    let [Reading { value, unit: None, .. }] = readings else { return None };
    let would_do = |unit: &Unit| Length::of(*value, *unit).is_some_and(|length| PLAUSIBLE.contains(&length));
    let mut others = [Unit::Millimeter, Unit::Centimeter, Unit::Meter, Unit::Inch]
        .into_iter()
        .filter(|other| *other != unit);
    others.find(would_do)
}

/// Whether a bare number is grouped as millimeters are, in a column of inches or feet: `2,692`
/// there is more likely in the wrong unit than less than three inches.
fn is_foreign_to_inches(reading: &Reading, unit: Unit) -> bool {
    reading.unit.is_none() && reading.grouped == Some(',') && matches!(unit, Unit::Inch | Unit::Foot)
}

/// A bare grouped number is in millimeters or not meant; a point never groups inches.
fn may_be_meant(reading: &Reading, unit: Unit) -> bool {
    match (reading.grouped, reading.unit) {
        (None, _) => true,
        (Some(_), None) => unit == Unit::Millimeter,
        (Some('.'), Some(Unit::Inch | Unit::Foot)) => false,
        (Some(_), Some(_)) => true,
    }
}
