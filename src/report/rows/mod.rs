//! The rows that any output shows, lent by the stages. JSON, CSV and the sheets all take them from
//! here, so that a heading, a CSV column and a JSON key cannot part.

mod also_fits;
mod blinds;
mod candidate;
mod changes;
mod cost;
mod cut_words;
mod cuts;
mod document;
mod fitting_days;
mod handover;
mod hardware;
mod less_cover;
mod opening;
mod options;
mod order;
mod pilot;
mod phases;
mod queries;
mod reading;
mod rolls;
mod sizes_curve;
mod spares;
mod stock_use;
mod surveyed;
mod units;

pub use also_fits::{AlsoFitsRow, MOST_SHOWN};
pub use blinds::BlindRow;
pub use candidate::CandidateRow;
pub use changes::ChangeRow;
pub use cost::{CostLineRow, CostRow, NotInTotalRow, RangePartRow, RangeRow, ShareRow, TotalsRow};
pub use cuts::{ByPhaseRow, CutRow, MaterialRow, OffcutRow, PatternRow, PlanRow};
pub use document::{CountsRow, DocumentRow, FORMAT, ProjectRow, SummaryRow};
pub use fitting_days::{FittingDayRow, LoadRow, NoticeRow};
pub use handover::{HandoverRow, SpareLeftRow};
pub use hardware::{BitRow, HardwareRow, LooseRow};
pub use less_cover::LessCoverRow;
pub use opening::{BracketsRow, FixingsRow, LouversRow, NameRow, OpeningRow, StepRow};
pub use options::{ChoiceCostRow, ChoiceRow, DifferenceRow, FiguresRow, OptionNameRow, SectionRow};
pub use order::{ColorRow, DeliveryRow, LabelRow, LineRow, OpeningSizeRow};
pub use phases::PhaseRow;
pub use pilot::{PilotCaseRow, PilotRow, PilotUnitRow};
pub use queries::{AssumptionRow, QueryRow};
pub use reading::{AnswerRow, ColumnReadRow};
pub use rolls::RollCutRow;
pub use sizes_curve::SizesAtRow;
pub use spares::SpareRow;
pub use stock_use::StockUseRow;
pub use surveyed::SurveyedRow;
pub use units::{CautionRow, UnitNameRow, UnitRow};

use super::Report;
use crate::query::OpeningIndex;

/// Shown names of openings, in the order given.
fn names<'r>(report: &'r Report<'r>, openings: &[OpeningIndex]) -> Vec<&'r str> {
    openings.iter().map(|&index| &*report.survey.openings[index].who.name).collect()
}

/// `0304/W1, 0305/W1 and 82 more`: so many of the names, and how many more there are.
fn first_of(names: &[&str], shown: usize) -> String {
    match names.split_at_checked(shown) {
        Some((first, more)) if !more.is_empty() => format!("{} and {} more", first.join(", "), more.len()),
        _ => names.join(", "),
    }
}
