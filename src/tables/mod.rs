//! A sheet read against the schema: headings found, each cell turned into the kind of value its
//! column holds. The survey's own sheets and the rule sheets are all read here.

mod apart;
mod bands;
mod blocks;
mod cell;
mod column_read;
mod datum;
mod doubled;
mod found;
mod headings;
mod hidden;
mod layout;
mod likely;
mod lines;
mod meanings;
mod measure;
mod names;
mod pair;
mod queries;
mod resemble;
pub mod steel;
mod suffix;
mod untaken;
mod words;

pub use cell::{read_value, shown};
pub use column_read::{By, ColumnRead};
pub use datum::FromDatum;
pub use found::Found;
pub use layout::{found_on, heading, read};
pub use meanings::{Meaning, Meanings, Said};
pub use measure::unit_in;
pub(crate) use queries::QUERIES;
pub use queries::UnreadCell;
pub use suffix::heading_name;
pub use untaken::nearest_column;

use rust_decimal::Decimal;

use crate::date::Date;
use crate::grid::{Grid, Sheet};
use crate::length::Length;
use crate::name::squeezed;
use crate::place::CellRef;
use crate::query::Query;
use crate::schema::Column;

/// The sheet of that name, case and spaces ignored; the first if there are several.
pub fn find<'g>(grid: &'g Grid, name: &str) -> Option<&'g Sheet> {
    grid.sheets.iter().find(|sheet| is_named(sheet, name))
}

/// Whether a sheet has that name, case and spaces ignored.
pub fn is_named(sheet: &Sheet, name: &str) -> bool {
    squeezed(&sheet.name) == squeezed(name)
}

/// A sheet's rows under a table's columns.
#[derive(Clone, Debug, Default)]
pub struct ReadTable {
    /// The rows under the headings, in order; for an item-and-value sheet one row of all items.
    pub rows: Vec<TableRow>,
    /// Headings of columns that the schema does not know, from the left, with their place.
    pub carried: Vec<(String, CellRef)>,
    /// What is odd about the sheet as a whole: unknown or doubled headings.
    pub queries: Vec<Query>,
    /// The stops among it: they hold whatever any of its rows is about.
    pub holding: Vec<Query>,
    /// What its headings were taken as.
    pub columns: Vec<ColumnRead>,
}

/// One row of a table.
#[derive(Clone, Debug)]
pub struct TableRow {
    /// The row's first cell that holds anything.
    pub at: CellRef,
    /// The cells under the table's columns that hold something, by the column's slot.
    entries: Vec<(usize, Entry)>,
    /// Values of the carried columns as text, in their order; empty where blank.
    pub carried: Vec<Box<str>>,
    /// What the survey itself says where something else stands now, by the column's slot.
    own: Vec<(usize, Option<Entry>)>,
}

/// A cell that holds something.
#[derive(Clone, Debug)]
pub struct Entry {
    /// Where it stands.
    pub at: CellRef,
    /// What it says, or why it says nothing.
    pub datum: Result<Datum, Box<Unread>>,
}

/// A cell's value, of the kind its column holds.
#[derive(Clone, Debug, PartialEq)]
pub enum Datum {
    /// [`Kind::Text`](crate::schema::Kind::Text), trimmed, never empty.
    Text(Box<str>),
    /// A length within the column's bounds.
    Length(Length),
    /// The word that stands for no length.
    NoLength,
    /// A width and a height, each within the bounds of a size.
    Pair(Pair),
    /// A whole number within the column's bounds.
    Whole(u32),
    /// A decimal number, or a percentage in percent, or money.
    Number(Decimal),
    /// A calendar date.
    Date(Date),
    /// Calendar dates in order, each once.
    Dates(Vec<Date>),
    /// The word, as the column spells it.
    Choice(&'static str),
    /// The words, as the column spells them.
    Choices(Vec<&'static str>),
    /// Texts of a list, trimmed, none empty.
    List(Vec<Box<str>>),
}

/// A width and a height from one cell.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Pair {
    /// The width.
    pub width: Length,
    /// The height.
    pub height: Length,
    /// Whether a third length stands with them, which is not taken.
    pub with_third: bool,
}

/// Why a cell says nothing. Its words are those of the query that a stage raises; which severity
/// is the stage's to say ([`UnreadCell`]).
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unread {
    /// What kind of fault it is.
    pub fault: Fault,
    /// The short lasting name of the doubt.
    pub code: &'static str,
    /// What is wrong, for a query's message: the same words for the same cause in every row.
    pub message: String,
    /// What to do.
    pub hint: String,
    /// What was written there and how it could be read, for a query's detail.
    pub written: String,
}

impl Unread {
    /// `"5 ft x": cannot be read as a length`; what is wrong alone where nothing is written.
    pub fn in_words(&self) -> String {
        match self.written.as_str() {
            "" => self.message.clone(),
            written => format!("{written}: {}", self.message),
        }
    }
}

/// Kinds of fault in a cell.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fault {
    /// A negative number: always a stop.
    Negative,
    /// A date where an id, a unit, a length or another text belongs: always a stop.
    Date,
    /// 0 where a size belongs.
    Zero,
    /// An error such as `#REF!`, or a formula whose result the file does not hold.
    NoResult,
    /// A word that the column's choices do not hold.
    UnknownWord,
    /// A number outside the column's bounds.
    OutOfBounds,
    /// More than one reading is left, and they differ.
    Ambiguous,
    /// No reading at all.
    Unreadable,
    /// Two answers for the cell that differ: always a stop.
    Contradicted,
}

impl ReadTable {
    /// The table with a column of its schema left blank.
    pub fn without(mut self, column: &Column) -> ReadTable {
        for row in &mut self.rows {
            row.entries.retain(|(slot, _)| *slot != column.slot);
        }
        self
    }
}

impl TableRow {
    /// A row put together from cells that stand elsewhere, one at most for each column.
    pub fn new(at: CellRef, cells: Vec<(&'static Column, Entry)>) -> TableRow {
        let mut entries: Vec<(usize, Entry)> =
            cells.into_iter().map(|(column, entry)| (column.slot, entry)).collect();
        entries.sort_by_key(|(slot, _)| *slot);
        TableRow::of(at, entries)
    }

    /// A row of cells in the order of their slots.
    fn of(at: CellRef, entries: Vec<(usize, Entry)>) -> TableRow {
        TableRow { at, entries, carried: Vec::new(), own: Vec::new() }
    }

    /// The cell under a column of the row's own table; `None` if it is blank.
    pub fn entry(&self, column: &Column) -> Option<&Entry> {
        let place = self.entries.binary_search_by_key(&column.slot, |entry| entry.0).ok()?;
        Some(&self.entries[place].1)
    }

    /// The cell of the survey itself under a column, whatever was answered.
    pub fn own_entry(&self, column: &Column) -> Option<&Entry> {
        match self.own.iter().find(|(slot, _)| *slot == column.slot) {
            Some((_, own)) => own.as_ref(),
            None => self.entry(column),
        }
    }

    /// Puts a cell in place of the one under a column of the row's own table.
    pub fn put(&mut self, column: &Column, entry: Entry) {
        self.replace(column, entry);
    }

    /// Puts an answer in place of the cell under a column of the row's own table.
    pub fn answer(&mut self, column: &Column, entry: Entry) {
        let own = self.replace(column, entry);
        self.own.push((column.slot, own));
    }

    /// Leaves a cell blank that says nothing; the survey has said it all the same.
    pub fn leave_out(&mut self, column: &Column) {
        if let Ok(place) = self.entries.binary_search_by_key(&column.slot, |entry| entry.0) {
            self.own.push((column.slot, Some(self.entries.remove(place).1)));
        }
    }

    fn replace(&mut self, column: &Column, entry: Entry) -> Option<Entry> {
        match self.entries.binary_search_by_key(&column.slot, |entry| entry.0) {
            Ok(place) => Some(std::mem::replace(&mut self.entries[place].1, entry)),
            Err(place) => {
                self.entries.insert(place, (column.slot, entry));
                None
            }
        }
    }

    /// The columns under which it says anything, or the survey itself does, by their slots.
    pub fn slots(&self) -> impl Iterator<Item = usize> {
        let own = self.own.iter().map(|(slot, _)| *slot);
        self.entries.iter().map(|(slot, _)| *slot).chain(own)
    }

    /// Every cell that holds something, with the slot of its column, in the table's order.
    pub fn entries(&self) -> impl Iterator<Item = (usize, &Entry)> {
        self.entries.iter().map(|(slot, entry)| (*slot, entry))
    }
}
