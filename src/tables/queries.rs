//! What is odd about a sheet as a whole, and why a cell says nothing.

use thiserror::Error;

use super::{Fault, Unread};
use crate::query::{Wording, did_you_mean};
use crate::schema::openings::{HEIGHT_BY_WIDTH, WIDTH_BY_HEIGHT};

/// Queries about a sheet's headings or items.
#[derive(Debug, Error)]
pub(super) enum SheetQuery<'q> {
    #[error("\"{written}\" is not a survey heading")]
    UnknownHeading { written: &'q str, nearest: &'q str },
    #[error("\"{first}\" and \"{second}\" are both read as {name}")]
    Doubled { first: &'q str, second: &'q str, name: &'static str },
    #[error("hidden rows are read like the others")]
    HiddenRows,
    #[error("hidden columns are read like the others")]
    HiddenColumns,
    #[error("{table} has no row of headings in its first {rows} rows")]
    NoHeadings { table: &'static str, rows: usize },
    #[error("\"{written}\" is not an item of {table}")]
    UnknownItem { written: &'q str, table: &'static str, nearest: Option<&'q str> },
}

impl Wording for SheetQuery<'_> {
    fn hint(&self) -> String {
        match self {
            SheetQuery::UnknownHeading { nearest, .. }
            | SheetQuery::UnknownItem { nearest: Some(nearest), .. } => did_you_mean(nearest),
            SheetQuery::Doubled { first, .. } => format!("remove one of them; \"{first}\" is used"),
            SheetQuery::HiddenRows => {
                "show them and look; delete the rows that are not to be fitted out".into()
            }
            SheetQuery::HiddenColumns => "show them and look; clear the columns that no longer hold".into(),
            SheetQuery::NoHeadings { .. } => "name the columns as a blank survey does".into(),
            SheetQuery::UnknownItem { nearest: None, .. } => "name it as a blank survey does".into(),
        }
    }
}

/// Why a cell says nothing.
#[derive(Debug, Error)]
pub(super) enum CellQuery<'q> {
    #[error("{column} is negative")]
    Negative { column: &'static str },
    #[error("{column} holds a date")]
    Date { column: &'static str },
    #[error("{column} is 0, which is never a size")]
    Zero { column: &'static str },
    #[error("{column} holds an error")]
    Error { column: &'static str },
    #[error("{column} holds a formula without a stored result")]
    NoResult { column: &'static str },
    #[error("{column} must be one of {}", .words.join(", "))]
    UnknownWord { column: &'static str, words: &'static [&'static str], nearest: Option<&'q str> },
    #[error("{column} must be from {least} to {most}")]
    OutOfBounds { column: &'static str, least: String, most: String },
    #[error("{column} can be read in more than one way")]
    Ambiguous { column: &'static str },
    #[error("{column} can be read in more than one way")]
    WidthOrHeight { column: &'static str },
    #[error("{column} is written in shorthand")]
    Shorthand { column: &'static str },
    #[error("{column} says about how much it is")]
    Doubtful { column: &'static str },
    #[error("{column} cannot be read as {expected}")]
    Unreadable { column: &'static str, expected: Expected },
}

/// What a cell should have held.
#[derive(Clone, Copy, Debug, Error)]
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

impl CellQuery<'_> {
    /// The same as data, with what was written.
    pub(super) fn unread(self, written: impl Into<String>) -> Unread {
        Unread { fault: self.fault(), message: self.to_string(), hint: self.hint(), written: written.into() }
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

impl Wording for CellQuery<'_> {
    fn hint(&self) -> String {
        match self {
            CellQuery::Negative { .. } => "type it without the minus, or leave the cell blank".into(),
            CellQuery::Date { .. } => "format the column as text and type the value again".into(),
            CellQuery::Zero { .. } => "measure it, or leave the cell blank".into(),
            CellQuery::Error { .. } => "correct the cell's formula, or type the value".into(),
            CellQuery::NoResult { .. } => {
                "save the workbook from a spreadsheet program, which stores results, or type the value".into()
            }
            CellQuery::UnknownWord { nearest: Some(nearest), .. } => did_you_mean(nearest),
            CellQuery::UnknownWord { nearest: None, .. } => "write one of these words, in any case".into(),
            CellQuery::OutOfBounds { .. } => "look for a slip of a digit, or for the wrong unit".into(),
            CellQuery::Ambiguous { .. } => {
                "leave out the mark between thousands and name the unit, as in 2692 mm or 105 1/2 in".into()
            }
            CellQuery::WidthOrHeight { .. } => {
                format!("write {} or {} in the heading", WIDTH_BY_HEIGHT.name, HEIGHT_BY_WIDTH.name)
            }
            CellQuery::Shorthand { .. } => {
                "write both lengths in full with their unit, as in 72 in x 80 in".into()
            }
            CellQuery::Doubtful { .. } => "measure it, and write the length alone".into(),
            CellQuery::Unreadable { expected, .. } => expected.hint().into(),
        }
    }
}

impl Expected {
    fn hint(self) -> &'static str {
        match self {
            Expected::Text => "write a text",
            Expected::Length => "write a number, alone or with its unit, as in 105 1/2 in or 2692 mm",
            Expected::Pair => "write two lengths with an x between them, as in 900 mm x 2100 mm",
            Expected::Whole => "write a number without decimals",
            Expected::Number => "write a number, as in 1.5",
            Expected::Percent => "write a number of per cent, as in 8.25",
            Expected::Money => "write the amount as a number, as in 45.00",
            Expected::Date => "write year, month and day, as in 2026-03-31",
        }
    }
}
