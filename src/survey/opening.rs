//! One opening of the survey: who it is, and what was measured.

use std::borrow::Cow;
use std::sync::Arc;

use crate::place::CellRef;
use crate::schema::Column;
use crate::schema::openings::{BUILDING, FLOOR, KIND, OPENING, PHASE, QUANTITY, ROOM, UNIT};

use super::{AsRead, Blanks, Facts};

/// How a blank unit is shown.
pub const NO_UNIT: &str = "No unit";

/// One row of the survey: who it is, and what was measured unless it is held.
#[derive(Clone, Debug)]
pub struct Opening {
    /// Names and place.
    pub who: Identity,
    /// What was measured; `None` if the survey's own stops hold it back.
    pub facts: Option<Box<Facts>>,
    /// What its blanks are taken for; nothing while it is held.
    pub blanks: Blanks,
    /// What the survey itself says of it, cell by cell.
    pub as_read: AsRead,
}

impl Opening {
    /// What is taken under a column of `Openings`, in words that are read back as the same; names, kind and
    /// quantity as they were settled. Empty for a blank.
    pub fn taken(&self, column: &Column) -> Cow<'_, str> {
        let Identity { written, building, floor, unit, room, phase, .. } = &self.who;
        let names = [
            (&OPENING, written),
            (&BUILDING, building),
            (&FLOOR, floor),
            (&UNIT, unit),
            (&ROOM, room),
            (&PHASE, phase),
        ];
        if let Some((_, name)) = names.into_iter().find(|(known, _)| known.slot == column.slot) {
            return Cow::Borrowed(name);
        }
        match &self.facts {
            Some(facts) if column.slot == KIND.slot => Cow::Borrowed(facts.kind.word()),
            _ if column.slot == QUANTITY.slot => Cow::Owned(self.who.quantity.to_string()),
            _ => Cow::Borrowed(self.as_read.taken(column)),
        }
    }
}

/// An opening's names and place in the building. Texts are as written; empty where the cell is
/// blank or could not be read (then a query says so).
#[derive(Clone, Debug)]
pub struct Identity {
    /// The id as written; empty if blank.
    pub written: Arc<str>,
    /// The shortest of `id`, `unit/id`, `building/unit/id` that is unique in the run. A blank id
    /// is the unit and a running number; rows with the same key are told apart by sheet and row.
    pub name: Arc<str>,
    /// File name of its survey.
    pub survey: Arc<str>,
    /// The row's `Opening` cell, or its first cell if that is blank.
    pub at: CellRef,
    /// The building.
    pub building: Arc<str>,
    /// The floor.
    pub floor: Arc<str>,
    /// The unit; blank is shown as `No unit`.
    pub unit: Arc<str>,
    /// The room.
    pub room: Arc<str>,
    /// The phase.
    pub phase: Arc<str>,
    /// The note.
    pub note: Arc<str>,
    /// Values of the carried columns, one for each of the survey's headings; empty where blank.
    pub carried: Vec<Arc<str>>,
    /// How many openings the row stands for; 1 to 10,000 (1 where it could not be read).
    pub quantity: u32,
}

impl Identity {
    /// The unit as it is shown: [`NO_UNIT`] for a blank.
    pub fn shown_unit(&self) -> &str {
        shown_unit(&self.unit)
    }
}

/// A unit's name as it is shown: [`NO_UNIT`] for a blank.
pub fn shown_unit(unit: &str) -> &str {
    if unit.is_empty() { NO_UNIT } else { unit }
}

/// A floor's name as it is shown among other names: `floor 3`, `floor Ground`; nothing for a blank.
pub fn shown_floor(floor: &str) -> String {
    match floor {
        "" => String::new(),
        named if named.to_lowercase().contains("floor") => named.to_owned(),
        bare => format!("floor {bare}"),
    }
}
