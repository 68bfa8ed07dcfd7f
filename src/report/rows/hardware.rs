//! Parts and fixings: what to buy, and what each floor and unit needs of it.

use crate::blinds::Ware;
use crate::hardware::HardwareItem;
use crate::report::figure::row;
use crate::report::{LooseCount, Report};

/// One item in the whole project.
#[derive(Clone, Copy)]
pub struct HardwareRow<'r>(&'r HardwareItem);

row! {
    /// One item in the whole project.
    HardwareRow<'r>: row {
        /// The item; `not chosen` for fixings where the substrate is unknown.
        item: &'r str = &row.0.item => shown, strong;
        /// Its size; empty if it has none to show.
        size: &'r str = &row.0.size => shown;
        /// What it is fixed to; empty for parts.
        substrate: &'static str = row.0.substrate => shown;
        /// Number needed for all blinds.
        needed: u64 = row.0.needed => shown;
        /// Spares, rounded up once for the project.
        spare: u64 = row.0.spare => shown;
        /// Needed and spare together.
        total: u64 = row.0.total() => shown, strong;
        /// How many of those needed arrive with bought blinds: the parts of all where blinds are bought, of those
        /// from stock where they are made. A box from stock lacks brackets that it does not name.
        with_blinds: u64 = row.0.comes_with_blinds => headed("Comes with blinds");
        /// How many are in a pack; null if unknown.
        pack_of: Option<u32> = row.0.pack_of => at_least(1), shown, or_unknown;
        /// Bought one by one, where blinds are bought: spare parts, and brackets that a box lacks.
        pieces: u64 = row.0.pieces => headed("Single pieces"), strong;
        /// Whole packs to buy; 0 where it is bought one by one or not at all, null if the pack size is unknown.
        packs: Option<u64> = row.0.packs => shown, or_unknown, strong;
        /// What is left over from whole packs; null if the pack size is unknown.
        left_over: Option<u64> = row.0.left_over() => shown, or_unknown;
        /// The first units that need it, and how many more do.
        used: &'r str = &row.0.used => headed("Where used");
    }
}

impl<'r> HardwareRow<'r> {
    /// Every item, in the order of the sheet.
    pub fn all(report: &'r Report<'r>) -> impl Iterator<Item = HardwareRow<'r>> {
        report.hardware.items.iter().map(HardwareRow)
    }

    /// Whether it stands for fixings that nobody could choose.
    pub fn is_not_chosen(self) -> bool {
        self.0.ware == Ware::NotChosen
    }
}

/// How many of an item one place needs, loose.
#[derive(Clone, Copy)]
pub struct LooseRow<'r> {
    item: HardwareRow<'r>,
    loose: LooseCount<'r>,
}

row! {
    /// How many of an item one place needs.
    LooseRow<'r>: row {
        /// The building; empty if blank.
        building: &'r str = row.loose.building;
        /// The floor; empty if blank.
        floor: &'r str = row.loose.floor;
        /// The unit; empty if blank.
        unit: &'r str = row.loose.unit;
        /// The item.
        item: &'r str = row.item.item() => shown, strong;
        /// Its size; empty if it has none to show.
        size: &'r str = row.item.size() => shown;
        /// What it is fixed to; empty for parts.
        substrate: &'static str = row.item.substrate() => shown;
        /// How many.
        count: u64 = row.loose.count => at_least(1), headed("Quantity"), strong;
    }
}

impl<'r> LooseRow<'r> {
    /// What each unit needs, in survey order, each unit's items in the order of the list.
    pub fn by_unit(report: &'r Report<'r>) -> impl Iterator<Item = LooseRow<'r>> {
        report.loose_by_unit().map(|loose| LooseRow::of(report, loose))
    }

    /// The same added up by building and floor; its unit is empty.
    pub fn by_floor(report: &'r Report<'r>) -> impl Iterator<Item = LooseRow<'r>> {
        report.loose_by_floor().into_iter().map(|loose| LooseRow::of(report, loose))
    }

    fn of(report: &'r Report<'r>, loose: LooseCount<'r>) -> LooseRow<'r> {
        LooseRow { item: HardwareRow(&report.hardware.items[loose.item]), loose }
    }

    /// Whether they are fixings that nobody could choose.
    pub fn is_not_chosen(self) -> bool {
        self.item.is_not_chosen()
    }
}
