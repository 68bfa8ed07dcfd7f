//! Brackets, fixings, clips, spares and whole packs; by unit, floor and project.

use std::collections::BTreeMap;
use std::sync::Arc;

/// The item under which fixings stand whose substrate is unknown.
pub const NOT_CHOSEN: &str = "not chosen";

/// All parts beside the cut ones.
#[derive(Clone, Debug, Default)]
pub struct Hardware {
    /// The items, in the order in which the sheet shows them.
    pub items: Vec<HardwareItem>,
    /// Loose counts by building, floor and unit, in survey order of first mention.
    pub by_unit: Vec<UnitCounts>,
}

/// One part or fixing in the whole project.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HardwareItem {
    /// The item, such as `valance clip`.
    pub item: Arc<str>,
    /// Its size, if it has one to show; may be empty.
    pub size: String,
    /// What it goes into; empty for parts.
    pub substrate: &'static str,
    /// Needed by every sized and provisional blind.
    pub needed: u64,
    /// Needed by blinds released to be made: what spares are counted on.
    pub needed_to_make: u64,
    /// Arrives with a bought blind: all parts in `buy`, those of stock blinds in `make`.
    pub comes_with_blinds: u64,
    /// Spare, rounded up once for the project.
    pub spare: u64,
    /// How many are in a pack; `None` if not known.
    pub pack_of: Option<u32>,
    /// Whole packs; `None` if the pack is not known.
    pub packs: Option<u64>,
    /// Names of up to a few places where it is used, such as `concrete walls`.
    pub used: String,
}

/// What one unit needs, loose.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct UnitCounts {
    /// The building.
    pub building: Arc<str>,
    /// The floor.
    pub floor: Arc<str>,
    /// The unit.
    pub unit: Arc<str>,
    /// Count of each item needed there, by position in [`Hardware::items`].
    pub counts: BTreeMap<usize, u64>,
}
