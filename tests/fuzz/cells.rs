//! Spoils the cells of a survey's sheets: what stands in them, and where.

use sillbook::grid::{Grid, Row, Sheet, Value};

use super::texts;
use crate::support;
use crate::support::chance::Chance;

/// Values that no surveyor would write, and some that any would, in cells where they have no place.
pub fn odd_cells() -> Vec<Value> {
    let sheets = support::grid(include_str!("odd-cells.txt")).sheets;
    let cells = sheets.into_iter().flat_map(|sheet| sheet.rows).flat_map(|row| row.cells);
    let long = [Value::Text("W".repeat(40_000).into()), Value::Text("a\nb\u{1b}[31m\u{0}".into())];
    cells.map(|(_, value)| value).chain(long).collect()
}

/// Spoils one to four things on sheets whose names `wanted` likes; on any if it likes none.
pub fn spoil(grid: &mut Grid, wanted: impl Fn(&str) -> bool, odd: &[Value], chance: &mut Chance) {
    let liked: Vec<usize> = (0..grid.sheets.len()).filter(|at| wanted(&grid.sheets[*at].name)).collect();
    for _ in 0..1 + chance.of(4) {
        let at = if liked.is_empty() { chance.of(grid.sheets.len()) } else { liked[chance.of(liked.len())] };
        if let Some(sheet) = grid.sheets.get_mut(at) {
            spoil_sheet(sheet, odd, chance);
        }
    }
}

fn spoil_sheet(sheet: &mut Sheet, odd: &[Value], chance: &mut Chance) {
    if sheet.rows.is_empty() {
        return;
    }
    let row = chance.of(sheet.rows.len());
    let cells = &sheet.rows[row].cells;
    let column = cells[chance.of(cells.len())].0;
    let other = any_value(sheet, chance);
    match chance.of(9) {
        0 | 1 => put(&mut sheet.rows[row], column, odd[chance.of(odd.len())].clone()),
        2 => put(&mut sheet.rows[row], column, other),
        3 => {
            if let Some(Value::Text(text)) = sheet.rows[row].value(column) {
                let text = texts::spoilt(text, chance);
                put(&mut sheet.rows[row], column, Value::Text(text.into()));
            }
        }
        4 => put(&mut sheet.rows[row], column + 1 + chance.of(3) as u16, other),
        5 => sheet.rows[row].cells.retain(|(place, _)| *place != column),
        6 => drop(sheet.rows.remove(row)),
        7 => repeat(sheet, row),
        _ => {
            let value = odd[chance.of(odd.len())].clone();
            sheet.rows.iter_mut().for_each(|row| put(row, column, value.clone()));
        }
    }
    sheet.rows.retain(|row| !row.cells.is_empty());
}

fn any_value(sheet: &Sheet, chance: &mut Chance) -> Value {
    let cells = &sheet.rows[chance.of(sheet.rows.len())].cells;
    cells[chance.of(cells.len())].1.clone()
}

/// A row once more, below itself.
fn repeat(sheet: &mut Sheet, row: usize) {
    let mut again = sheet.rows[row].clone();
    again.row += 1;
    sheet.rows[row + 1..].iter_mut().for_each(|row| row.row += 1);
    sheet.rows.insert(row + 1, again);
}

/// Puts a value into a row's cell.
pub fn put(row: &mut Row, column: u16, value: Value) {
    row.cells.retain(|(place, _)| *place != column);
    row.cells.push((column, value));
    row.cells.sort_by_key(|(place, _)| *place);
}
