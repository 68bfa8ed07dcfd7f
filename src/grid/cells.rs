//! A sheet's cells as a reader finds them, whatever its format.

use std::collections::BTreeMap;

use super::error::{Damage, Problem};
use super::guard::Budget;
use super::{Block, Hidden, Row, Value};
use crate::place::{LONGEST_TEXT, MOST_COLUMNS, MOST_ROWS};

/// What a sheet holds.
pub(super) struct SheetCells {
    /// The sheet's name as written.
    pub name: String,
    /// Rows with at least one cell that holds something, in order.
    pub rows: Vec<Row>,
    /// Merged blocks, in order of their first cell.
    pub merged: Vec<Block>,
    /// Rows and columns that it does not show.
    pub hidden: Hidden,
}

/// Takes in a sheet's cells, in the order in which its file holds them.
pub(super) struct Intake<'b> {
    name: String,
    budget: &'b mut Budget,
    rows: Vec<Row>,
    merged: Vec<Block>,
    hidden: Hidden,
}

impl<'b> Intake<'b> {
    pub(super) fn new(name: String, budget: &'b mut Budget) -> Intake<'b> {
        Intake { name, budget, rows: Vec::new(), merged: Vec::new(), hidden: Hidden::default() }
    }

    /// A cell that lies outside every sheet.
    pub(super) fn outside(&self, address: &str) -> Problem {
        Problem::OutsideGrid { sheet: self.name.clone(), address: address.to_owned() }
    }

    /// A row and a column (from 0), if a sheet has them.
    pub(super) fn position(&self, row: u32, column: u32) -> Result<(u32, u16), Problem> {
        let within = u16::try_from(column).ok().filter(|column| row < MOST_ROWS && *column < MOST_COLUMNS);
        within.map(|column| (row, column)).ok_or_else(|| {
            let (row, column) = (u64::from(row) + 1, u64::from(column) + 1);
            self.outside(&format!("row {row}, column {column}"))
        })
    }

    /// Takes one cell's value.
    pub(super) fn take(&mut self, (row, column): (u32, u16), value: Value) -> Result<(), Problem> {
        self.budget.spend(&value)?;
        match self.rows.last_mut() {
            Some(last) if last.row == row => last.cells.push((column, value)),
            mut last => {
                // Rows of one sheet are about as long as each other.
                let mut cells = Vec::with_capacity(last.as_ref().map_or(0, |last| last.cells.len()));
                last.iter_mut().for_each(|last| last.cells.shrink_to_fit());
                cells.push((column, value));
                self.rows.push(Row { row, cells });
            }
        }
        Ok(())
    }

    /// Takes a merged block, both ends included; one that is no block within a sheet is passed over.
    pub(super) fn merge(&mut self, rows: (u32, u32), columns: (u32, u32)) {
        let within = |row, column| self.position(row, column).ok();
        if let (Some(first), Some(last)) = (within(rows.0, columns.0), within(rows.1, columns.1))
            && first.0 <= last.0
            && first.1 <= last.1
        {
            self.merged.push(Block { rows: (first.0, last.0), columns: (first.1, last.1) });
        }
    }

    /// Notes rows that the sheet does not show, both ends included.
    pub(super) fn hide_rows(&mut self, first: u32, last: u32) {
        if first <= last && first < MOST_ROWS {
            self.hidden.rows.push((first, last.min(MOST_ROWS - 1)));
        }
    }

    /// Notes columns that the sheet does not show, both ends included.
    pub(super) fn hide_columns(&mut self, first: u32, last: u32) {
        let most = u32::from(MOST_COLUMNS) - 1;
        if let (Ok(first), Ok(last)) = (u16::try_from(first), u16::try_from(last.min(most)))
            && first <= last
        {
            self.hidden.columns.push((first, last));
        }
    }

    /// The sheet, put into order. Merged blocks that share a cell say two things of it, so that none
    /// could be believed.
    pub(super) fn finish(mut self) -> Result<SheetCells, Damage> {
        in_order(&mut self.rows);
        self.merged.sort_unstable_by_key(|block| (block.rows, block.columns));
        self.merged.dedup();
        if overlap(&self.merged) {
            return Err(Damage::Broken(format!("the merged cells of {} overlap", self.name)));
        }
        let hidden = Hidden { rows: joined(self.hidden.rows), columns: joined(self.hidden.columns) };
        Ok(SheetCells { name: self.name, rows: self.rows, merged: self.merged, hidden })
    }
}

/// Whether any two blocks share a cell; they are in order of their first row.
fn overlap(blocks: &[Block]) -> bool {
    // Blocks that may reach into the rows to come, by their first column: last column and last row.
    let mut open: BTreeMap<u16, (u16, u32)> = BTreeMap::new();
    for block in blocks {
        let (first, last) = block.columns;
        // Those that are open share no column, so the nearest on the left is the one that could reach in.
        while let Some((&column, &(end, below))) = open.range(..=last).next_back() {
            if end < first {
                break;
            }
            if below >= block.rows.0 {
                return true;
            }
            open.remove(&column);
        }
        open.insert(first, (last, block.rows.1));
    }
    false
}

/// Runs in order, those joined that touch or overlap.
fn joined<T: Copy + Ord + Into<u32>>(mut runs: Vec<(T, T)>) -> Vec<(T, T)> {
    runs.sort_unstable();
    runs.dedup_by(|later, earlier| {
        let one = later.0.into() <= earlier.1.into() + 1;
        if one {
            earlier.1 = earlier.1.max(later.1);
        }
        one
    });
    runs
}

/// Puts rows and cells that a file holds out of order into order. Two values for one cell that are not
/// the same are an error in it.
fn in_order(rows: &mut Vec<Row>) {
    let rises = |rows: &[Row]| rows.windows(2).all(|pair| pair[0].row < pair[1].row);
    if !rises(rows) {
        rows.sort_by_key(|row| row.row);
        rows.dedup_by(|later, earlier| {
            let same = later.row == earlier.row;
            if same {
                earlier.cells.append(&mut later.cells);
            }
            same
        });
    }
    for row in rows {
        if !row.cells.windows(2).all(|pair| pair[0].0 < pair[1].0) {
            row.cells.sort_by_key(|cell| cell.0);
            row.cells.dedup_by(|later, earlier| {
                let same = later.0 == earlier.0;
                if same && later.1 != earlier.1 {
                    earlier.1 = two_values();
                }
                same
            });
        }
    }
}

/// A text, unless it is blank or longer than a cell can hold.
pub(super) fn text(text: Box<str>) -> Option<Value> {
    if text.trim().is_empty() {
        return None;
    }
    if text.len() > LONGEST_TEXT && text.encode_utf16().count() > LONGEST_TEXT {
        return Some(Value::Error(format!("a text of more than {LONGEST_TEXT} characters").into()));
    }
    Some(Value::Text(text))
}

/// What stands in a cell that a file gives two values: no one can tell which of them is meant.
pub(super) fn two_values() -> Value {
    unreadable("two values for one cell")
}

/// What stands in a cell and is no value.
pub(super) fn unreadable(text: &str) -> Value {
    Value::Error(text.chars().take(40).collect::<String>().into())
}
