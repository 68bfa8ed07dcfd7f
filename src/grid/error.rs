//! Why a survey file could not be read at all.

use std::io::{self, ErrorKind};

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
        match &self.problem {
            Problem::UnknownFormat => "save it as .xlsx",
            Problem::Unopened(error) if error.kind() == ErrorKind::NotFound => {
                "check the name and the folder"
            }
            Problem::Unopened(_) => "check that you may read it and that no other program has it open",
            Problem::Folder => "give the name of a survey in it",
            Problem::NoFile => "save what comes from it as a file, and give that file's name",
            Problem::Locked => "save it as .xlsx without a password",
            Problem::OpenQuote { .. } => {
                "close it at the end of its cell, or write it twice if it is an inch mark"
            }
            Problem::Empty => "save the survey again, or get another copy",
            Problem::Incomplete | Problem::Damaged { .. } | Problem::Failed => {
                "open it in a spreadsheet program and save it again as .xlsx, or get another copy"
            }
            Problem::NotAWorkbook | Problem::TooOld | Problem::Markup | Problem::NotText => {
                "open it in a spreadsheet program and save it as .xlsx"
            }
            Problem::OutsideGrid { .. } => {
                "delete that cell, or open the file in a spreadsheet program and save it again"
            }
            Problem::TooManyParts { .. }
            | Problem::TooLarge { .. }
            | Problem::TooLargeInAll
            | Problem::TooLargeAFile { .. }
            | Problem::Swollen { .. }
            | Problem::TooManyCells
            | Problem::TooMuchText
            | Problem::TooManySheets => "copy the survey's sheets alone into a new workbook",
        }
    }
}

/// What is wrong with a file, as the words that follow its name.
#[derive(Debug, Error)]
pub enum Problem {
    /// Its name does not end in a format that is read.
    #[error("is not in a supported format ({})", super::FORMATS.join(", "))]
    UnknownFormat,
    /// The system would not open it.
    #[error("{}", unopened(.0))]
    Unopened(#[from] io::Error),
    /// It is no file.
    #[error("is a folder, not a file")]
    Folder,
    /// It is a pipe, a device or a socket.
    #[error("is a pipe or a device, not a file")]
    NoFile,
    /// It holds no byte.
    #[error("is empty")]
    Empty,
    /// Its cells are encrypted.
    #[error("is protected by a password")]
    Locked,
    /// It is no zip archive of a workbook, no compound file with one and no evident table of text.
    #[error("is not a workbook, whatever its name says")]
    NotAWorkbook,
    /// It is a zip archive whose table of contents is not there or contradicts itself.
    #[error("is incomplete or damaged")]
    Incomplete,
    /// A part of it breaks off or contradicts itself.
    #[error("is incomplete or damaged in its part {part}: {reason}")]
    Damaged {
        /// The part inside the file.
        part: String,
        /// What the reader found, in words of ours.
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
    #[error("is a workbook in a pre-1993 format")]
    TooOld,
    /// A web page or another document in XML, whatever its name says.
    #[error("is a web page or an XML file, not a workbook")]
    Markup,
    /// It should be a text and holds what no text does.
    #[error("is not a text file (it contains a zero byte)")]
    NotText,
    /// A cell of a table of text that nothing ends.
    #[error("has a quotation mark in row {row} that is never closed")]
    OpenQuote {
        /// Row, from 1.
        row: u64,
    },
    /// More parts than any survey has.
    #[error("is too large: it has {found} parts inside, and the limit is {}", limits::MOST_PARTS)]
    TooManyParts {
        /// How many there are.
        found: usize,
    },
    /// One part is too large.
    #[error(
        "is too large: its part {part} unpacks to {bytes} bytes, and the limit is {}",
        limits::MOST_PART_BYTES
    )]
    TooLarge {
        /// The part inside the file.
        part: String,
        /// Its declared size.
        bytes: u64,
    },
    /// The file itself is too large.
    #[error("is too large: the limit is {limit} bytes")]
    TooLargeAFile {
        /// The limit of files of its kind.
        limit: u64,
    },
    /// All parts together are too large.
    #[error("is too large: it unpacks to more than {} bytes", limits::MOST_BYTES)]
    TooLargeInAll,
    /// A large part is squeezed as only nonsense can be.
    #[error("has a part {part} compressed more than {} to 1, which no survey is", limits::MOST_RATIO)]
    Swollen {
        /// The part inside the file.
        part: String,
    },
    /// More cells than are read.
    #[error("is too large: it has more than {} cells", limits::MOST_CELLS)]
    TooManyCells,
    /// More text than is read.
    #[error("is too large: it has more than {} bytes of text", limits::MOST_TEXT_BYTES)]
    TooMuchText,
    /// More sheets in the run than can be told apart.
    #[error("has too many sheets")]
    TooManySheets,
    /// The reader itself failed on it.
    #[error("could not be read")]
    Failed,
}

/// Why the system would not open a file.
fn unopened(error: &io::Error) -> String {
    match error.kind() {
        ErrorKind::NotFound => "does not exist".into(),
        _ => format!("cannot be opened: {}", plainly(error)),
    }
}

/// Why the system refuses, in our words; where they fail us in its own, without their number.
pub(crate) fn plainly(error: &io::Error) -> String {
    match error.kind() {
        ErrorKind::NotFound => "it does not exist".into(),
        ErrorKind::PermissionDenied => "permission denied".into(),
        ErrorKind::StorageFull => "the disk is full".into(),
        ErrorKind::QuotaExceeded => "no more may be written to the disk".into(),
        ErrorKind::FileTooLarge => "a file may not be that large there".into(),
        ErrorKind::AlreadyExists => "it already exists".into(),
        ErrorKind::ReadOnlyFilesystem => "the disk is read-only".into(),
        _ => error.to_string().split(" (os ").next().unwrap_or_default().to_owned(),
    }
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
        Damage::Broken("it ends early".into())
    }

    /// A part whose packed bytes give nothing.
    pub(super) fn does_not_unpack() -> Damage {
        Damage::Broken("it cannot be unpacked".into())
    }

    /// A part whose XML is none.
    fn malformed() -> Damage {
        Damage::Broken("its XML is malformed".into())
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

/// What a library says of a fault tells a person nothing; which part has it does.
impl From<quick_xml::Error> for Damage {
    fn from(error: quick_xml::Error) -> Damage {
        match error {
            quick_xml::Error::Io(_) => Damage::does_not_unpack(),
            _ => Damage::malformed(),
        }
    }
}

impl From<quick_xml::events::attributes::AttrError> for Damage {
    fn from(_: quick_xml::events::attributes::AttrError) -> Damage {
        Damage::malformed()
    }
}

impl From<io::Error> for Damage {
    fn from(_: io::Error) -> Damage {
        Damage::does_not_unpack()
    }
}
