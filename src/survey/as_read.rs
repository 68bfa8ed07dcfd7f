//! What the survey itself says in a cell, as it is shown under `As read`, and whether it still does.

use std::sync::Arc;

use crate::grid::Value;
use crate::length::Unit;
use crate::name::same_name;
use crate::schema::answers::{BLANK, of_type};
use crate::schema::openings::OPENINGS;
use crate::schema::{Column, Kind};
use crate::tables::{Datum, as_written, read_value, unit_in};

/// What the cells of an opening's own row and of its type say, by column.
#[derive(Clone, Debug, Default)]
pub struct AsRead(Box<[(u16, Arc<str>)]>);

impl AsRead {
    /// The cells that say something, by the slot of their column and in its order.
    pub(super) fn new(cells: impl Iterator<Item = (usize, Arc<str>)>) -> AsRead {
        let slot = |slot: usize| u16::try_from(slot).unwrap_or(u16::MAX);
        AsRead(cells.map(|(column, text)| (slot(column), text)).collect())
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
    /// What stands in its own cell.
    Cell(&'s Value),
}

impl Own<'_> {
    /// As `As read` shows it. A bare length has its unit, so that the same text means the same later.
    pub fn shown(&self, column: &Column, heading: Option<Unit>, bare: Unit) -> String {
        match self {
            Own::Blank => BLANK.to_owned(),
            Own::OfType(name) => of_type(name),
            Own::Cell(value) => {
                let written = as_written(value);
                let is_bare = matches!(column.kind, Kind::Length { .. }) && unit_in(value).is_none();
                match read_value(value, column, heading, bare) {
                    Ok(_) if is_bare => format!("{written} {}", heading.unwrap_or(bare)),
                    _ => written,
                }
            }
        }
    }

    /// What it says, if it can be read.
    pub fn datum(&self, column: &Column, heading: Option<Unit>, bare: Unit) -> Option<Datum> {
        match self {
            Own::Cell(value) => read_value(value, column, heading, bare).ok(),
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
    then.is_some() && then == own.datum(column, heading, bare)
}
