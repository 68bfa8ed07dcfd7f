//! Why a survey file could not be read at all.

use std::io;

use thiserror::Error;

use super::guard;
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
            Problem::NotAWorkbook { .. } | Problem::Damaged { .. } | Problem::Failed => {
                "open it in a spreadsheet program and save it again as .xlsx"
            }
            Problem::OutsideGrid { .. } => {
                "delete that cell, or save the workbook from a spreadsheet program"
            }
            Problem::TooManyParts { .. }
            | Problem::TooLarge { .. }
            | Problem::TooLargeInAll
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
    /// It is in the container of encrypted workbooks, which is also that of workbooks up to 2003.
    #[error("is protected by a password, or not a workbook of the kind that its name says")]
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
    /// More parts than any survey has.
    #[error("holds {found} parts; at most {} are read", guard::MOST_PARTS)]
    TooManyParts {
        /// How many there are.
        found: usize,
    },
    /// One part is too large.
    #[error("unpacks its part {part} to {bytes} bytes; at most {} are read", guard::MOST_PART_BYTES)]
    TooLarge {
        /// The part inside the file.
        part: String,
        /// Its declared size.
        bytes: u64,
    },
    /// All parts together are too large.
    #[error("unpacks to more than {} bytes", guard::MOST_BYTES)]
    TooLargeInAll,
    /// A large part is squeezed as only nonsense can be.
    #[error("holds a part {part} squeezed more than {} to 1, as no survey is", guard::MOST_RATIO)]
    Swollen {
        /// The part inside the file.
        part: String,
    },
    /// More cells than are read.
    #[error("holds more than {} cells", guard::MOST_CELLS)]
    TooManyCells,
    /// More text than is read.
    #[error("holds more than {} bytes of text", guard::MOST_TEXT_BYTES)]
    TooMuchText,
    /// More sheets in the run than can be told apart.
    #[error("has too many sheets")]
    TooManySheets,
    /// The reader itself failed on it.
    #[error("made the reader fail")]
    Failed,
}
