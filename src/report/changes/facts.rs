//! What the survey says of an opening that it did not say before. Two cells are compared by what they
//! mean, so that `8' 10"` is `106 in`. Where a survey in millimeters is written again in inches, or the other
//! way, a length that is the same on a tape is the same.
//!
//! A kind that is blank on one side, for the opening was held there before it was settled, is no change.

use super::place::Place;
use super::{About, Cause, Change};
use crate::earlier::meant;
use crate::length::{Length, Units};
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

/// Half of what is read off a tape in inches, 1/16 in: two lengths may be apart by it that were written in
/// other units and measured once. In millimeters a tape is read closer.
const SAME_ON_TAPE: Length = Length::from_nm(793_750);

/// The cells of an opening that differ, in the order of their columns, shown in `units`. Whether those are
/// the units of before decides how near two lengths are one.
pub fn between(then: Place<'_>, now: Place<'_>, units: Units, are_units_same: bool) -> Vec<Differs> {
    let apart = if are_units_same { Length::ZERO } else { SAME_ON_TAPE };
    let is_one = |one: Length, other: Length| one.nm().abs_diff(other.nm()) <= apart.nm().unsigned_abs();
    let is_same = |before: &Option<Datum>, now: &Option<Datum>| match (before, now) {
        (Some(Datum::Length(before)), Some(Datum::Length(now))) => is_one(*before, *now),
        (before, now) => before == now,
    };
    let in_words =
        |datum: Option<Datum>| datum.map_or_else(String::new, |datum| datum.in_full(units).into_owned());
    let columns = OPENINGS.offered().filter(|column| KEY.iter().all(|key| key.slot != column.slot));
    let differs = columns.filter_map(|column| {
        let (before, after) = (then.said(column), now.said(column));
        let is_unsettled = column.slot == KIND.slot && (before.is_empty() || after.is_empty());
        if before == after || is_unsettled {
            return None;
        }
        let (before, after) = (meant(&before, column), meant(&after, column));
        (!is_same(&before, &after)).then(|| Differs {
            column,
            before: in_words(before),
            now: in_words(after),
            answered: now.is_answered(column),
        })
    });
    differs.collect()
}
