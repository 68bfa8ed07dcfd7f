//! What the survey itself says in a cell, as it is shown under `As read`, and whether it still does.

use std::sync::Arc;

use crate::grid::Value;
use crate::length::{Length, Unit};
use crate::name::same_name;
use crate::schema::Column;
use crate::schema::answers::{BLANK, of_type};
use crate::schema::openings::OPENINGS;
use crate::tables::{Datum, as_written, read_value, unit_in};

/// What the cells of an opening's own row and of its type say, by column.
#[derive(Clone, Debug, Default)]
pub struct AsRead(Box<[(u16, Arc<str>)]>);

impl AsRead {
    /// The cells that say something, by the slot of their column and in its order.
    pub(super) fn new(cells: impl Iterator<Item = (usize, Arc<str>)>) -> AsRead {
        AsRead(cells.filter_map(|(slot, text)| Some((u16::try_from(slot).ok()?, text))).collect())
    }

    /// What the survey says under a column of that name: `(blank)` where it says nothing.
    pub fn under(&self, column: &str) -> &str {
        let slot = OPENINGS.columns.iter().find(|known| known.name == column).map(|column| column.slot);
        let own = self.0.iter().find(|(own, _)| Some(usize::from(*own)) == slot);
        own.map_or(BLANK, |(_, text)| text)
    }
}

/// What a row says in a column, whatever was answered.
#[derive(Clone, Debug)]
pub(super) enum Own<'s> {
    /// Nothing.
    Blank,
    /// What the row of that type says.
    OfType(String),
    /// What stands in its own cell, and what that says; with a second cell beside it, such as inches
    /// beside feet, the two together.
    Cell(&'s Value, Option<&'s Datum>),
}

impl Own<'_> {
    /// As `As read` shows it. A bare length has its unit, so that the same text means the same later.
    pub fn shown(&self, column: &Column, heading: Option<Unit>, bare: Unit) -> String {
        let (value, datum) = match self {
            Own::Blank => return BLANK.to_owned(),
            Own::OfType(name) => return of_type(name),
            Own::Cell(value, datum) => (*value, *datum),
        };
        let written = as_written(value);
        let Some(Datum::Length(length)) = datum else { return written };
        let unit = heading.unwrap_or(bare);
        let says_it_alone = match value {
            Value::Number(number) => Length::of(*number, unit) == Some(*length),
            _ => read_value(value, column, heading, bare).ok().as_ref() == datum,
        };
        if !says_it_alone {
            return length.show(unit.shown_in());
        }
        if unit_in(value).is_none() { format!("{written} {unit}") } else { written }
    }

    /// What it says, if it can be read.
    pub fn datum(&self) -> Option<&Datum> {
        match self {
            Own::Cell(_, datum) => *datum,
            Own::Blank | Own::OfType(_) => None,
        }
    }
}

/// Whether a cell still says what it said when it was asked about: in the same words, or in others
/// that mean the same. Nothing under `As read` is compared with nothing.
pub(super) fn is_same(
    as_read: &str,
    own: &Own<'_>,
    column: &Column,
    heading: Option<Unit>,
    bare: Unit,
) -> bool {
    if as_read.is_empty() || same_name(as_read, &own.shown(column, heading, bare)) {
        return true;
    }
    let then = read_value(&Value::Text(as_read.into()), column, heading, bare).ok();
    then.is_some() && then.as_ref() == own.datum()
}
