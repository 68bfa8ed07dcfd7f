//! The rows of every list, lent by the report: what JSON and CSV both write.

mod cost;
mod cuts;
mod hardware;
mod opening;
mod order;
mod queries;
mod summary;

pub use cost::{CostLineRow, CostRow, NotInTotalRow, TotalsRow};
pub use cuts::{ByPhaseRow, MaterialRow, OffcutRow, PatternRow, PlanRow};
pub use hardware::HardwareRow;
pub use opening::{BracketsRow, FixingsRow, LouversRow, NameRow, OpeningRow, StepRow};
pub use order::LineRow;
pub use queries::{AssumptionRow, QueryRow};
pub use summary::{CountsRow, ProjectRow, SummaryRow};

use crate::query::OpeningIndex;
use crate::report::Report;

/// Shown names of openings, in the order given.
fn names<'a>(report: &'a Report<'_>, openings: &[OpeningIndex]) -> Vec<&'a str> {
    openings.iter().map(|&index| &*report.survey.openings[index].who.name).collect()
}
