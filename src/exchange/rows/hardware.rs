//! Parts and fixings.

use crate::exchange::columns::row;
use crate::report::Report;

row! {
    /// One item in the whole project.
    HardwareRow<'a> {
        /// The item.
        item: &'a str,
        /// Needed by every sized and provisional blind.
        needed: u64,
        /// Of those needed, what arrives with a bought blind.
        with_blinds: u64,
        /// Spare.
        spare: u64,
        /// How many are in a pack.
        pack_of: Option<u32>,
        /// Whole packs.
        packs: Option<u64>,
    }
}

impl<'a> HardwareRow<'a> {
    /// Every item, in the order of the sheet.
    pub fn all(report: &'a Report<'_>) -> impl Iterator<Item = HardwareRow<'a>> {
        report.hardware.items.iter().map(|item| HardwareRow {
            item: &item.item,
            needed: item.needed,
            with_blinds: item.comes_with_blinds,
            spare: item.spare,
            pack_of: item.pack_of,
            packs: item.packs,
        })
    }
}
