//! Why a survey file could not be read at all.

use std::io;

use thiserror::Error;

use super::limits;
use crate::place::{MOST_COLUMNS, MOST_ROWS};

/// A file that could not be turned into cells.
#[derive(Debug, Error)]
#[error("{file} {problem}")]
pub struct GridError {
    /// The file as it was named.
    pub file: String,
    /// What is wrong with it.
    pub problem: Problem,
}

impl GridError {
    /// What to do about it.
    pub fn hint(&self) -> &'static str {
        match self.problem {
            Problem::UnknownFormat => "save it as .xlsx",
            Problem::Unopened(_) => "check its name, and that no other program holds it",
            Problem::Locked => "save it as .xlsx without a password",
            Problem::OpenQuote { .. } => {
                "close it at the end of its cell, or write it twice if it is an inch mark"
            }
            Problem::NotAWorkbook { .. }
            | Problem::Damaged { .. }
            | Problem::TooOld
            | Problem::Markup
            | Problem::NotText
            | Problem::Failed => "open it in a spreadsheet program and save it again as .xlsx",
            Problem::OutsideGrid { .. } => {
                "delete that cell, or save the workbook from a spreadsheet program"
            }
            Problem::TooManyParts { .. }
            | Problem::TooLarge { .. }
            | Problem::TooLargeInAll
            | Problem::TooLargeAFile
            | Problem::Swollen { .. }
            | Problem::TooManyCells
            | Problem::TooMuchText
            | Problem::TooManySheets => "copy the survey's sheets into a new workbook",
        }
    }
}

/// What is wrong with a file, as the words that follow its name.
#[derive(Debug, Error)]
pub enum Problem {
    /// Its name does not end in a format that is read.
    #[error("is not in a format that is read ({})", super::FORMATS.join(", "))]
    UnknownFormat,
    /// The system would not open it.
    #[error("cannot be opened: {0}")]
    Unopened(#[from] io::Error),
    /// Its cells are encrypted.
    #[error("is protected by a password")]
    Locked,
    /// It is no zip archive, or one without a workbook inside.
    #[error("is not a workbook: {reason}")]
    NotAWorkbook {
        /// What the reader found.
        reason: String,
    },
    /// A part of it breaks off or contradicts itself.
    #[error("is damaged in its part {part}: {reason}")]
    Damaged {
        /// The part inside the file.
        part: String,
        /// What the reader found.
        reason: String,
    },
    /// A cell's address lies beyond the last row or column.
    #[error(
        "has a cell outside the {MOST_ROWS} rows and {MOST_COLUMNS} columns of a sheet: {address} on {sheet}"
    )]
    OutsideGrid {
        /// The sheet's name.
        sheet: String,
        /// The address as written, or where the cell was counted to be.
        address: String,
    },
    /// A workbook from before 1993.
    #[error("is a workbook in a format of before 1993")]
    TooOld,
    /// A web page or another document in XML, whatever its name says.
    #[error("is a web page or an XML document, and no workbook")]
    Markup,
    /// It should be a text and holds what no text does.
    #[error("is not a text: it holds a zero byte")]
    NotText,
    /// A cell of a table of text that nothing ends.
    #[error("opens a quotation mark in row {row} that nothing closes")]
    OpenQuote {
        /// Row, from 1.
        row: u64,
    },
    /// More parts than any survey has.
    #[error("holds {found} parts; at most {} are read", limits::MOST_PARTS)]
    TooManyParts {
        /// How many there are.
        found: usize,
    },
    /// One part is too large.
    #[error("unpacks its part {part} to {bytes} bytes; at most {} are read", limits::MOST_PART_BYTES)]
    TooLarge {
        /// The part inside the file.
        part: String,
        /// Its declared size.
        bytes: u64,
    },
    /// The file itself is too large.
    #[error("is larger than {} bytes", limits::MOST_FILE_BYTES)]
    TooLargeAFile,
    /// All parts together are too large.
    #[error("unpacks to more than {} bytes", limits::MOST_BYTES)]
    TooLargeInAll,
    /// A large part is squeezed as only nonsense can be.
    #[error("holds a part {part} squeezed more than {} to 1, as no survey is", limits::MOST_RATIO)]
    Swollen {
        /// The part inside the file.
        part: String,
    },
    /// More cells than are read.
    #[error("holds more than {} cells", limits::MOST_CELLS)]
    TooManyCells,
    /// More text than is read.
    #[error("holds more than {} bytes of text", limits::MOST_TEXT_BYTES)]
    TooMuchText,
    /// More sheets in the run than can be told apart.
    #[error("has too many sheets")]
    TooManySheets,
    /// The reader itself failed on it.
    #[error("made the reader fail")]
    Failed,
}

impl Problem {
    /// A part that another one names, and the file does not hold.
    pub(super) fn missing(part: &str) -> Problem {
        Problem::Damaged { part: part.to_owned(), reason: "it is missing".into() }
    }
}

/// Why a part of a file cannot be read on.
#[derive(Debug)]
pub(super) enum Damage {
    /// It contradicts itself, or breaks off.
    Broken(String),
    /// It is past a limit that names its own place.
    Limit(Problem),
}

impl Damage {
    /// A part that ends before it should.
    pub(super) fn breaks_off() -> Damage {
        Damage::Broken("it breaks off".into())
    }

    pub(super) fn in_part(self, part: &str) -> Problem {
        match self {
            Damage::Broken(reason) => Problem::Damaged { part: part.to_owned(), reason },
            Damage::Limit(problem) => problem,
        }
    }
}

impl From<Problem> for Damage {
    fn from(problem: Problem) -> Damage {
        Damage::Limit(problem)
    }
}

impl From<quick_xml::Error> for Damage {
    fn from(error: quick_xml::Error) -> Damage {
        Damage::Broken(error.to_string())
    }
}

impl From<quick_xml::events::attributes::AttrError> for Damage {
    fn from(error: quick_xml::events::attributes::AttrError) -> Damage {
        Damage::Broken(error.to_string())
    }
}

impl From<io::Error> for Damage {
    fn from(error: io::Error) -> Damage {
        Damage::Broken(error.to_string())
    }
}
