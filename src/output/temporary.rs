//! Temporary files beside the outputs: how they are named, and those that a killed run left.
//!
//! The name is long and random, so that no file of another's has one like it. A leftover is a file of
//! such a name, older than any run takes, by the clock of the disk that it is on. Nothing else is touched.

use std::ffi::OsStr;
use std::fs::{self, DirEntry};
use std::io;
use std::path::Path;
use std::time::{Duration, SystemTime};

use tempfile::{Builder, NamedTempFile};

const BEGINS: &str = ".sillbook-";
const ENDS: &str = ".unfinished";
/// Letters and digits between the two.
const RANDOM: usize = 20;
/// Age from which a file is of no run that still goes on.
const LEFT_AFTER: Duration = Duration::from_secs(24 * 60 * 60);

/// A temporary file that, once in place, everyone may read whom the system's mask allows.
pub(super) fn file_in(folder: &Path) -> io::Result<NamedTempFile> {
    let mut builder = Builder::new();
    builder.prefix(BEGINS).suffix(ENDS).rand_bytes(RANDOM);
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        builder.permissions(fs::Permissions::from_mode(0o666));
    }
    builder.tempfile_in(folder)
}

/// Removes from a folder what killed runs left there; what cannot be removed stays.
pub(super) fn remove_leftovers(folder: &Path) -> io::Result<()> {
    let now = file_in(folder)?.as_file().metadata()?.modified()?;
    for entry in fs::read_dir(folder)?.flatten().filter(|entry| is_ours(&entry.file_name())) {
        if is_left(&entry, now).unwrap_or(false) {
            let _ = fs::remove_file(entry.path());
        }
    }
    Ok(())
}

fn is_ours(name: &OsStr) -> bool {
    let random = name.to_str().and_then(|name| name.strip_prefix(BEGINS)?.strip_suffix(ENDS));
    random.is_some_and(|random| random.len() == RANDOM && random.bytes().all(|c| c.is_ascii_alphanumeric()))
}

/// Whether it is a file, no link and no folder, and old enough.
fn is_left(entry: &DirEntry, now: SystemTime) -> io::Result<bool> {
    let found = entry.metadata()?;
    let age = now.duration_since(found.modified()?).unwrap_or_default();
    Ok(found.is_file() && age >= LEFT_AFTER)
}
