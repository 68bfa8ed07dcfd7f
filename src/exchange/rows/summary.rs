//! The project, its counts and its totals.

use super::cost::TotalsRow;
use crate::exchange::columns::row;
use crate::report::Report;

row! {
    /// The project.
    ProjectRow<'a> {
        /// Its name.
        name: &'a str,
        /// The survey's revision.
        revision: &'a str,
        /// How the survey's sizes are written: `in` or `mm`. Every length here is in millimetres.
        units: &'static str,
        /// ISO 4217 code.
        currency: &'a str,
    }
}

row! {
    /// Counts of quantities; `rows` alone counts rows.
    CountsRow {
        /// Opening rows read.
        rows: u64,
        /// Openings.
        openings: u64,
        /// Sized and free to be made.
        sized: u64,
        /// Sized, but not to be made until measured with a tape.
        provisional: u64,
        /// Held back.
        held: u64,
        /// Blinds: sized + provisional.
        blinds: u64,
        /// Distinct product, width and drop of those.
        sizes: u64,
    }
}

row! {
    /// All of it in one row.
    SummaryRow<'a> {
        /// The project.
        project: ProjectRow<'a>,
        /// Whether nothing is held or provisional.
        complete: bool,
        /// The counts.
        counts: CountsRow,
        /// The totals.
        cost: TotalsRow,
    }
}

impl<'a> SummaryRow<'a> {
    /// All of it.
    pub fn of(report: &'a Report<'_>) -> SummaryRow<'a> {
        SummaryRow {
            project: ProjectRow::of(report),
            complete: report.complete(),
            counts: CountsRow::of(report),
            cost: TotalsRow::of(report),
        }
    }
}

impl<'a> ProjectRow<'a> {
    /// The project.
    pub fn of(report: &'a Report<'_>) -> ProjectRow<'a> {
        let project = &report.rules.project;
        ProjectRow {
            name: &project.name,
            revision: &project.revision,
            units: project.units.symbol(),
            currency: project.currency.code(),
        }
    }
}

impl CountsRow {
    /// The counts.
    pub fn of(report: &Report<'_>) -> CountsRow {
        let counts = report.counts;
        CountsRow {
            rows: counts.rows,
            openings: counts.openings,
            sized: counts.sized,
            provisional: counts.provisional,
            held: counts.held,
            blinds: counts.blinds,
            sizes: counts.sizes,
        }
    }
}
