//! An opening as it was taken at one time, of an earlier fit-out or of the run that was just worked out.

use std::borrow::Cow;

use crate::earlier::{KeptOpening, least, meant, opening_key};
use crate::length::Length;
use crate::name::squeezed;
use crate::schema::Column;
use crate::schema::choices::Kind;
use crate::schema::openings::{BUILDING, HEIGHTS, KIND, OPENING, QUANTITY, ROOM, UNIT, WIDTHS};
use crate::survey::Opening;
use crate::tables::FromDatum;

/// Position of an opening in a memory.
pub type PlaceIndex = usize;

/// An opening as it was taken.
#[derive(Clone, Copy)]
pub enum Place<'m> {
    /// By an earlier run.
    Kept(&'m KeptOpening),
    /// By this one.
    Now(&'m Opening),
}

impl<'m> Place<'m> {
    /// What was taken under a column of `Openings`; empty for a blank.
    pub fn said(self, column: &Column) -> Cow<'m, str> {
        match self {
            Place::Kept(kept) => Cow::Borrowed(kept.said(column)),
            Place::Now(opening) => opening.taken(column),
        }
    }

    /// Whether an answer has filled a column.
    pub fn is_answered(self, column: &Column) -> bool {
        match self {
            Place::Kept(kept) => kept.is_answered(column),
            Place::Now(opening) => opening.as_read.is_answered(column),
        }
    }

    /// Its name as it was shown.
    pub fn name(self) -> &'m str {
        match self {
            Place::Kept(kept) => &kept.name,
            Place::Now(opening) => &opening.who.name,
        }
    }

    /// What it is; `None` where that could not be settled.
    pub fn kind(self) -> Option<Kind> {
        Kind::from_datum(&meant(&self.said(&KIND), &KIND)?)
    }

    /// How many openings its row stands for.
    pub fn quantity(self) -> u64 {
        self.said(&QUANTITY).parse().unwrap_or(1)
    }

    /// Its least width and height; `None` unless both are known.
    pub fn sizes(self) -> Option<(Length, Length)> {
        let least = |columns: &[&Column]| least(columns, |column| self.said(column));
        least(&WIDTHS).zip(least(&HEIGHTS))
    }

    /// Building and unit; `None` where the unit is blank.
    pub fn unit(self) -> Option<String> {
        let unit = self.said(&UNIT);
        (!unit.is_empty()).then(|| opening_key(&self.said(&BUILDING), &unit, ""))
    }

    /// The room; `None` where it is blank.
    pub fn room(self) -> Option<String> {
        Some(squeezed(&self.said(&ROOM))).filter(|room| !room.is_empty())
    }

    /// What it is known by from run to run: building, unit and id. One without an id is known by its name,
    /// for want of better.
    pub fn key(self) -> String {
        let (building, unit, id) = (self.said(&BUILDING), self.said(&UNIT), self.said(&OPENING));
        match id.is_empty() {
            false => opening_key(&building, &unit, &id),
            true => format!("{}\u{1f}{}", opening_key(&building, &unit, ""), squeezed(self.name())),
        }
    }
}
