//! Parts and fixings: what to buy, and what each floor and unit needs of it.

use crate::blinds::Ware;
use crate::hardware::HardwareItem;
use crate::length::Length;
use crate::report::figure::row;
use crate::report::{Bit, LooseCount, Report};
use crate::survey::Substrate;

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

/// A bit for the fixings of the whole project.
#[derive(Clone, Copy)]
pub struct BitRow<'r> {
    bit: Bit<'r>,
    substrate: Substrate,
    uses: u64,
}

row! {
    /// A bit, and what it is for.
    BitRow<'r>: row {
        /// `drill` or `driver`.
        bit: &'static str = row.word() => one_of(&["drill", "driver"]), shown, strong;
        /// Diameter of the hole; null for a driver.
        hole_mm: Option<Length> = row.hole() => above_zero, shown, unless_blank;
        /// The head of the screw; null for a drill.
        driver: Option<&'r str> = row.head() => headed("Screw head"), unless_blank;
        /// What the fixings go into.
        substrate: &'static str = row.substrate.word() => headed("Into");
        /// Holes or screws.
        uses: u64 = row.uses => at_least(1), headed("Holes or screws"), strong;
    }
}

impl<'r> BitRow<'r> {
    /// The bits of the project, drills first.
    pub fn all(report: &'r Report<'r>) -> impl Iterator<Item = BitRow<'r>> + Clone {
        let bits = report.bits(0..report.blinds.len()).into_iter();
        let rows: Vec<BitRow<'r>> =
            bits.map(|((bit, substrate), uses)| BitRow { bit, substrate, uses }).collect();
        rows.into_iter()
    }

    const fn word(self) -> &'static str {
        match self.bit {
            Bit::Drill(_) => "drill",
            Bit::Driver(_) => "driver",
        }
    }

    const fn hole(self) -> Option<Length> {
        match self.bit {
            Bit::Drill(hole) => Some(hole),
            Bit::Driver(_) => None,
        }
    }

    const fn head(self) -> Option<&'r str> {
        match self.bit {
            Bit::Drill(_) => None,
            Bit::Driver(head) => Some(head),
        }
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
        count: u64 = row.loose.count => at_least(1);
        /// How many of them come in the boxes of the blinds.
        with_blinds: u64 = row.loose.with_blinds;
        /// How many go in the van apart from those.
        apart: u64 = row.loose.apart() => headed("Quantity"), strong;
    }
}

impl<'r> LooseRow<'r> {
    /// The same of what does not come in boxes.
    pub fn in_the_van(rows: impl Iterator<Item = LooseRow<'r>>) -> Vec<LooseRow<'r>> {
        rows.filter(|row| row.apart() > 0).collect()
    }

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
