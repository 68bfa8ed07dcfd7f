//! How far a run has come. The library never prints: who wants to see it hands in a [`Progress`].

use std::fmt;

/// A part of a run that someone may be waiting for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stage {
    /// Files are read.
    Reading,
    /// Mounts and sizes.
    Sizing,
    /// Stock sizes, and sizes that openings share.
    Sourcing,
    /// What follows from each size.
    Fitting,
    /// Identical blinds are grouped.
    Ordering,
    /// Pieces are laid on bars.
    Cutting,
    /// Prices.
    Pricing,
    /// Choices are worked beside the survey as it stands.
    Comparing,
    /// The result is held to what holds of every result.
    Checking,
    /// Outputs are written.
    Writing,
}

impl Stage {
    /// How many stages a run has.
    pub const COUNT: usize = Stage::Writing as usize + 1;

    /// How many stages come before this one.
    pub const fn before(self) -> usize {
        self as usize
    }
}

impl fmt::Display for Stage {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Stage::Reading => "reading",
            Stage::Sizing => "sizing openings",
            Stage::Sourcing => "choosing sizes",
            Stage::Fitting => "fitting blinds",
            Stage::Ordering => "grouping the order",
            Stage::Cutting => "planning cuts",
            Stage::Pricing => "pricing",
            Stage::Comparing => "comparing options",
            Stage::Checking => "checking the result",
            Stage::Writing => "writing",
        })
    }
}

/// Someone who is told how far a run has come.
pub trait Progress {
    /// A stage begins, and with it the one before it ends.
    fn begin(&self, stage: Stage);
}

/// Tells no one.
#[derive(Clone, Copy, Debug)]
pub struct Silent;

impl Progress for Silent {
    fn begin(&self, _stage: Stage) {}
}
