//! Puts the files of a run in place: all of them whole, or none.
//!
//! Every file is first written under a temporary name in the folder where it belongs, and takes
//! its own name only when all of them are there. A folder that is not there yet is made then too, so that
//! it never stands without its files; until then they wait beside it.
//!
//! A fit-out in which people typed, or that took up another, is the memory of its job. Nothing replaces it
//! but the fit-out of a run that takes it up; a damaged workbook may be one, and is kept as well.

mod temporary;

pub use crate::breaking::Breaking;
use crate::breaking::TemporaryFault;

use std::collections::BTreeSet;
use std::env;
use std::error::Error;
use std::fs::{self, File};
use std::io::{self, BufWriter, Write};
use std::path::{Path, PathBuf};

use tempfile::{NamedTempFile, TempPath};

use crate::earlier;
use crate::grid::{self, plainly};
use crate::intake::{self, Workbook};
use crate::place::Sheets;
use crate::query::Wording;

/// What happens to a file that is there already.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Existing {
    /// It is kept, and the run refused.
    Keep,
    /// It is replaced.
    Replace,
}

/// Why a file could not be written. Nothing of the run is left behind.
#[derive(Debug, thiserror::Error)]
pub enum OutputError {
    /// The file is there already.
    #[error("{} already exists", .target.display())]
    Exists {
        /// The file.
        target: PathBuf,
    },
    /// The file is a survey that this run reads.
    #[error("{} is a survey of this run; a survey is never overwritten", .target.display())]
    IsSurvey {
        /// The file.
        target: PathBuf,
    },
    /// The file is the earlier fit-out that this run takes up, and the output is no fit-out.
    #[error("{} is the earlier fit-out of this run; only the new fit-out may replace it", .target.display())]
    IsEarlier {
        /// The file.
        target: PathBuf,
    },
    /// The file is a fit-out that remembers what this run would lose.
    #[error("{} is kept: this run would lose {}", .target.display(), .lost.join(", "))]
    Remembers {
        /// The file.
        target: PathBuf,
        /// What it remembers, in words.
        lost: Vec<String>,
    },
    /// The file may be such a fit-out, but cannot be read.
    #[error("{} is kept: it cannot be read, so nobody knows what is typed in it", .target.display())]
    Damaged {
        /// The file.
        target: PathBuf,
    },
    /// Two outputs would have one name.
    #[error("{} is given as the name of two outputs", .target.display())]
    Twice {
        /// The file.
        target: PathBuf,
    },
    /// A folder stands where the file belongs.
    #[error("{} is a folder, not a file", .target.display())]
    IsFolder {
        /// The file.
        target: PathBuf,
    },
    /// A pipe, a device or a socket stands where the file belongs.
    #[error("{} is a pipe or a device, not a file", .target.display())]
    NoFile {
        /// What was named.
        target: PathBuf,
    },
    /// A file stands where the folder belongs.
    #[error("{} is a file, not a folder", .target.display())]
    IsFile {
        /// The folder that was named.
        target: PathBuf,
    },
    /// The folder that the file belongs in is not there.
    #[error("{} cannot be written: there is no folder {}", .target.display(), .folder.display())]
    NoFolder {
        /// The file.
        target: PathBuf,
        /// Its folder.
        folder: PathBuf,
    },
    /// The folder in which a workbook is put together does not take it.
    #[error("{} cannot be written, for no temporary file can in {}: {fault}", .target.display(), .folder.display())]
    NoRoomToWork {
        /// The file.
        target: PathBuf,
        /// The system's folder for temporary files.
        folder: PathBuf,
        /// Why.
        fault: String,
    },
    /// The file could not be written or put in place.
    #[error("{} cannot be written: {reason}", .target.display())]
    Unwritable {
        /// The file.
        target: PathBuf,
        /// Why, in words for a person.
        reason: String,
    },
}

impl Wording for OutputError {
    fn hint(&self) -> String {
        match self {
            OutputError::Exists { .. } => "choose another name, or move that file; run --force overwrites it",
            OutputError::Remembers { target, .. } => {
                return format!("to go on from it, run with --after \"{}\"; else choose another name", target.display());
            }
            OutputError::Damaged { .. } => "choose another name, or move that file",
            OutputError::IsSurvey { .. }
            | OutputError::IsEarlier { .. }
            | OutputError::Twice { .. }
            | OutputError::NoFile { .. } => "choose another name",
            OutputError::IsFolder { .. } => "give the name of a file in it",
            OutputError::IsFile { .. } => "choose another folder",
            OutputError::NoFolder { .. } => "create the folder first, or choose another",
            OutputError::NoRoomToWork { .. } => {
                "check that it is there and has free space, or name another folder in TMPDIR (on Windows in TMP)"
            }
            OutputError::Unwritable { .. } => "check that you may write there, that the disk has space, and that no program has the file open",
        }
        .into()
    }
}

/// The places of a run's files, found fit to be written to before the work begins.
#[derive(Debug)]
pub struct Places {
    existing: Existing,
    files: Vec<PathBuf>,
    /// A folder that is made with the files in it, if it is not there.
    folder: Option<PathBuf>,
    /// The earlier fit-out that the run takes up.
    earlier: Option<PathBuf>,
}

/// What an output is, to a fit-out that is there already.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Output {
    /// The fit-out, which has all of the one that is taken up.
    FitOut,
    /// Anything else.
    Other,
}

impl Places {
    /// Places for files; none yet.
    pub fn new(existing: Existing) -> Places {
        Places { existing, files: Vec::new(), folder: None, earlier: None }
    }

    /// The same for a run that takes up this earlier fit-out, if there is one.
    pub fn after(self, earlier: Option<&Path>) -> Places {
        Places { earlier: earlier.map(Path::to_owned), ..self }
    }

    /// Adds the fit-out, which may replace the one that is taken up.
    ///
    /// # Errors
    /// As [`Places::file`].
    pub fn fit_out(&mut self, target: &Path, surveys: &[PathBuf]) -> Result<(), OutputError> {
        may_write_in(folder_of(target), target)?;
        self.enter(target, surveys, Output::FitOut)
    }

    /// Adds a file, which `surveys` must not hold.
    ///
    /// # Errors
    /// Every [`OutputError`]; a file that cannot be written is found here where that shows already.
    pub fn file(&mut self, target: &Path, surveys: &[PathBuf]) -> Result<(), OutputError> {
        may_write_in(folder_of(target), target)?;
        self.enter(target, surveys, Output::Other)
    }

    /// Adds the files of that name in a folder, which is made when they are written.
    ///
    /// # Errors
    /// As [`Places::file`].
    pub fn files_in(
        &mut self,
        folder: &Path,
        names: impl IntoIterator<Item = &'static str>,
        surveys: &[PathBuf],
    ) -> Result<(), OutputError> {
        if folder.is_dir() {
            may_write_in(folder, folder)?;
        } else if folder.symlink_metadata().is_ok() {
            return Err(OutputError::IsFile { target: folder.to_owned() });
        } else {
            may_write_in(folder_of(folder), folder)?;
            self.folder = Some(folder.to_owned());
        }
        names.into_iter().try_for_each(|name| self.enter(&folder.join(name), surveys, Output::Other))
    }

    fn enter(&mut self, target: &Path, surveys: &[PathBuf], output: Output) -> Result<(), OutputError> {
        let target = target.to_owned();
        let is_target = |other: &PathBuf| same_place(other, &target);
        if target.is_dir() {
            return Err(OutputError::IsFolder { target });
        }
        if target.exists() && !target.is_file() {
            return Err(OutputError::NoFile { target });
        }
        if surveys.iter().any(is_target) {
            return Err(OutputError::IsSurvey { target });
        }
        if self.files.iter().any(is_target) {
            return Err(OutputError::Twice { target });
        }
        let is_earlier = self.earlier.as_ref().is_some_and(is_target);
        match output {
            Output::FitOut if is_earlier => {}
            Output::Other if is_earlier => return Err(OutputError::IsEarlier { target }),
            Output::FitOut | Output::Other => may_be_lost(&target)?,
        }
        if self.existing == Existing::Keep && target.symlink_metadata().is_ok() {
            return Err(OutputError::Exists { target });
        }
        self.files.push(target);
        Ok(())
    }

    /// Starts writing, with what killed runs left in the same folders out of the way.
    pub fn begin(self) -> Outputs {
        let Places { existing, files, folder, .. } = self;
        let outputs = Outputs { existing, waiting: Vec::new(), folder };
        let homes: BTreeSet<&Path> = files.iter().map(|target| outputs.waits_in(target)).collect();
        // A folder that cannot be written in is found when a file is written there.
        homes.into_iter().for_each(|home| drop(temporary::remove_leftovers(home)));
        outputs
    }
}

/// Files that are written but not in place. Dropped, it leaves nothing behind.
#[derive(Debug)]
pub struct Outputs {
    existing: Existing,
    waiting: Vec<(NamedTempFile, PathBuf)>,
    /// A folder that is to be made.
    folder: Option<PathBuf>,
}

impl Outputs {
    /// Writes one file, under a temporary name.
    ///
    /// # Errors
    /// [`OutputError::Unwritable`], [`OutputError::NoRoomToWork`].
    pub fn write<E>(
        &mut self,
        target: &Path,
        write: impl FnOnce(&mut Breaking<BufWriter<&File>>) -> Result<(), E>,
    ) -> Result<(), OutputError>
    where
        E: Into<Box<dyn Error + Send + Sync>>,
    {
        let file = temporary::file_in(self.waits_in(target)).map_err(unwritable(target))?;
        let mut out = Breaking::new(BufWriter::new(file.as_file()));
        write(&mut out).map_err(|error| not_written(target, error.into()))?;
        let flushed = out.flush().and_then(|()| file.as_file().sync_all());
        drop(out);
        flushed.map_err(unwritable(target))?;
        self.waiting.push((file, target.to_owned()));
        Ok(())
    }

    /// The folder in which a file waits under its temporary name: its own, or the one above if that is
    /// still to be made.
    fn waits_in<'p>(&'p self, target: &'p Path) -> &'p Path {
        match folder_of(target) {
            folder if self.folder.as_deref() == Some(folder) => folder_of(folder),
            folder => folder,
        }
    }

    /// Gives every file its own name. If one cannot have it, those before it are taken back.
    ///
    /// # Errors
    /// [`OutputError::Unwritable`].
    pub fn put_in_place(self) -> Result<(), OutputError> {
        let mut placed = Placed::default();
        if let Some(folder) = &self.folder {
            fs::create_dir(folder).map_err(unwritable(folder))?;
            placed.made = self.folder;
        }
        for (file, target) in self.waiting {
            placed.put(file, target, self.existing)?;
        }
        placed.taken_back_by.clear();
        placed.made = None;
        Ok(())
    }
}

/// Files that have their own names, with what takes each back: its older self, if it had one.
#[derive(Debug, Default)]
struct Placed {
    taken_back_by: Vec<(PathBuf, Option<TempPath>)>,
    /// The folder that was made for them.
    made: Option<PathBuf>,
}

impl Placed {
    fn put(&mut self, file: NamedTempFile, target: PathBuf, existing: Existing) -> Result<(), OutputError> {
        let (older, put) = match existing {
            Existing::Keep => (None, file.persist_noclobber(&target)),
            Existing::Replace => {
                let older = copy_beside(&target).map_err(unwritable(&target))?;
                (older, file.persist(&target))
            }
        };
        put.map_err(|failed| failed.error).map_err(unwritable(&target))?;
        self.taken_back_by.push((target, older));
        Ok(())
    }
}

impl Drop for Placed {
    fn drop(&mut self) {
        for (target, older) in self.taken_back_by.drain(..).rev() {
            // There is no one left to tell; the error that led here is told already.
            let _ = match older {
                Some(older) => older.persist(&target).map_err(|error| error.error),
                None => fs::remove_file(&target),
            };
        }
        if let Some(folder) = &self.made {
            // What else stands in it by now is not ours, and then the folder stays.
            let _ = fs::remove_dir(folder);
        }
    }
}

/// A copy of the file in its folder, gone when it is dropped; `None` if there is no file.
fn copy_beside(target: &Path) -> io::Result<Option<TempPath>> {
    if !target.exists() {
        return Ok(None);
    }
    let copy = temporary::file_in(folder_of(target))?.into_temp_path();
    fs::copy(target, &copy)?;
    Ok(Some(copy))
}

/// Refuses to replace a fit-out that remembers what no other run has.
fn may_be_lost(target: &Path) -> Result<(), OutputError> {
    let damaged = || OutputError::Damaged { target: target.to_owned() };
    let lost = match intake::workbook(target) {
        Workbook::Other => return Ok(()),
        Workbook::Unreadable => return Err(damaged()),
        Workbook::PartOfOne => vec!["what somebody has changed in its sheets".to_owned()],
        Workbook::FitOut => {
            let mut sheets = Sheets::default();
            let grid = grid::read_earlier(target, &mut sheets, &earlier::is_read).map_err(|_| damaged())?;
            earlier::typed_in(&grid, &sheets)
        }
    };
    match lost.is_empty() {
        true => Ok(()),
        false => Err(OutputError::Remembers { target: target.to_owned(), lost }),
    }
}

fn may_write_in(folder: &Path, target: &Path) -> Result<(), OutputError> {
    if !folder.is_dir() {
        return Err(OutputError::NoFolder { target: target.to_owned(), folder: folder.to_owned() });
    }
    temporary::file_in(folder).map(drop).map_err(unwritable(target))
}

/// What came of writing a file. That a temporary file failed, a workbook says with what it fails of.
fn not_written(target: &Path, error: Box<dyn Error + Send + Sync>) -> OutputError {
    if let Some(fault) = error.source().and_then(|source| source.downcast_ref::<TemporaryFault>()) {
        let (folder, fault) = (env::temp_dir(), fault.to_string());
        return OutputError::NoRoomToWork { target: target.to_owned(), folder, fault };
    }
    match error.downcast::<io::Error>() {
        Ok(error) => unwritable(target)(*error),
        Err(other) => OutputError::Unwritable { target: target.to_owned(), reason: other.to_string() },
    }
}

fn unwritable(target: &Path) -> impl Fn(io::Error) -> OutputError {
    let target = target.to_owned();
    move |error| OutputError::Unwritable { target: target.clone(), reason: plainly(&error) }
}

/// The folder of a file; `.` for a bare name.
fn folder_of(target: &Path) -> &Path {
    match target.parent() {
        Some(folder) if folder != Path::new("") => folder,
        _ => Path::new("."),
    }
}

/// Whether two names stand for one file, by way of links and `..` too.
fn same_place(one: &Path, other: &Path) -> bool {
    one == other || resolved(one).is_some_and(|one| resolved(other) == Some(one))
}

/// The file's own place; that of its folder if it is not there yet.
fn resolved(path: &Path) -> Option<PathBuf> {
    path.canonicalize().ok().or_else(|| Some(folder_of(path).canonicalize().ok()?.join(path.file_name()?)))
}
