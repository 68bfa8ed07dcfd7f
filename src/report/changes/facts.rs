//! What the survey says of an opening that it did not say before. Two cells are compared by what they
//! mean, so that `8' 10"` is `106 in`.
//!
//! A kind that is blank on one side, for the opening was held there before it was settled, is no change.

use super::memory::Place;
use super::{About, Cause, Change};
use crate::earlier::meant;
use crate::length::Units;
use crate::schema::Column;
use crate::schema::openings::{
    BUILDING, FLOOR, KIND, NOTE, OPENING, OPENINGS, PHASE, QUANTITY, ROOM, TYPE, UNIT,
};
use crate::tables::Datum;

/// What an opening is known by.
const KEY: [&Column; 3] = [&OPENING, &BUILDING, &UNIT];

/// Cells from which no size follows: names, what only joins others, and counts.
const NO_SIZE: [&Column; 6] = [&FLOOR, &ROOM, &PHASE, &TYPE, &QUANTITY, &NOTE];

/// A cell that says something else now.
pub struct Differs {
    column: &'static Column,
    before: String,
    now: String,
    /// Whether an answer says it.
    answered: bool,
}

impl Differs {
    /// Whether a size may follow from it.
    pub fn may_decide(&self) -> bool {
        NO_SIZE.iter().all(|column| column.slot != self.column.slot)
    }

    /// Where it comes from.
    pub fn cause(&self) -> Cause {
        if self.answered { Cause::Answer } else { Cause::Survey }
    }

    /// Its row.
    pub fn change(&self, place: Place<'_>) -> Change {
        Change {
            fact: self.column.name.to_owned(),
            before: self.before.clone(),
            now: self.now.clone(),
            cause: Some(self.cause()),
            ..Change::about(About::Fact).at(place)
        }
    }
}

/// The cells of an opening that differ, in the order of their columns.
pub fn between(then: Place<'_>, now: Place<'_>, units: Units) -> Vec<Differs> {
    let in_words = |datum: Option<Datum>| datum.map_or_else(String::new, |datum| datum.in_full(units));
    let columns = OPENINGS.offered().filter(|column| KEY.iter().all(|key| key.slot != column.slot));
    let differs = columns.filter_map(|column| {
        let (before, after) = (then.said(column), now.said(column));
        let is_unsettled = column.slot == KIND.slot && (before.is_empty() || after.is_empty());
        if before == after || is_unsettled {
            return None;
        }
        let (before, after) = (meant(&before, column), meant(&after, column));
        (before != after).then(|| Differs {
            column,
            before: in_words(before),
            now: in_words(after),
            answered: now.is_answered(column),
        })
    });
    differs.collect()
}
