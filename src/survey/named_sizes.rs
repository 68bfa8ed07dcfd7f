//! Sizes that a row's names say, as `Single leaf 0762 x 2032mm` does, beside those of its size cells.
//!
//! A size in an id or a type is compared with the size columns, in either order, and a check if it
//! is more than 13 mm off; in a note, which may speak of a pane, it is a note. Numbers that make no
//! door or window are passed over.

use crate::length::{Length, PLAUSIBLE, Reading, Unit, pairs_within};
use crate::place::CellRef;
use crate::schema::Column;
use crate::schema::openings::{NOTE, OPENING, TYPE};
use crate::tables::{Datum, TableRow};

use super::Measured;
use super::queries::SurveyQuery;

/// How far a size may lie from what was measured and still be the same: a name gives a round or a
/// nominal size (common practice, no source).
const SAME_WITHIN: Length = Length::from_mm(13);

/// Where names are looked for, what a sentence calls them, and what is asked if one disagrees.
static NAMES: [(&Column, &str, SurveyQuery); 3] = [
    (&OPENING, "id", SurveyQuery::IdDisagrees),
    (&TYPE, "type", SurveyQuery::TypeDisagrees),
    (&NOTE, "note", SurveyQuery::NoteDisagrees),
];

/// What a name says of its opening's size.
pub(super) struct NamedSize {
    /// What a sentence calls the name.
    called: &'static str,
    /// Its cell.
    pub at: CellRef,
    /// What is asked if the size columns say otherwise.
    pub if_not: &'static SurveyQuery,
    /// Every way in which it can be read, in the order written; never empty.
    pairs: Vec<[Length; 2]>,
    bare: Unit,
}

/// The sizes that a row's names say. A bare number is in the survey's unit, or in millimeters
/// where only those make a door or a window of it.
pub(super) fn named_sizes(row: &TableRow, bare: Unit) -> impl Iterator<Item = NamedSize> + '_ {
    NAMES.iter().filter_map(move |(column, called, if_not)| {
        let entry = row.entry(column)?;
        let Ok(Datum::Text(text)) = &entry.datum else { return None };
        let mut pairs: Vec<[Length; 2]> = Vec::new();
        for written in pairs_within(text) {
            for unit in [bare, Unit::Millimeter] {
                let [first, second] = written.readings.each_ref().map(|readings| plausible(readings, unit));
                if let Some(pair) = first.zip(second).map(<[_; 2]>::from)
                    && !pairs.contains(&pair)
                {
                    pairs.push(pair);
                }
            }
        }
        let named = NamedSize { called, at: entry.at, if_not, pairs, bare };
        (!named.pairs.is_empty()).then_some(named)
    })
}

/// What a row's names say, for a query about the size that it lacks; empty if they say nothing.
pub(super) fn told(row: &TableRow, bare: Unit) -> String {
    let told = |named: NamedSize| format!("the {} says {named}", named.called);
    named_sizes(row, bare).map(told).collect::<Vec<_>>().join("; ")
}

fn plausible(readings: &[Reading], bare: Unit) -> Option<Length> {
    let mut lengths =
        readings.iter().filter_map(|reading| Length::of(reading.value, reading.unit.unwrap_or(bare)));
    lengths.find(|length| PLAUSIBLE.contains(length))
}

impl NamedSize {
    /// Whether some reading is the size that was measured, in either order.
    pub fn agrees_with(&self, width: &Measured, height: &Measured) -> bool {
        self.pairs.iter().any(|&[first, second]| {
            (is_near(first, width) && is_near(second, height))
                || (is_near(second, width) && is_near(first, height))
        })
    }
}

/// Whether a length lies among the measurements, or near enough to one to be the same.
pub(super) fn is_near(length: Length, measured: &Measured) -> bool {
    (measured.least().value - SAME_WITHIN..=measured.most().value + SAME_WITHIN).contains(&length)
}

impl std::fmt::Display for NamedSize {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        for (place, pair) in self.pairs.iter().enumerate() {
            let [first, second] = pair.map(|length| length.shown(self.bare.shown_in()));
            write!(f, "{}{first} x {second}", if place == 0 { "" } else { " or " })?;
        }
        Ok(())
    }
}
