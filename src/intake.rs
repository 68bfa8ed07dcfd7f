//! Which files of a command line are read as surveys, and which are left out, each with its reason.
//!
//! A person names files one by one, or a shell or a folder names all that lie together. A file named
//! alone is meant, so it is read whatever its name, and what is wrong with it is an error. Among
//! several lie things that no one means: those are left out with a note. What looks like a survey is
//! never left out, be it empty or damaged: then it is an error here too, for its openings would be
//! missing from the order.
//!
//! A fit-out is known by the sheets that every fit-out has, whatever its name. A folder is looked
//! into only if folders alone are named, and never a folder inside it.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use thiserror::Error;

use crate::grid::{self, FORMATS, plainly};
use crate::query::Wording;
use crate::workbook::{FIT_OUT_ONLY, FIT_OUT_SHEETS};

/// Names that one message shows.
const NAMES_SHOWN: usize = 3;

/// What a command line comes to.
#[derive(Debug, Default, PartialEq, Eq)]
pub struct Intake {
    /// The surveys, in the order given; those of a folder by name. Never empty.
    pub surveys: Vec<PathBuf>,
    /// What is left out, in the same order.
    pub left_out: Vec<LeftOut>,
}

/// A file that is left out.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("{} is left out: {why}", .path.display())]
pub struct LeftOut {
    /// The file.
    pub path: PathBuf,
    /// Why.
    pub why: Why,
}

/// Why a file is left out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum Why {
    /// A spreadsheet program keeps it beside a workbook that it has open.
    #[error("it is the lock file of a workbook that is open")]
    Lock,
    /// Its name begins with a point.
    #[error("its name begins with a dot, so it is a hidden file")]
    Hidden,
    /// The system keeps it in a folder for itself.
    #[error("it is a system file")]
    System,
    /// Its name ends in no format that is read.
    #[error("it is not in a supported format")]
    OtherFormat,
    /// It is what a run wrote.
    #[error("it is a fit-out workbook, not a survey")]
    FitOut,
    /// It is named already.
    #[error("it is named twice")]
    Twice,
    /// A folder among files, or inside a folder.
    #[error("it is a folder")]
    Folder,
}

impl Wording for LeftOut {
    fn hint(&self) -> String {
        match self.why {
            Why::Lock => "save and close that workbook first, so that its latest version is read",
            Why::OtherFormat => "if it is a survey, save it as .xlsx",
            Why::Folder => "if it has surveys in it, name their files, or run that folder alone",
            Why::FitOut | Why::Hidden | Why::System | Why::Twice => "",
        }
        .into()
    }
}

/// Why there is nothing to read.
#[derive(Debug, Error)]
pub enum IntakeError {
    /// A folder cannot be looked into.
    #[error("{} cannot be opened: {}", .folder.display(), plainly(.reason))]
    Folder {
        /// The folder.
        folder: PathBuf,
        /// Why.
        reason: io::Error,
    },
    /// Nothing that was named is a survey.
    #[error("there is no survey in {}", named(.paths))]
    NoSurvey {
        /// What was named.
        paths: Vec<PathBuf>,
        /// What was found there.
        left_out: Vec<LeftOut>,
    },
    /// The one file that was named is what a run wrote.
    #[error("{} is a fit-out workbook, not a survey", .path.display())]
    FitOut {
        /// The file.
        path: PathBuf,
    },
}

impl Wording for IntakeError {
    fn hint(&self) -> String {
        match self {
            IntakeError::Folder { .. } => "check the name, and that you may read it".into(),
            IntakeError::NoSurvey { .. } => format!("a survey's name ends in one of {}", FORMATS.join(", ")),
            IntakeError::FitOut { .. } => "give the survey that it was made from".into(),
        }
    }
}

/// The first few of the names, and how many more there are.
fn named(paths: &[PathBuf]) -> String {
    let names = paths.iter().take(NAMES_SHOWN).map(|path| path.display().to_string());
    let more = paths.len().checked_sub(NAMES_SHOWN).filter(|more| *more > 0);
    names.chain(more.map(|more| format!("{more} more"))).collect::<Vec<_>>().join(", ")
}

/// Finds the surveys of a command line. A folder stands for the files in it, by name, if only
/// folders are named: among files it is more likely swept up with them.
///
/// # Errors
/// [`IntakeError`], where nothing is left to read.
pub fn find(paths: &[PathBuf]) -> Result<Intake, IntakeError> {
    if let [file] = paths
        && !file.is_dir()
    {
        return match is_fit_out(file) {
            true => Err(IntakeError::FitOut { path: file.clone() }),
            false => Ok(Intake { surveys: vec![file.clone()], left_out: Vec::new() }),
        };
    }
    let mut found = Vec::new();
    if paths.iter().all(|path| path.is_dir()) {
        for folder in paths {
            found.extend(files_in(folder)?);
        }
    } else {
        found.extend_from_slice(paths);
    }
    let mut intake = Intake::default();
    let mut known = Vec::new();
    for path in found {
        // A file that is not there stays, for the reader to say so.
        let place = path.canonicalize().unwrap_or_else(|_| path.clone());
        let why = match by_name(&path) {
            _ if path.is_dir() => Some(Why::Folder),
            Some(why) => Some(why),
            None if known.contains(&place) => Some(Why::Twice),
            None => is_fit_out(&path).then_some(Why::FitOut),
        };
        match why {
            Some(why) => intake.left_out.push(LeftOut { path, why }),
            None => intake.surveys.push(path),
        }
        known.push(place);
    }
    if intake.surveys.is_empty() {
        return Err(IntakeError::NoSurvey { paths: paths.to_vec(), left_out: intake.left_out });
    }
    Ok(intake)
}

/// What stands in a folder, by name.
fn files_in(folder: &Path) -> Result<Vec<PathBuf>, IntakeError> {
    let entries = fs::read_dir(folder).and_then(Iterator::collect::<io::Result<Vec<_>>>);
    let entries = entries.map_err(|reason| IntakeError::Folder { folder: folder.to_owned(), reason })?;
    let mut files: Vec<PathBuf> = entries.into_iter().map(|entry| entry.path()).collect();
    files.sort();
    Ok(files)
}

/// What a name alone shows to be no survey.
fn by_name(path: &Path) -> Option<Why> {
    let name = path.file_name().unwrap_or_default().to_string_lossy().to_lowercase();
    if name.starts_with("~$") || (name.starts_with(".~lock.") && name.ends_with('#')) {
        Some(Why::Lock)
    } else if name.starts_with('.') {
        Some(Why::Hidden)
    } else if ["thumbs.db", "ehthumbs.db", "desktop.ini"].contains(&name.as_str()) {
        Some(Why::System)
    } else if FORMATS.iter().any(|ending| name.ends_with(ending)) {
        None
    } else {
        Some(Why::OtherFormat)
    }
}

/// The part of a workbook that lists its sheets.
const LIST_OF_SHEETS: &str = "xl/workbook.xml";
/// Most of a workbook's list of sheets that is looked at: a fit-out names its own sheets first and
/// those of at most 1,000 units after them.
const MOST_LIST_BYTES: u64 = 1 << 20;

/// What a file is, to a run that would replace it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Workbook {
    /// A fit-out.
    FitOut,
    /// It has a sheet that only a fit-out has, but not all of them: somebody has changed it.
    PartOfOne,
    /// It may be one, but cannot be opened: it is damaged, or locked with a password.
    Unreadable,
    /// Anything else, or nothing.
    Other,
}

/// What a file is, by the sheets that it has, whatever its name. What cannot be opened and is not named
/// as a workbook, or is no file, is something else; the reader says what is wrong with it.
pub fn workbook(path: &Path) -> Workbook {
    let Some(list) = grid::part(path, LIST_OF_SHEETS, MOST_LIST_BYTES) else {
        let is_named_so = path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("xlsx"));
        return if is_named_so && grid::begins_as_workbook(path) {
            Workbook::Unreadable
        } else {
            Workbook::Other
        };
    };
    let list = String::from_utf8_lossy(&list);
    let is_listed = |sheet: &&str| list.contains(&format!("name=\"{sheet}\""));
    match (FIT_OUT_SHEETS.iter().all(is_listed), FIT_OUT_ONLY.iter().any(is_listed)) {
        (true, _) => Workbook::FitOut,
        (false, true) => Workbook::PartOfOne,
        (false, false) => Workbook::Other,
    }
}

fn is_fit_out(path: &Path) -> bool {
    workbook(path) == Workbook::FitOut
}

#[cfg(test)]
mod tests {
    use super::{Why, by_name};

    #[test]
    fn a_name_shows_what_is_no_survey() {
        for (name, why) in [
            ("~$block-a.xlsx", Some(Why::Lock)),
            (".~lock.block-a.ods#", Some(Why::Lock)),
            (".~lock.block-a.xlsx#", Some(Why::Lock)),
            (".block-a.xlsx", Some(Why::Hidden)),
            (".DS_Store", Some(Why::Hidden)),
            ("Thumbs.db", Some(Why::System)),
            ("Desktop.INI", Some(Why::System)),
            ("plan.pdf", Some(Why::OtherFormat)),
            ("xlsx", Some(Why::OtherFormat)),
            ("block-a.xlsx.bak", Some(Why::OtherFormat)),
            // Near misses: an odd name that a person may give.
            ("BLOCK-A.XLSX", None),
            ("~block-a.xlsx", None),
            ("$block.xlsx", None),
            ("block-a-fitout.xlsx", None),
            ("block a.xlsm", None),
        ] {
            assert_eq!(by_name(std::path::Path::new(name)), why, "{name}");
        }
    }
}
