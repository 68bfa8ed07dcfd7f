//! Fixings: screws and anchors, each for one substrate.

use std::sync::Arc;

use rust_decimal::Decimal;

use crate::length::Length;
use crate::survey::Substrate;

/// A screw with its anchor, if any.
#[derive(Clone, Debug)]
pub struct Fixing {
    /// Its item name, such as `wood screw 8 x 1 1/2`.
    pub item: Arc<str>,
    /// What it goes into.
    pub substrate: Substrate,
    /// Diameter, if it is a screw.
    pub diameter: Option<Length>,
    /// Length.
    pub length: Option<Length>,
    /// Thread in the substrate.
    pub thread: Option<Length>,
    /// Where its capacity comes from.
    pub capacity: Capacity,
    /// Pilot hole.
    pub pilot: Option<Length>,
    /// How many are in a pack.
    pub pack_of: u32,
    /// Price of a pack; `None` if not known.
    pub price: Option<Decimal>,
}

/// Where a fixing's capacity comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Capacity {
    /// Withdrawal of a wood screw by the NDS formula.
    TimberWithdrawal,
    /// Pull-out of a screw in a steel stud of this thickness, by AISI.
    SteelPullOut {
        /// Thickness of the steel in thousandths of an inch (mil).
        mil: u32,
    },
    /// A working load in newtons.
    WorkingLoad(Decimal),
    /// Not known.
    Unknown,
}
