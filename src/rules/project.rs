//! The project's items, checked.

use super::columns::project::{COLUMNS, Project};
use super::queries::{Findings, RuleQuery, RulesError};
use super::raw::RawRow;
use super::work_days::WorkDays;
use crate::assumptions::Assumption;
use crate::length::Units;
use crate::money::Currency;

/// The project's items with their blanks filled; `None` if something in them stops the run.
///
/// # Errors
/// If an item is blank that must have a built-in value.
pub(super) fn project(
    row: &RawRow,
    units: Units,
    findings: &mut Findings,
) -> Result<Option<Project>, RulesError> {
    if !row.sift(findings) {
        return Ok(None);
    }
    let Some(currency) = Currency::from_code(row.written(&COLUMNS.currency)) else {
        findings.raise(RuleQuery::Currency, row.at(&COLUMNS.currency), row.written(&COLUMNS.currency));
        return Ok(None);
    };
    let written = row.written(&COLUMNS.work_days);
    let Some(work_days) = WorkDays::from_text(written) else {
        findings.raise(RuleQuery::WorkDays, row.at(&COLUMNS.work_days), written);
        return Ok(None);
    };
    Ok(Some(Project::read(row, units, currency, work_days)?))
}

/// Every item that the survey left blank and that was taken to mean something.
pub(super) fn assumptions(row: &RawRow) -> Vec<Assumption> {
    let assumed = row.table.columns.iter().filter_map(|column| {
        let value = match row.cell(column) {
            Some(cell) if cell.at().is_none() => cell.written.clone(),
            None if column.slot == COLUMNS.jurisdiction.slot => COLUMNS.jurisdiction.blank.to_owned(),
            _ => return None,
        };
        Some(Assumption { column, value, openings: 0 })
    });
    assumed.collect()
}
