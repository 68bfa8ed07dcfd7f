//! Where an invariant does not hold, in words.

use thiserror::Error;

use crate::query::OpeningIndex;
use crate::report::Report;

/// A result that may not be written: a bug.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("nothing is written: {at} {found}, but {says}")]
pub struct Breach {
    /// The opening, line, material or whatever else is concerned: `opening 0304/W1`.
    pub at: String,
    /// What is wrong with it: `is 1200 mm wide`.
    pub found: String,
    /// What should hold.
    pub says: &'static str,
}

/// What is wrong, before it is known which invariant that breaks.
#[derive(Debug)]
pub(super) struct Fault {
    at: String,
    found: String,
}

impl Fault {
    /// Something is wrong there.
    pub(super) fn at(at: impl Into<String>, found: impl Into<String>) -> Fault {
        Fault { at: at.into(), found: found.into() }
    }

    /// An opening, as it is shown, is wrong.
    pub(super) fn opening(report: &Report<'_>, opening: OpeningIndex, found: impl Into<String>) -> Fault {
        Fault::at(format!("opening {}", report.survey.openings[opening].who.name), found)
    }

    /// A line of the order is wrong.
    pub(super) fn line(line: usize, found: impl Into<String>) -> Fault {
        Fault::at(format!("line {line}"), found)
    }

    pub(super) fn breaks(self, says: &'static str) -> Breach {
        Breach { at: self.at, found: self.found, says }
    }
}

/// Nothing where two counts agree, else that `what` of something is not what it should be.
pub(super) fn equal<T: PartialEq + std::fmt::Display>(
    at: &str,
    what: &str,
    found: T,
    wanted: T,
) -> Result<(), Fault> {
    if found == wanted { Ok(()) } else { Err(Fault::at(at, format!("has {found} {what}, not {wanted}"))) }
}
