//! What is odd about a sheet as a whole, and why a cell says nothing.

use std::fmt::{self, Display};

use thiserror::Error;

use super::bands::HEADING_ROWS;
use super::{Fault, Unread};
use crate::query::{Asks, Entry, Severity, Wording, did_you_mean_or, queries};
use crate::schema::openings::{HEIGHT_BY_WIDTH, OPENINGS, WIDTH_BY_HEIGHT};
use crate::schema::{Column, Table};

/// Every query of this room.
pub(crate) const QUERIES: &[&[Entry]] = &[SheetQuery::ENTRIES, CellQuery::ENTRIES];

queries! {
    /// A doubt about a sheet's headings or items.
    pub(super) enum SheetQuery {
        UnknownHeading { written: String, nearest: String }: Check, "unknown-heading",
            "\"{written}\" is not a survey heading" => "did you mean \"{nearest}\"?";
        Doubled { first: String, second: String, name: &'static str }: Check, "column-twice",
            "\"{first}\" and \"{second}\" are both read as {name}"
            => "remove one of them; \"{first}\" is used";
        HiddenRows: Note, "hidden-rows",
            "hidden rows are read like the others"
            => "show them and look; delete the rows that are not to be fitted out";
        HiddenColumns: Note, "hidden-columns",
            "hidden columns are read like the others"
            => "show them and look; clear the columns that no longer hold";
        TypesWithoutHeadings { table: &'static str }: Check, "types-without-headings",
            "{table} has no row of headings in its first {HEADING_ROWS} rows"
            => "name the columns as a blank survey does";
        // What someone filled in must not become the default in silence.
        RulesWithoutHeadings { table: &'static str }: Stop, "rules-without-headings",
            "{table} has no row of headings in its first {HEADING_ROWS} rows"
            => "name the columns as a blank survey does";
        UnknownItem { written: String, table: &'static str, nearest: Option<String> }: Check, "unknown-item",
            "\"{written}\" is not an item of {table}"
            => "{}", did_you_mean_or(nearest.as_deref(), "name it as a blank survey does");
    }
}

queries! {
    /// Why a cell says nothing: a stop, unless the stage that reads it can do without.
    pub(super) enum CellQuery {
        Negative { column: &'static str }: Stop, "negative",
            "{column} is negative" => "type it without the minus, or leave the cell blank";
        Date { column: &'static str }: Stop, "date-in-cell",
            "{column} holds a date" => "format the column as text and type the value again";
        Zero { column: &'static str }: Stop, "zero-size",
            "{column} is 0, which is never a size" => "measure it, or leave the cell blank";
        Error { column: &'static str }: Stop, "error-in-cell",
            "{column} holds an error" => "correct the cell's formula, or type the value";
        NoResult { column: &'static str }: Stop, "formula-without-result",
            "{column} holds a formula without a stored result"
            => "save the workbook from a spreadsheet program, which stores results, or type the value";
        UnknownWord { column: &'static str, words: &'static [&'static str], nearest: Option<&'static str> }:
            Stop, "unknown-word",
            "{column} must be one of {}", words.join(", ")
            => "{}", did_you_mean_or(*nearest, "write one of these words, in any case");
        OutOfBounds { column: &'static str, least: String, most: String }: Stop, "out-of-bounds",
            "{column} must be from {least} to {most}"
            => "look for a slip of a digit, or for the wrong unit";
        Ambiguous { column: &'static str }: Stop, "ambiguous",
            "{column} can be read in more than one way"
            => "leave out the mark between thousands and name the unit, as in 2692 mm or 105 1/2 in";
        WidthOrHeight { column: &'static str }: Stop, "width-or-height",
            "{column} can be read in more than one way"
            => "write {} or {} in the heading", WIDTH_BY_HEIGHT.name, HEIGHT_BY_WIDTH.name;
        Shorthand { column: &'static str }: Stop, "shorthand",
            "{column} is written in shorthand"
            => "write both lengths in full with their unit, as in 72 in x 80 in";
        Doubtful { column: &'static str }: Stop, "approximate",
            "{column} says about how much it is" => "measure it, and write the length alone";
        Unreadable { column: &'static str, expected: Expected }: Stop, "unreadable",
            "{column} cannot be read as {expected}" => "{}", expected.hint();
    }
}

impl SheetQuery {
    /// A sheet that is filled in, but not under headings.
    pub(super) fn no_headings(table: &'static Table) -> SheetQuery {
        let sheet = table.sheet;
        match table.sheet == OPENINGS.sheet {
            true => SheetQuery::TypesWithoutHeadings { table: sheet },
            false => SheetQuery::RulesWithoutHeadings { table: sheet },
        }
    }
}

/// What a cell should have held.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub(super) enum Expected {
    #[error("text")]
    Text,
    #[error("a length")]
    Length,
    #[error("a width and a height")]
    Pair,
    #[error("a whole number")]
    Whole,
    #[error("a number")]
    Number,
    #[error("a percentage")]
    Percent,
    #[error("an amount of money")]
    Money,
    #[error("a date")]
    Date,
}

impl Expected {
    fn hint(self) -> &'static str {
        match self {
            Expected::Text => "write a text",
            Expected::Length => "write a number, alone or with its unit, as in 105 1/2 in or 2692 mm",
            Expected::Pair => "write two lengths with an x between them, as in 900 mm x 2100 mm",
            Expected::Whole => "write a number without decimals",
            Expected::Number => "write a number, as in 1.5",
            Expected::Percent => "write a number of percent, as in 8.25",
            Expected::Money => "write the amount as a number, as in 45.00",
            Expected::Date => "write year, month and day, as in 2026-03-31",
        }
    }
}

impl CellQuery {
    /// The same as data, with what was written.
    pub(super) fn unread(&self, written: impl Into<String>) -> Unread {
        Unread::of(self, self.fault(), written)
    }

    fn fault(&self) -> Fault {
        match self {
            CellQuery::Negative { .. } => Fault::Negative,
            CellQuery::Date { .. } => Fault::Date,
            CellQuery::Zero { .. } => Fault::Zero,
            CellQuery::Error { .. } | CellQuery::NoResult { .. } => Fault::NoResult,
            CellQuery::UnknownWord { .. } => Fault::UnknownWord,
            CellQuery::OutOfBounds { .. } => Fault::OutOfBounds,
            CellQuery::Ambiguous { .. } | CellQuery::WidthOrHeight { .. } => Fault::Ambiguous,
            CellQuery::Shorthand { .. } | CellQuery::Doubtful { .. } | CellQuery::Unreadable { .. } => {
                Fault::Unreadable
            }
        }
    }
}

impl Unread {
    /// Why a cell says nothing, in the words of a query, with what was written.
    pub fn of(asked: &dyn Asks, fault: Fault, written: impl Into<String>) -> Unread {
        let (code, message, hint) = (asked.entry().code, asked.to_string(), asked.hint());
        Unread { fault, code, message, hint, written: written.into() }
    }
}

/// A cell that says nothing, as a stage asks about it: in the words of its reader, as grave as a
/// blank would be there.
#[derive(Clone, Copy, Debug)]
pub struct UnreadCell<'u> {
    /// What its reader says.
    pub unread: &'u Unread,
    /// How grave it is.
    pub severity: Severity,
    /// The column of `Openings` that it is of, if it is of one.
    pub column: Option<&'static Column>,
}

impl Display for UnreadCell<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.unread.message)
    }
}

impl Wording for UnreadCell<'_> {
    fn hint(&self) -> String {
        self.unread.hint.clone()
    }
}

impl Asks for UnreadCell<'_> {
    fn entry(&self) -> Entry {
        Entry { code: self.unread.code, severity: self.severity }
    }

    fn fills(&self) -> Option<&'static Column> {
        self.column
    }
}
