//! A sheet read against the schema: headings found, each cell turned into the kind of value its
//! column holds. The survey's own sheets and the rule sheets are all read here.

use rust_decimal::Decimal;

use crate::length::Length;
use crate::place::CellRef;
use crate::query::Query;
use crate::schema::Column;

/// A sheet's rows under a table's columns.
#[derive(Clone, Debug)]
pub struct ReadTable {
    /// The rows under the headings, in order; for an item-and-value sheet one row of all items.
    pub rows: Vec<TableRow>,
    /// Headings of columns that the schema does not know, from the left, with their place.
    pub carried: Vec<(String, CellRef)>,
    /// What is odd about the sheet as a whole: unknown or doubled headings.
    pub queries: Vec<Query>,
}

/// One row of a table.
#[derive(Clone, Debug)]
pub struct TableRow {
    /// The row's first cell that holds anything.
    pub at: CellRef,
    /// One place for each column of the table; `None` where the cell is blank.
    pub entries: Vec<Option<Entry>>,
    /// Values of the carried columns as text, in their order; empty where blank.
    pub carried: Vec<Box<str>>,
}

/// A cell that holds something.
#[derive(Clone, Debug)]
pub struct Entry {
    /// Where it stands.
    pub at: CellRef,
    /// What it says, or why it says nothing.
    pub datum: Result<Datum, Unread>,
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
    /// A whole number within the column's bounds.
    Whole(u32),
    /// A decimal number, or a percentage in per cent, or money.
    Number(Decimal),
    /// A calendar date.
    Date(Date),
    /// Position of the word in the column's choices.
    Choice(usize),
    /// Positions of the words in the column's choices.
    Choices(Vec<usize>),
    /// Texts of a list, trimmed, none empty.
    List(Vec<Box<str>>),
}

/// A calendar date.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Date {
    /// Days since 1970-01-01, may be negative.
    days: i32,
}

impl Date {
    /// Days since 1970-01-01; negative before it.
    pub const fn days_since_1970(self) -> i32 {
        self.days
    }
}

/// Why a cell says nothing. Its words are the message of the query that the stage raises.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unread {
    /// What is wrong, for a query's message.
    pub message: String,
    /// What to do.
    pub hint: String,
    /// What was written there.
    pub written: String,
    /// Whether a negative number was written: always a stop.
    pub negative: bool,
    /// Whether a date was found where none belongs: always a stop.
    pub date: bool,
}

impl TableRow {
    /// The cell under a column of the row's own table.
    pub fn entry(&self, column: &Column) -> Option<&Entry> {
        self.entries.get(column.slot)?.as_ref()
    }
}
