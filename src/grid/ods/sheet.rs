//! One sheet's rows and columns, as often as each is repeated.
//!
//! A row or a cell may stand for a billion others. Those that hold nothing are passed over in one
//! step; those that hold something are counted like any other cells, and end at the same limit.

use super::cell::{Cell, times};
use super::text;
use crate::grid::Value;
use crate::grid::cells::{Intake, SheetCells};
use crate::grid::error::Damage;
use crate::grid::xml::{Element, Step, Xml};

/// Reads a sheet to its end.
pub(super) fn read(xml: &mut Xml<'_>, mut sheet: Intake<'_>) -> Result<SheetCells, Damage> {
    let (mut row, mut column) = (0_u32, 0_u32);
    let table = xml.open();
    while let Some(step) = xml.step(table)? {
        let Step::Element(element) = step else { continue };
        match element.name() {
            "table-column" => {
                let run = Run::of(&element, "number-columns-repeated")?;
                let end = column.saturating_add(run.length);
                if run.hidden {
                    sheet.hide_columns(column, end - 1);
                }
                column = end;
            }
            "table-row" => {
                let run = Run::of(&element, "number-rows-repeated")?;
                let cells = cells(xml, &mut sheet, row)?;
                let end = row.saturating_add(run.length);
                if run.hidden {
                    sheet.hide_rows(row, end - 1);
                }
                if !cells.is_empty() {
                    repeat(&mut sheet, &cells, row, end)?;
                }
                row = end;
            }
            "table-rows"
            | "table-columns"
            | "table-header-rows"
            | "table-header-columns"
            | "table-row-group"
            | "table-column-group" => {}
            // Pictures, forms and the like.
            _ => xml.skip()?,
        }
    }
    sheet.finish()
}

/// A run of rows or columns that are alike.
struct Run {
    /// How many there are: at least one.
    length: u32,
    /// Hidden by hand, by a filter or in a group that is folded away.
    hidden: bool,
}

impl Run {
    fn of(element: &Element<'_>, repeated: &str) -> Result<Run, Damage> {
        let visibility = element.attribute("visibility")?;
        let hidden = matches!(visibility.as_str(), "collapse" | "filter");
        Ok(Run { length: times(&element.attribute(repeated)?), hidden })
    }
}

/// Cells of one row that hold something, with their columns; merged blocks are noted.
fn cells(xml: &mut Xml<'_>, sheet: &mut Intake<'_>, row: u32) -> Result<Vec<(u16, Value)>, Damage> {
    let mut cells = Vec::new();
    let mut column = 0_u32;
    let table_row = xml.open();
    while let Some(step) = xml.step(table_row)? {
        let Step::Element(element) = step else { continue };
        match element.name() {
            "table-cell" | "covered-table-cell" => {
                let cell = Cell::of(&element)?;
                let value = cell.value(text::read(xml)?);
                let end = column.saturating_add(cell.repeated);
                if cell.rows > 1 || cell.columns > 1 {
                    let last = |first: u32, count: u32| first.saturating_add(count - 1);
                    sheet.merge((row, last(row, cell.rows)), (column, last(column, cell.columns)));
                }
                if let Some(value) = value {
                    for column in column..end {
                        let (_, column) = sheet.position(row, column)?;
                        cells.push((column, value.clone()));
                    }
                }
                column = end;
            }
            _ => xml.skip()?,
        }
    }
    Ok(cells)
}

/// Enters a row's cells from one row up to another.
fn repeat(sheet: &mut Intake<'_>, cells: &[(u16, Value)], first: u32, end: u32) -> Result<(), Damage> {
    for row in first..end {
        for (column, value) in cells {
            let position = sheet.position(row, u32::from(*column))?;
            sheet.take(position, value.clone())?;
        }
    }
    Ok(())
}
