//! The units, each with what its fitter must bring.

use super::names;
use crate::report::figure::{Kilograms, Lead, Said, row};
use crate::report::{Load, Report, Unit};

/// One unit and what its fitter must bring.
#[derive(Clone, Copy)]
pub struct UnitRow<'r> {
    report: &'r Report<'r>,
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
        /// Names of its openings, once for each row of the survey.
        names: Vec<&'r str> = names(row.report, &row.unit.openings)
            => headed("Openings in the unit"), worded(|_, names| names.join(", ")), wide(50);
    }
}

impl<'r> UnitRow<'r> {
    /// Every one of these units.
    pub fn all(report: &'r Report<'r>, units: &'r [Unit<'r>]) -> impl Iterator<Item = UnitRow<'r>> {
        units.iter().enumerate().map(move |(place, unit)| UnitRow { report, place, unit })
    }

    fn load(self) -> Load {
        self.report.load(self.unit)
    }
}
