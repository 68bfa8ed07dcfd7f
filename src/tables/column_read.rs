//! What a table's headings were taken as, for whoever wants to see that nothing was misread.

use crate::length::Unit;
use crate::place::CellRef;
use crate::schema::Column;

/// One heading of a table, and what was made of it.
#[derive(Clone, Debug)]
pub struct ColumnRead {
    /// The first heading of its table.
    pub table: CellRef,
    /// The heading; where cells stand under none, the place where it would be.
    pub at: CellRef,
    /// The heading as written, its group before it where that matters.
    pub heading: String,
    /// The column that it was taken as.
    pub taken: Option<&'static Column>,
    /// By what.
    pub by: By,
    /// The unit of its lengths, if something names one for it alone, and what does.
    pub unit: Option<(Unit, &'static str)>,
    /// How many cells below it hold anything.
    pub filled: usize,
    /// The first of them, as written.
    pub first: Vec<String>,
    /// The column that it resembles most, where it was taken as none.
    pub nearest: Option<&'static Column>,
    /// The code of the query about it.
    pub query: Option<&'static str>,
}

/// By what a heading was taken as a column, or why it was not.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum By {
    /// The column's own name.
    Name,
    /// Another of its names.
    Synonym,
    /// A sheet `Headings` says so.
    Headings,
    /// An answer says so.
    Answer,
    /// It is copied beside the opening.
    Carried,
    /// Nothing is taken from it until the query about it is answered, or another column is better.
    NotRead,
}

impl By {
    /// Each as it is shown.
    pub const WORDS: [&str; 6] = [
        By::Name.words(),
        By::Synonym.words(),
        By::Headings.words(),
        By::Answer.words(),
        By::Carried.words(),
        By::NotRead.words(),
    ];

    /// As it is shown.
    pub const fn words(self) -> &'static str {
        match self {
            By::Name => "name",
            By::Synonym => "synonym",
            By::Headings => "sheet Headings",
            By::Answer => "answer",
            By::Carried => "carried",
            By::NotRead => "not read",
        }
    }
}
