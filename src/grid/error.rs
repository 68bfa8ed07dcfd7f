//! Why a survey file could not be read at all.

use thiserror::Error;

/// Why a file could not be turned into cells. Each message names the file; [`hint`](GridError::hint) says what to do.
#[derive(Debug, Error)]
pub enum GridError {
    /// The file's name does not end in a format that is read.
    #[error("{file} is not a workbook that can be read")]
    UnknownFormat {
        /// The file.
        file: String,
    },
}

impl GridError {
    /// What to do about it.
    pub fn hint(&self) -> String {
        String::new()
    }
}
