//! How rows and cells are named in errors and details.

use crate::place::{CellRef, SheetId};

use super::Layout;

/// `Openings row 14`; with several surveys in the run, `block-b.xlsx Openings row 14`.
pub(super) fn row_of(layouts: &[Layout<'_>], at: CellRef) -> String {
    format!("{} row {}", names(layouts, at.sheet), u64::from(at.row) + 1)
}

/// `Openings!F42`; with several surveys in the run, `block-b.xlsx Openings!F42`.
pub(super) fn cell_of(layouts: &[Layout<'_>], at: CellRef) -> String {
    format!("{}!{}", names(layouts, at.sheet), at.address())
}

fn names(layouts: &[Layout<'_>], id: SheetId) -> String {
    let grids = layouts.iter().map(Layout::grid);
    let mut sheets = grids.flat_map(|grid| grid.sheets.iter().map(move |sheet| (grid, sheet)));
    match sheets.find(|(_, sheet)| sheet.id == id) {
        Some((grid, sheet)) if layouts.len() > 1 => format!("{} {}", grid.survey, sheet.name),
        Some((_, sheet)) => sheet.name.clone(),
        None => String::new(),
    }
}
