//! The sheet `Options`, a choice to compare on each row: any item of `Project` that decides something,
//! and what may stand in some columns of every opening. What the project is called and what its numbers
//! are in is the same in all of them.

use std::sync::LazyLock;

use super::project::{COLUMNS as PROJECT_ITEMS, PROJECT};
use crate::schema::openings::{COLOR, CONTROL, MOUNT, PRODUCT};
use crate::schema::{Column, Form, Kind, Merged, Offered, Table, WhenUnread};

/// What a choice is called.
pub static OPTION: Column = Column::new(
    (0, "option", "Option"),
    &["Choice"],
    Kind::Text,
    ("the row is ignored", "Name of the choice. Every row has a name of its own."),
);
/// What is to be said of it.
pub static NOTE: Column =
    Column::new((1, "note", "Note"), &["Remark"], Kind::Text, ("none", "Anything worth knowing."));

/// The columns of every opening that a choice may fill.
pub static OF_OPENINGS: [&Column; 4] = [&PRODUCT, &COLOR, &MOUNT, &CONTROL];

/// The items of `Project` that a choice may have of its own.
pub fn of_project() -> impl Iterator<Item = &'static Column> {
    let same = {
        let c = &PROJECT_ITEMS;
        [&c.name, &c.units, &c.currency, &c.sizes_given, &c.revision].map(|column| column.slot)
    };
    PROJECT.columns.iter().copied().filter(move |column| !same.contains(&column.slot))
}

/// The sheet. What cannot be read in it stops the run: taken as blank it would be the survey's own.
pub static OPTIONS: LazyLock<Table> = LazyLock::new(|| {
    let taken = of_project().chain(OF_OPENINGS).zip(2..).map(|(column, slot)| -> &'static Column {
        let (merged, offered, unread) = (Merged::EveryRow, Offered::InBlank, WhenUnread::Holds);
        let blank = "as in the survey";
        Box::leak(Box::new(Column { slot, blank, merged, offered, unread, ..*column }))
    });
    let columns: Vec<&'static Column> = [&OPTION, &NOTE].into_iter().chain(taken).collect();
    Table {
        sheet: "Options",
        form: Form::Rows,
        columns: columns.leak(),
        about: "Choices to compare, one a row. A blank cell is as in the survey.",
    }
});
