//! The fit-out as CSV files, one a list. A column is named by its JSON key, an object's keys by
//! the object's and their own: `louvers_count`. Values of a list share a cell; a list of rows
//! has a file of its own. Blank is unknown, or held.

use std::io::{self, Write};

use super::columns::Columns;
use super::rows::{
    AssumptionRow, ByPhaseRow, CostLineRow, HardwareRow, LineRow, MaterialRow, NameRow, NotInTotalRow,
    OffcutRow, OpeningRow, PlanRow, QueryRow, StepRow, SummaryRow,
};
use crate::report::Report;

/// The lists, each a file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum List {
    /// One row: the project, its counts and its totals.
    Summary,
    /// The openings.
    Openings,
    /// The steps of their numbers.
    Working,
    /// The order's lines.
    Order,
    /// The cut plans.
    Cuts,
    /// Their patterns.
    Patterns,
    /// What sawing phase by phase takes beyond the whole project at once.
    ByPhase,
    /// Offcuts on hand when everything is sawn.
    Offcuts,
    /// Parts and fixings.
    Hardware,
    /// The cost's lines.
    Cost,
    /// What the total does not hold.
    NotInTotal,
    /// Values taken because a cell was blank.
    Assumptions,
    /// The queries.
    Queries,
}

impl List {
    /// Every list.
    pub const ALL: [List; 13] = [
        List::Summary,
        List::Openings,
        List::Working,
        List::Order,
        List::Cuts,
        List::Patterns,
        List::ByPhase,
        List::Offcuts,
        List::Hardware,
        List::Cost,
        List::NotInTotal,
        List::Assumptions,
        List::Queries,
    ];

    /// The name of its file.
    pub const fn file_name(self) -> &'static str {
        match self {
            List::Summary => "summary.csv",
            List::Openings => "openings.csv",
            List::Working => "working.csv",
            List::Order => "order.csv",
            List::Cuts => "cuts.csv",
            List::Patterns => "patterns.csv",
            List::ByPhase => "by_phase.csv",
            List::Offcuts => "offcuts.csv",
            List::Hardware => "hardware.csv",
            List::Cost => "cost.csv",
            List::NotInTotal => "not_in_total.csv",
            List::Assumptions => "assumptions.csv",
            List::Queries => "queries.csv",
        }
    }

    /// Writes the list with its headings, which stand there even if it has no row.
    ///
    /// # Errors
    /// Only what `out` reports.
    pub fn write(self, report: &Report<'_>, out: impl Write) -> io::Result<()> {
        match self {
            List::Summary => write_rows(std::iter::once(SummaryRow::of(report)), out),
            List::Openings => write_rows(OpeningRow::all(report), out),
            List::Working => write_rows(working(report), out),
            List::Order => write_rows(LineRow::all(report), out),
            List::Cuts => write_rows(PlanRow::all(report), out),
            List::Patterns => write_rows(MaterialRow::patterns(report), out),
            List::ByPhase => write_rows(ByPhaseRow::all(report), out),
            List::Offcuts => write_rows(OffcutRow::all(report), out),
            List::Hardware => write_rows(HardwareRow::all(report), out),
            List::Cost => write_rows(CostLineRow::all(report), out),
            List::NotInTotal => write_rows(NotInTotalRow::all(report), out),
            List::Assumptions => write_rows(AssumptionRow::all(report), out),
            List::Queries => write_rows(QueryRow::all(report), out),
        }
    }
}

fn working<'a>(report: &'a Report<'_>) -> impl Iterator<Item = (NameRow<'a>, StepRow<'a>)> {
    report.survey.openings.iter().enumerate().flat_map(|(index, opening)| {
        StepRow::all(report, index).into_iter().map(|step| (NameRow { name: &opening.who.name }, step))
    })
}

fn write_rows<R: Columns>(rows: impl Iterator<Item = R>, out: impl Write) -> io::Result<()> {
    let mut writer = csv::Writer::from_writer(out);
    let mut cells = Vec::new();
    R::names("", &mut cells);
    writer.write_record(&cells)?;
    for row in rows {
        cells.clear();
        row.cells(&mut cells);
        writer.write_record(&cells)?;
    }
    writer.flush()
}
