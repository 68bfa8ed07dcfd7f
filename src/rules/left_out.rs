//! Rule sheets that one survey of a run has and another leaves out. One survey alone may bring all
//! of them, and then it rules the others, with a note; else a sheet that is left out would be
//! another survey's in silence.

use super::columns::RULE_SHEETS;
use super::queries::{Findings, RuleQuery};
use crate::grid::{Grid, Sheet};
use crate::place::CellRef;
use crate::schema::Table;
use crate::tables;

/// A sheet of that name that holds anything.
pub(super) fn filled<'g>(grid: &'g Grid, table: &Table) -> Option<&'g Sheet> {
    tables::find(grid, table.sheet).filter(|sheet| !sheet.rows.is_empty())
}

/// What stands for a survey as a whole: the first cell of its first sheet.
pub(super) fn first_cell(grid: &Grid) -> Option<CellRef> {
    grid.sheets.first().map(|sheet| sheet.at(0, 0))
}

/// A stop at every survey, with the sheet and without it; a note at each that has no rule sheet
/// where one survey alone has any.
pub(super) fn ask(grids: &[Grid], findings: &mut Findings) {
    let brings_rules = |grid: &&Grid| RULE_SHEETS.iter().any(|table| filled(grid, table).is_some());
    let (with, without): (Vec<&Grid>, Vec<&Grid>) = grids.iter().partition(brings_rules);
    if let [ruling] = with.as_slice() {
        for grid in without {
            findings.raise(RuleQuery::NoRules, first_cell(grid), format!("those of {}", ruling.survey));
        }
        return;
    }
    for table in RULE_SHEETS {
        let has = |grid: &&Grid| filled(grid, table).is_some();
        if grids.iter().all(|grid| has(&grid)) || !grids.iter().any(|grid| has(&grid)) {
            continue;
        }
        for grid in grids {
            let asked = RuleQuery::LeftOut { sheet: table.sheet };
            match filled(grid, table) {
                Some(sheet) => findings.raise(asked, Some(sheet.at(0, 0)), ""),
                None => findings.raise(asked, first_cell(grid), format!("no sheet {}", table.sheet)),
            }
        }
    }
}
