//! Writing that may break off, because a disk is full. A library would tell the person in words of its own.
//!
//! In the file itself the first fault is handed on, and after it everything goes nowhere: what the library
//! still writes as it gives up is no second fault. Its temporary files it writes or panics.

use std::any::Any;
use std::io::{self, Seek, SeekFrom, Write};

/// Whether a panic is the library's, for a temporary file that the system did not let it write.
pub fn is_lack_of_room(fault: &(dyn Any + Send)) -> bool {
    fault.downcast_ref::<String>().is_some_and(|words| words.contains(": Os { code: "))
}

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
