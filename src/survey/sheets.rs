//! The sheets of a survey that hold openings, and how rows and cells are named in errors.

use crate::grid::{Grid, Sheet};
use crate::place::{CellRef, SheetId};
use crate::schema::Column;
use crate::schema::openings::{OPENING, OPENINGS, PAIRS, ROOM, TYPES, UNIT};
use crate::tables;

use super::SurveyError;
use super::joined::{HEIGHTS, WIDTHS};

/// Refuses a run one of whose surveys has no table of openings, before anything else is asked.
pub fn require_openings(grids: &[Grid]) -> Result<(), SurveyError> {
    grids.iter().try_for_each(|grid| of_openings(grid).map(drop))
}

/// The sheet named `Openings`; without one, every sheet that holds a table that looks like it.
/// Never empty: a survey without any is an error.
pub(super) fn of_openings(grid: &Grid) -> Result<Vec<&Sheet>, SurveyError> {
    if let Some(openings) = tables::find(grid, OPENINGS.sheet) {
        return Ok(vec![openings]);
    }
    let types = of_types(grid).map(|types| types.id);
    let others = grid.sheets.iter().filter(|sheet| Some(sheet.id) != types);
    let found: Vec<&Sheet> = others.filter(|sheet| looks_like_openings(sheet)).collect();
    if found.is_empty() {
        let sheets = grid.sheets.iter().map(|sheet| sheet.name.clone()).collect();
        return Err(SurveyError::NoOpenings { survey: grid.survey.clone(), sheets });
    }
    Ok(found)
}

/// Whether a sheet has headings that say which opening a row is, how wide and how high.
fn looks_like_openings(sheet: &Sheet) -> bool {
    tables::found_on(sheet, &OPENINGS).iter().any(|found| {
        let has = |wanted: &Column| found.columns().any(|column| column.slot == wanted.slot);
        let named = [&OPENING, &UNIT, &ROOM].iter().any(|name| has(name));
        let in_one = PAIRS.iter().any(|pair| has(pair));
        let sized =
            in_one || [&WIDTHS, &HEIGHTS].iter().all(|size| found.columns().any(|column| size.has(column)));
        named && sized
    })
}

/// The sheet named `Types`, if there is one.
pub(super) fn of_types(grid: &Grid) -> Option<&Sheet> {
    tables::find(grid, TYPES)
}

/// `Openings row 14`; with several surveys in the run, `block-b.xlsx Openings row 14`.
pub(super) fn row_of(grids: &[Grid], at: CellRef) -> String {
    format!("{} row {}", names(grids, at.sheet), u64::from(at.row) + 1)
}

/// `Openings!F42`; with several surveys in the run, `block-b.xlsx Openings!F42`.
pub(super) fn cell_of(grids: &[Grid], at: CellRef) -> String {
    format!("{}!{}", names(grids, at.sheet), at.address())
}

fn names(grids: &[Grid], id: SheetId) -> String {
    let sheets = grids.iter().flat_map(|grid| grid.sheets.iter().map(move |sheet| (grid, sheet)));
    match sheets.into_iter().find(|(_, sheet)| sheet.id == id) {
        Some((grid, sheet)) if grids.len() > 1 => format!("{} {}", grid.survey, sheet.name),
        Some((_, sheet)) => sheet.name.clone(),
        None => String::new(),
    }
}
