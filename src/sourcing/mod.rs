//! The final size of each blind: which share a size, and which come from stock.

use crate::rules::StockSize;
use crate::sizing::Size;
use crate::tables::Date;

/// The final size of one opening's blinds.
#[derive(Clone, Debug)]
pub struct Sourced<'r> {
    /// The finished size.
    pub size: Size,
    /// Where the blind comes from.
    pub supply: Supply<'r>,
    /// When it can be on site; `None` without an order date or lead days.
    pub arrives: Option<Date>,
    /// Days from order to delivery, if known.
    pub lead_days: Option<u32>,
}

/// Where a blind comes from. A row is never split between sources.
#[derive(Clone, Copy, Debug)]
pub enum Supply<'r> {
    /// Made to measure.
    Made,
    /// A stock size, hung as it is.
    Stock(&'r StockSize),
    /// A stock size cut down.
    CutFromStock(&'r StockSize),
}

impl Supply<'_> {
    /// `made` or `stock`.
    pub fn word(&self) -> &'static str {
        match self {
            Supply::Made => "made",
            Supply::Stock(_) | Supply::CutFromStock(_) => "stock",
        }
    }
}

/// What sharing sizes did.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Merging {
    /// Distinct product, width and drop of made blinds before.
    pub before: usize,
    /// And after.
    pub after: usize,
    /// No sharing within the windows can need fewer.
    pub at_least: usize,
}
