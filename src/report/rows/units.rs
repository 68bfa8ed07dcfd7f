//! The units, each with what its fitter must bring.

use super::names;
use crate::fitting::Blind;
use crate::length::Length;
use crate::report::figure::{Kilograms, Lead, Rows, Said, Share, row};
use crate::report::{Caution, Doubts, Load, Report, Unit};

/// One unit and what its fitter must bring.
#[derive(Clone, Copy)]
pub struct UnitRow<'r> {
    report: &'r Report<'r>,
    doubts: &'r Doubts<'r>,
    place: usize,
    unit: &'r Unit<'r>,
}

row! {
    /// One unit (such as an apartment), and what its fitter must bring.
    UnitRow<'r>: row {
        /// The unit; empty if blank.
        unit: &'r str = row.unit.unit
            => shown, worded(|row, _| Said::Leading(Lead::Unit(row.place), row.unit.title().into()));
        /// The building; empty if blank.
        building: &'r str = row.unit.building => shown;
        /// The floor of its first opening; empty if blank.
        floor: &'r str = row.unit.floor => shown;
        /// Openings.
        openings: u64 = row.load().openings => shown;
        /// Released blinds: each comes in a box of its own.
        boxes: u64 = row.load().boxes => headed("Boxes to bring"), strong;
        /// Blinds not released yet.
        provisional: u64 = row.load().provisional => shown;
        /// Openings that are held back.
        held: u64 = row.load().held => shown;
        /// Weight of the heaviest blind to bring; null if there is none.
        heaviest_kg: Option<Kilograms> = row.load().heaviest.map(Kilograms) => above_zero, headed("Heaviest blind");
        /// People needed for the blinds to bring; null if there are none.
        people: Option<u32> = Some(row.load().people).filter(|&people| people > 0) => at_least(1), headed("People needed");
        /// Width of its widest blind; null without a blind.
        longest_rail_mm: Option<Length> = row.blinds().map(|blind| blind.sourced.size.width).max() => above_zero;
        /// Weight over what is recommended for one person, of its heaviest lift from the ground (NIOSH, Publication
        /// 94-110); null without a blind.
        lifting_index: Option<Share> = row.report.lifting_index(&row.unit.openings).map(Share);
        /// What to watch for before drilling, in the order in which it is met.
        cautions: Rows<'r, CautionRow<'r>> = Rows::new(move || CautionRow::all(row));
        /// Names of its openings, once for each row of the survey.
        names: Vec<&'r str> = names(row.report, &row.unit.openings)
            => headed("Openings in the unit"), worded(|_, names| names.join(", ")), wide(50);
    }
}

impl<'r> UnitRow<'r> {
    /// Every one of these units.
    pub fn all(
        report: &'r Report<'r>,
        doubts: &'r Doubts<'r>,
        units: &'r [Unit<'r>],
    ) -> impl Iterator<Item = UnitRow<'r>> + Clone {
        units.iter().enumerate().map(move |(place, unit)| UnitRow { report, doubts, place, unit })
    }

    fn blinds(self) -> impl Iterator<Item = &'r Blind<'r>> {
        let report = self.report;
        self.unit.openings.iter().filter_map(move |&opening| report.blinds[opening].as_ref())
    }

    fn load(self) -> Load<'r> {
        self.report.load(self.unit)
    }
}

/// One caution of a unit.
#[derive(Clone, Copy)]
pub struct CautionRow<'r> {
    report: &'r Report<'r>,
    caution: Caution<'r>,
}

row! {
    /// One caution of a unit.
    CautionRow<'r>: row {
        /// Its name, which lasts.
        code: &'static str = row.caution.code();
        /// What to watch for.
        words: String = row.caution.words();
        /// Where it comes from.
        source: String = row.caution.basis().words();
        /// Names of the openings that it is about.
        openings: Vec<&'r str> = names(row.report, &row.caution.openings());
    }
}

impl<'r> CautionRow<'r> {
    fn all(unit: UnitRow<'r>) -> impl Iterator<Item = CautionRow<'r>> {
        let cautions = unit.report.cautions(unit.doubts, &unit.unit.openings);
        cautions.map(move |caution| CautionRow { report: unit.report, caution })
    }

    /// The cautions of every unit, each beside its unit.
    pub fn by_unit(
        report: &'r Report<'r>,
        doubts: &'r Doubts<'r>,
        units: &'r [Unit<'r>],
    ) -> impl Iterator<Item = (UnitNameRow<'r>, CautionRow<'r>)> {
        UnitRow::all(report, doubts, units)
            .flat_map(|unit| CautionRow::all(unit).map(move |caution| (UnitNameRow(unit.unit), caution)))
    }
}

/// The unit that a row of another list belongs to.
#[derive(Clone, Copy)]
pub struct UnitNameRow<'r>(&'r Unit<'r>);

row! {
    /// The unit that a row belongs to.
    UnitNameRow<'r>: row {
        /// The unit; empty if blank.
        unit: &'r str = row.0.unit;
        /// The building; empty if blank.
        building: &'r str = row.0.building;
    }
}
