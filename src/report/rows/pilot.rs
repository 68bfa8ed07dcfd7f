//! `Pilot`: the units to fit first, and what each of them is there to show.

use super::names;
use crate::query::OpeningIndex;
use crate::report::Report;
use crate::report::figure::{Lead, Rows, Said, row};
use crate::report::pilot::{Case, CaseOf, Pilot, PilotUnit};
use crate::survey::{Identity, shown_unit};

/// The units to fit first.
#[derive(Clone, Copy)]
pub struct PilotRow<'r> {
    report: &'r Report<'r>,
    pilot: &'r Pilot,
}

row! {
    /// The fewest units that together show every type, product, mount and substrate of what may be made.
    PilotRow<'r>: row {
        /// Whether no fewer units show as much, nor as few with fewer blinds to fit.
        proven: bool = row.pilot.proven;
        /// Units in which blinds are still to be fitted.
        of_units: u64 = row.pilot.of_units as u64;
        /// The units, in survey order.
        units: Rows<'r, PilotUnitRow<'r>> = Rows::new(move || PilotUnitRow::all(row.report));
        /// Every case.
        cases: Rows<'r, PilotCaseRow<'r>> = Rows::new(move || PilotCaseRow::all(row.report));
    }
}

impl<'r> PilotRow<'r> {
    /// The units to fit first; none where all of them would be.
    pub fn of(report: &'r Report<'r>) -> Option<PilotRow<'r>> {
        Some(PilotRow { report, pilot: report.pilot()? })
    }
}

/// A unit that is fitted first.
#[derive(Clone, Copy)]
pub struct PilotUnitRow<'r> {
    report: &'r Report<'r>,
    pilot: &'r Pilot,
    unit: &'r PilotUnit,
}

row! {
    /// A unit to fit first.
    PilotUnitRow<'r>: row {
        /// Its building; empty if blank.
        building: &'r str = &row.who().building => shown, unless_blank;
        /// Its floor; empty if blank.
        floor: &'r str = &row.who().floor => shown, unless_blank;
        /// Its name; empty if blank.
        unit: &'r str = &row.who().unit => shown, strong, worded(|row, unit| {
            row.unit.openings.first().map_or(Said::of(unit), |opening| Said::Leading(Lead::Page(*opening), shown_unit(unit).into()))
        });
        /// Openings whose blinds are to be fitted there.
        openings: Vec<&'r str> = names(row.report, &row.unit.openings)
            => shown, worded(|_, names| Said::of(names.len() as u64));
        /// Those blinds.
        blinds: u64 = row.unit.blinds => shown;
        /// What it is there to show: what no unit above it shows.
        shows: Vec<String> = row.cases(&row.unit.shows) => shown, wide(48), worded(|_, cases| cases.join("; "));
        /// What it shows besides.
        again: Vec<String> = row.cases(&row.unit.again) => headed("Shows again"), wide(48), worded(|_, cases| cases.join("; "));
    }
}

impl<'r> PilotUnitRow<'r> {
    /// The units to fit first, in survey order.
    pub fn all(report: &'r Report<'r>) -> impl Iterator<Item = PilotUnitRow<'r>> + Clone {
        let pilot = report.pilot().into_iter();
        pilot.flat_map(move |pilot| pilot.units.iter().map(move |unit| PilotUnitRow { report, pilot, unit }))
    }

    fn who(self) -> &'r Identity {
        let first = self.unit.openings.first().copied().unwrap_or_default();
        &self.report.survey.openings[first].who
    }

    fn cases(self, cases: &[usize]) -> Vec<String> {
        let words = |case: &Case| format!("{} {}", case.of.word(), case.what);
        cases.iter().map(|&case| words(&self.pilot.cases[case])).collect()
    }
}

/// A case.
#[derive(Clone, Copy)]
pub struct PilotCaseRow<'r> {
    report: &'r Report<'r>,
    case: &'r Case,
}

row! {
    /// A type, product, mount or substrate of the job, and where to look at it.
    PilotCaseRow<'r>: row {
        /// What it is about.
        of: &'static str = row.case.of.word() => one_of(&CaseOf::ALL.map(CaseOf::word)), headed("Case");
        /// The type, product, mount or substrate.
        what: &'r str = &row.case.what => headed("Which"), strong;
        /// Openings of the job that have it; held ones are not among them.
        openings: u64 = row.case.openings => at_least(1), shown;
        /// The unit where it can be seen; null where only provisional blinds have it.
        unit: Option<&'r str> = row.who().map(|who| &*who.unit)
            => headed("Look at unit"), worded(|row, unit| match (row.case.look_at, unit) {
                (Some(opening), Some(unit)) => Said::Leading(Lead::Page(opening), shown_unit(unit).into()),
                _ => Said::from("none yet: measure first"),
            });
        /// The opening where it can be seen; null where only provisional blinds have it.
        opening: Option<&'r str> = row.who().map(|who| &*who.name)
            => headed("Look at opening"), worded(|row, name| match (row.case.look_at, name) {
                (Some(opening), Some(name)) => Said::Leading(Lead::Opening(opening), name.into()),
                _ => Said::from(""),
            });
        /// Whether a blind that hangs shows it already.
        fitted: bool = row.case.is_fitted => headed("Hangs already"), worded(|_, fitted| if fitted { "yes" } else { "no" });
    }
}

impl<'r> PilotCaseRow<'r> {
    /// Every case: types, products, mounts, substrates, each in survey order.
    pub fn all(report: &'r Report<'r>) -> impl Iterator<Item = PilotCaseRow<'r>> + Clone {
        let pilot = report.pilot().into_iter();
        pilot.flat_map(move |pilot| {
            let of = move |of| pilot.cases.iter().filter(move |case| case.of == of);
            CaseOf::ALL.into_iter().flat_map(of).map(move |case| PilotCaseRow { report, case })
        })
    }

    fn who(self) -> Option<&'r Identity> {
        let opening: OpeningIndex = self.case.look_at?;
        Some(&self.report.survey.openings[opening].who)
    }
}
