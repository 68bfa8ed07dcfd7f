//! What was likely typed where a spreadsheet made a date of it.

use rust_decimal::Decimal;

use super::Unread;
use super::cell::Cell;
use super::queries::CellQuery;
use crate::date::Date;
use crate::length::{Length, PLAUSIBLE, Unit};
use crate::schema::Kind;

impl Cell<'_> {
    /// A date where something else belongs, with what was likely typed.
    pub(super) fn date_for(self, date: &str, kind: Kind, unit: Unit) -> Unread {
        let likely = Date::from_iso(date).map_or_else(Vec::new, |date| match kind {
            Kind::Length { .. } | Kind::LengthOr { .. } => likely_lengths(date, unit),
            Kind::Whole { .. } => vec![date.serial().to_string()],
            Kind::Text => likely_texts(date),
            _ => Vec::new(),
        });
        let likely = (!likely.is_empty()).then(|| likely.join(" or "));
        CellQuery::Date { column: self.column }.unread(self.written_for(likely))
    }
}

/// What a length was before a spreadsheet made a date of it: a number formatted as a date, if its
/// day's number is no more than a door or window in the column's unit; else a fraction or feet and inches, typed with a
/// stroke, a dash or a point in either order of day and month.
fn likely_lengths(date: Date, unit: Unit) -> Vec<String> {
    let number = Decimal::from(date.serial());
    if Length::of(number, unit).is_some_and(|length| length <= *PLAUSIBLE.end()) {
        return vec![number.to_string()];
    }
    let (_, month, day) = date.ymd();
    let either_way = [(month, day), (day, month)];
    if !matches!(unit, Unit::Inch | Unit::Foot) {
        return either_way.map(|(whole, decimals)| format!("{whole}.{decimals}")).into();
    }
    let is_on_a_tape = |(above, below): &(i32, i32)| above < below && [2, 4, 8, 16].contains(below);
    match either_way.into_iter().find(is_on_a_tape) {
        Some((above, below)) => vec![format!("{above}/{below}")],
        None => {
            let below_a_foot = either_way.into_iter().filter(|(_, inches)| *inches < 12);
            below_a_foot.map(|(feet, inches)| format!("{feet}'-{inches}\"")).collect()
        }
    }
}

/// What a name was before a spreadsheet made a date of it.
fn likely_texts(date: Date) -> Vec<String> {
    let (_, month, day) = date.ymd();
    vec![format!("{month}-{day}"), format!("{day}-{month}")]
}
