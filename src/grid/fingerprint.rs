//! What tells one state of the surveys from another: a digest of their bytes.
//!
//! It is of the very bytes that were read, one file after another as they are named, so that
//! `cat a b | sha256sum` gives the same digits.

use std::fmt;

use sha2::{Digest, Sha256};

/// The SHA-256 (FIPS 180-4) of the surveys' bytes, one file after another in the order given. It
/// shows its first 12 hexadecimal digits: enough for a fitter to see that a page is not of the
/// survey that the office works from, and short enough to read out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Fingerprint([u8; 32]);

/// Bytes that are shown, two digits each.
const SHOWN_BYTES: usize = 6;

impl fmt::Display for Fingerprint {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().take(SHOWN_BYTES).try_for_each(|byte| write!(f, "{byte:02x}"))
    }
}

/// The fingerprint of the files so far.
#[derive(Default)]
pub(super) struct Print(Sha256);

impl Print {
    /// Adds the bytes of the next file.
    pub(super) fn add(&mut self, file: &[u8]) {
        self.0.update(file);
    }

    /// The fingerprint of all of them.
    pub(super) fn finish(self) -> Fingerprint {
        Fingerprint(self.0.finalize().into())
    }
}

#[cfg(test)]
mod tests {
    use super::Print;

    #[test]
    fn files_have_the_digest_that_the_standard_gives() {
        // SHA-256 (FIPS 180-4) of no bytes (from memory) and of `abc` (FIPS 180-2, appendix B.1).
        for (files, digits) in
            [(&[][..], "e3b0c44298fc"), (&["abc"], "ba7816bf8f01"), (&["a", "bc"], "ba7816bf8f01")]
        {
            let mut print = Print::default();
            files.iter().for_each(|file: &&str| print.add(file.as_bytes()));
            assert_eq!(print.finish().to_string(), digits, "{files:?}");
        }
    }
}
