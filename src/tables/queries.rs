//! What is odd about a sheet as a whole, and why a cell says nothing.

use std::fmt::{self, Display};

use thiserror::Error;

use super::bands::HEADING_ROWS;
use super::{Fault, Unread};
use crate::query::{Asks, Entry, Fills, Severity, Wording, did_you_mean_or, queries};
use crate::schema::headings::{HEADINGS, NOT_NEEDED};
use crate::schema::openings::{HEIGHT_BY_WIDTH, OPENINGS, TYPES, WIDTH_BY_HEIGHT};
use crate::schema::{Column, Table};

/// Every query of this room.
pub(crate) const QUERIES: &[&[Entry]] = &[SheetQuery::ENTRIES, CellQuery::ENTRIES];

queries! {
    /// A doubt about a sheet's headings or items.
    pub(super) enum SheetQuery {
        HeadingUnread { written: String, nearest: &'static str }: Check, "heading-unread", fills &HEADINGS,
            "\"{written}\" is not read; it looks like {nearest}"
            => "answer with the column that it is, or with {NOT_NEEDED}";
        HeadingDecides { written: String, nearest: &'static str }: Stop, "heading-decides", fills &HEADINGS,
            "\"{written}\" is not read; it may be {nearest}, which the table does not have"
            => "answer with the column that it is, or with {NOT_NEEDED}; or rename the heading";
        HeadingOverLengths { written: String }: Check, "heading-over-lengths", fills &HEADINGS,
            "\"{written}\" is not read, and there are lengths under it"
            => "answer with the column that it is, or with {NOT_NEEDED}";
        Doubled { first: String, second: String, name: &'static str }: Check, "column-twice",
            "\"{first}\" and \"{second}\" both look like {name}"
            => "\"{first}\" is used; delete or rename one of them";
        SaidTwice { first: String, second: String, name: &'static str }: Stop, "heading-said-twice", fills &HEADINGS,
            "\"{first}\" and \"{second}\" are both said to be {name}"
            => "say of one of them what else it is, or {NOT_NEEDED}";
        HiddenRows: Note, "hidden-rows",
            "hidden rows are read like any others"
            => "unhide them and check; delete rows that need no blinds";
        HiddenColumns: Note, "hidden-columns",
            "hidden columns are read like any others"
            => "unhide them and check; clear columns that are out of date";
        TypesWithoutHeadings: Check, "types-without-headings",
            "{TYPES} has no row of headings in its first {HEADING_ROWS} rows"
            => "use the headings from a blank survey";
        // What someone filled in must not become the default in silence.
        RulesWithoutHeadings { table: &'static str }: Stop, "rules-without-headings",
            "{table} has no row of headings in its first {HEADING_ROWS} rows"
            => "use the headings from a blank survey";
        UnknownItem { written: String, table: &'static str, nearest: Option<String> }: Check, "unknown-item",
            "\"{written}\" is not an item of {table}"
            => "{}", did_you_mean_or(nearest.as_deref(), "use the name from a blank survey");
    }
}

queries! {
    /// Why a cell says nothing: a stop, unless the stage that reads it can do without.
    pub(super) enum CellQuery {
        Negative { column: &'static str }: Stop, "negative",
            "{column} is negative" => "measure it again, or leave the cell blank";
        Date { column: &'static str }: Stop, "date-in-cell",
            "{column} contains a date" => "format the column as text and type the value again";
        Zero { column: &'static str }: Stop, "zero-size",
            "{column} is 0, which is not a size" => "measure it, or leave the cell blank";
        Error { column: &'static str }: Stop, "error-in-cell",
            "{column} contains an error" => "correct the cell's formula, or type the value";
        NoResult { column: &'static str }: Stop, "formula-without-result",
            "{column} has a formula without a stored result"
            => "open and save the file in a spreadsheet program, or type the value";
        UnknownWord { column: &'static str, words: &'static [&'static str], nearest: Option<&'static str> }:
            Stop, "unknown-word",
            "{column} must be one of {}", words.join(", ")
            => "{}", did_you_mean_or(*nearest, "enter one of these words; capitals do not matter");
        OutOfBounds { column: &'static str, least: String, most: String, likely: Option<&'static str> }:
            Stop, "out-of-bounds",
            "{column} must be from {least} to {most}" => "{}", in_unit(*likely);
        Ambiguous { column: &'static str }: Stop, "ambiguous",
            "{column} can be read in more than one way"
            => "leave out the thousands separator and give the unit, as in 2692 mm or 105 1/2 in";
        WidthOrHeight { column: &'static str }: Stop, "width-or-height",
            "{column} does not say which of its two lengths is the width"
            => "change the heading to {} or {}", WIDTH_BY_HEIGHT.name, HEIGHT_BY_WIDTH.name;
        Shorthand { column: &'static str }: Stop, "shorthand",
            "{column} is written in shorthand"
            => "enter both lengths in full with their unit, as in 72 in x 80 in";
        Doubtful { column: &'static str }: Stop, "approximate",
            "{column} is only approximate" => "measure it, and enter only the length";
        Unreadable { column: &'static str, expected: Expected }: Stop, "unreadable",
            "{column} cannot be read as {expected}" => "{}", expected.hint();
    }
}

fn in_unit(likely: Option<&str>) -> String {
    match likely {
        Some(unit) => format!("the number is probably in {unit}: enter it with its unit, or measure again"),
        None => "check for a mistyped digit or the wrong unit".into(),
    }
}

impl SheetQuery {
    /// A sheet that is filled in, but not under headings.
    pub(super) fn no_headings(table: &'static Table) -> SheetQuery {
        // The one sheet of openings or types that is read whole by its name.
        match table.sheet == OPENINGS.sheet {
            true => SheetQuery::TypesWithoutHeadings,
            false => SheetQuery::RulesWithoutHeadings { table: table.sheet },
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
    #[error("the thickness of a steel stud")]
    SteelThickness,
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
    #[error("dates")]
    Dates,
}

impl Expected {
    fn hint(self) -> &'static str {
        match self {
            Expected::Text => "enter text",
            Expected::Length => "enter a number, with or without its unit, as in 105 1/2 in or 2692 mm",
            Expected::Pair => "enter two lengths with an x between them, as in 900 mm x 2100 mm",
            Expected::Whole => "enter a whole number, as in 12",
            Expected::SteelThickness => {
                "enter what the stud is stamped with in mil, not its gauge, as in 33 mil, or a length, as in 0.9 mm"
            }
            Expected::Number => "enter a number, as in 1.5",
            Expected::Percent => "enter a percentage, as in 8.25",
            Expected::Money => "enter the amount as a number, as in 45.00",
            Expected::Date => "enter year, month and day, as in 2026-03-31",
            Expected::Dates => "enter each as year, month and day, with commas, as in 2026-12-24, 2026-12-25",
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

    fn fills(&self) -> Option<&'static str> {
        self.column.map(Fills::fills)
    }
}
