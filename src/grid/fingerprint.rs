//! What tells one state of the surveys from another: a digest of their bytes.
//!
//! It is of the files' bytes one after another, as they are named, so that `cat a b | sha256sum`
//! gives the same digits. It is no part of the JSON: two runs of the same openings are the same
//! whatever their file.

use std::fmt;
use std::fs::File;
use std::io::{self, BufReader, Read};
use std::path::PathBuf;

use sha2::{Digest, Sha256};

use super::error::GridError;

/// The SHA-256 (FIPS 180-4) of the surveys' bytes, one file after another in the order given. It
/// shows its first 12 hexadecimal digits: enough for a fitter to see that a page is not of the
/// survey that the office works from, and short enough to read out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Fingerprint([u8; 32]);

/// Bytes that are shown, two digits each.
const SHOWN_BYTES: usize = 6;
/// Bytes that are read at once.
const AT_ONCE: usize = 64 * 1024;

/// Takes the fingerprint of survey files.
///
/// # Errors
/// If a file cannot be opened or read.
pub fn fingerprint(paths: &[PathBuf]) -> Result<Fingerprint, GridError> {
    let mut digest = Sha256::new();
    for path in paths {
        add(path, &mut digest)
            .map_err(|error| GridError { file: path.display().to_string(), problem: error.into() })?;
    }
    Ok(Fingerprint(digest.finalize().into()))
}

fn add(path: &PathBuf, digest: &mut Sha256) -> io::Result<()> {
    let mut file = BufReader::new(File::open(path)?);
    let mut bytes = vec![0; AT_ONCE];
    loop {
        match file.read(&mut bytes)? {
            0 => return Ok(()),
            read => digest.update(&bytes[..read]),
        }
    }
}

impl fmt::Display for Fingerprint {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().take(SHOWN_BYTES).try_for_each(|byte| write!(f, "{byte:02x}"))
    }
}
