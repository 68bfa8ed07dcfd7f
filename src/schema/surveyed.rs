//! The columns of `As surveyed`: every opening as a run took it, under the columns of `Openings`, with what
//! tells which opening it is. A later run reads it back to say what has changed.
//!
//! Each cell is read back as text, and that as its own column of `Openings` reads it: a cell that could
//! not be read then cannot be read now either.

use super::openings::OPENINGS;
use super::{Column, Form, Kind, Table};

const OF_OPENINGS: usize = OPENINGS.columns.len();

/// A column that `Openings` has not.
const fn besides(place: usize, key: &'static str, name: &'static str, help: &'static str) -> Column {
    Column::new((OF_OPENINGS + place, key, name), &[], Kind::Text, ("never blank", help))
}

/// The opening's name, as every sheet of its run shows it.
pub static SHOWN: Column =
    besides(0, "shown", "Opening as shown", "The opening's name on the other sheets of the fit-out.");
/// The file that it was read from.
pub static SURVEY: Column = besides(1, "survey", "Survey file", "The survey that the row is from.");
/// The row that it was read from.
pub static ROW: Column = besides(2, "row", "Survey row", "The cell that its row is known by.");
/// The columns that an answer fills.
pub static ANSWERED: Column = besides(3, "answered", "Answered", "The columns that an answer has filled.");

static LIKE_OPENINGS: [Column; OF_OPENINGS] = {
    let mut columns = [const { besides(0, "", "", "") }; OF_OPENINGS];
    let mut slot = 0;
    while slot < OF_OPENINGS {
        let of = OPENINGS.columns[slot];
        columns[slot] = Column::new((of.slot, of.key, of.name), &[], Kind::Text, (of.blank, of.help));
        slot += 1;
    }
    columns
};

static COLUMNS: [&Column; OF_OPENINGS + 4] = {
    let mut columns = [&SHOWN; OF_OPENINGS + 4];
    let mut slot = 0;
    while slot < OF_OPENINGS {
        columns[slot] = &LIKE_OPENINGS[slot];
        slot += 1;
    }
    columns[OF_OPENINGS + 1] = &SURVEY;
    columns[OF_OPENINGS + 2] = &ROW;
    columns[OF_OPENINGS + 3] = &ANSWERED;
    columns
};

/// Every opening as a run took it.
pub static AS_SURVEYED: Table = Table {
    sheet: "As surveyed",
    form: Form::Rows,
    columns: &COLUMNS,
    about: "Every opening as it was read, with its type and its answers. A later run compares itself with it.",
};
