//! The project's items, checked.

use super::columns::project::{COLUMNS, Project};
use super::queries::{Findings, RuleQuery};
use super::raw::{Missing, RawRow};
use crate::assumptions::Assumption;
use crate::length::Units;
use crate::money::Currency;

/// The project's items with their blanks filled; `None` if something in them stops the run.
pub(super) fn project(row: &RawRow, units: Units, findings: &mut Findings) -> Option<Project> {
    if !row.sift(findings) {
        return None;
    }
    let Some(currency) = Currency::from_code(row.written(&COLUMNS.currency)) else {
        findings.raise(RuleQuery::Currency, row.at(&COLUMNS.currency), row.written(&COLUMNS.currency));
        return None;
    };
    Project::read(row, units, currency)
        .inspect_err(|Missing(column)| {
            let query = RuleQuery::NoValue { sheet: row.table.sheet, rule: column.name };
            findings.raise(query, row.at(column), row.written(column));
        })
        .ok()
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
