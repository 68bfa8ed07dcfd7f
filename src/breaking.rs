//! Writing that may break off, because a disk is full.
//!
//! The first fault is handed on, and after it everything goes nowhere: what a library still writes as it
//! gives up is no second fault.

use std::io::{self, Seek, SeekFrom, Write};

use thiserror::Error;

use crate::grid::plainly;

/// The system did not let a temporary file be made, written or read again.
#[derive(Debug, Error)]
#[error("{}", plainly(.0))]
pub struct TemporaryFault(#[from] io::Error);

/// A writer until its first fault, and nothing after it.
#[derive(Debug)]
pub struct Breaking<W> {
    within: W,
    is_broken: bool,
}

impl<W: Write + Seek> Breaking<W> {
    pub(crate) fn new(within: W) -> Breaking<W> {
        Breaking { within, is_broken: false }
    }

    /// The writer itself, once all is written.
    pub(crate) fn into_inner(self) -> W {
        self.within
    }

    /// What comes of an operation, unless there was a fault before it.
    fn until_broken<T>(
        &mut self,
        after: T,
        operation: impl FnOnce(&mut W) -> io::Result<T>,
    ) -> io::Result<T> {
        if self.is_broken {
            return Ok(after);
        }
        let outcome = operation(&mut self.within);
        self.is_broken = outcome.as_ref().is_err_and(|error| error.kind() != io::ErrorKind::Interrupted);
        outcome
    }
}

impl<W: Write + Seek> Write for Breaking<W> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.until_broken(bytes.len(), |within| within.write(bytes))
    }

    fn flush(&mut self) -> io::Result<()> {
        self.until_broken((), Write::flush)
    }
}

impl<W: Write + Seek> Seek for Breaking<W> {
    fn seek(&mut self, to: SeekFrom) -> io::Result<u64> {
        self.until_broken(0, |within| within.seek(to))
    }
}
