//! Hardware as it is shown: what is bought, and loose counts by floor and unit.

use std::collections::BTreeMap;

use super::Report;
use crate::hardware::{HardwareItem, UnitCount};

/// How many of an item one place needs, loose.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LooseCount<'r> {
    /// The building; empty if blank.
    pub building: &'r str,
    /// The floor; empty if blank.
    pub floor: &'r str,
    /// The unit; empty if blank, and for a whole floor.
    pub unit: &'r str,
    /// Position of the item in [`Hardware::items`](crate::hardware::Hardware::items).
    pub item: usize,
    /// How many.
    pub count: u64,
    /// How many of them come in the boxes of the blinds.
    pub with_blinds: u64,
}

impl LooseCount<'_> {
    /// How many go in the van apart from the boxes.
    pub fn apart(&self) -> u64 {
        self.count - self.with_blinds
    }
}

impl HardwareItem {
    /// What whole packs leave over; `None` if the pack is not known.
    pub fn left_over(&self) -> Option<u64> {
        match self.packs? {
            0 => Some(0),
            packs => (packs * u64::from(self.pack_of?)).checked_sub(self.to_buy()),
        }
    }
}

impl Report<'_> {
    /// Counts by unit, in survey order, each unit's items in the order of the list.
    pub fn loose_by_unit(&self) -> impl Iterator<Item = LooseCount<'_>> {
        self.hardware.by_unit.iter().flat_map(|unit| {
            unit.counts.iter().map(|(&item, &UnitCount { count, with_blinds })| LooseCount {
                building: &unit.building,
                floor: &unit.floor,
                unit: &unit.unit,
                item,
                count,
                with_blinds,
            })
        })
    }

    /// The same added up by building and floor, floors in survey order of first mention.
    pub fn loose_by_floor(&self) -> Vec<LooseCount<'_>> {
        let mut floors: Vec<(&str, &str)> = Vec::new();
        let mut places: BTreeMap<(&str, &str), usize> = BTreeMap::new();
        let mut counts: BTreeMap<(usize, usize), UnitCount> = BTreeMap::new();
        for loose in self.loose_by_unit() {
            let place = *places.entry((loose.building, loose.floor)).or_insert_with(|| {
                floors.push((loose.building, loose.floor));
                floors.len() - 1
            });
            let counted = counts.entry((place, loose.item)).or_default();
            counted.count += loose.count;
            counted.with_blinds += loose.with_blinds;
        }
        let at = |((place, item), UnitCount { count, with_blinds }): ((usize, usize), UnitCount)| {
            let (building, floor) = floors[place];
            LooseCount { building, floor, unit: "", item, count, with_blinds }
        };
        counts.into_iter().map(at).collect()
    }
}
