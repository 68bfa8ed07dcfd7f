//! What stands once and speaks for several rows: merged blocks, and ditto marks, which repeat what
//! stands above them.
//!
//! Ditto marks under a building, floor, unit, room or phase stand for what is above them, as a
//! merged block does; elsewhere they are text.

use super::lines::text;
use crate::grid::{Row, Sheet, Value};
use crate::place::CellRef;

/// Ditto marks and words, without their spaces and dashes.
const DITTO: [&str; 11] =
    ["\"", "''", "\u{2033}", "\u{3003}", "\u{201c}", "\u{201d}", "\u{201e}", "ditto", "dito", "do.", "idem"];

/// One column's merged blocks and ditto marks, from the top.
pub(super) struct Blocks<'s> {
    blocks: Vec<MergedRows<'s>>,
}

/// A block's rows, both included, and what its first cell holds.
struct MergedRows<'s> {
    rows: (u32, u32),
    at: CellRef,
    value: &'s Value,
}

impl<'s> Blocks<'s> {
    /// The blocks that begin in a column and hold something, and the ditto marks in a table's rows.
    pub(super) fn of(sheet: &'s Sheet, body: &'s [Row], column: u16) -> Blocks<'s> {
        let mut blocks: Vec<MergedRows> = sheet
            .merged
            .iter()
            .filter(|block| block.columns.0 == column)
            .filter_map(|block| {
                let value = sheet.value(block.rows.0, column)?;
                Some(MergedRows { rows: block.rows, at: sheet.at(block.rows.0, column), value })
            })
            .collect();
        let mut above = None;
        for row in body {
            let Some(value) = row.value(column) else { continue };
            if is_ditto(value) {
                blocks.extend(above.map(|(at, value)| MergedRows { rows: (row.row, row.row), at, value }));
            } else {
                above = Some((sheet.at(row.row, column), value));
            }
        }
        blocks.sort_by_key(|block| block.rows.0);
        Blocks { blocks }
    }

    /// What the block over a row says, and where that stands.
    pub(super) fn over(&self, row: u32) -> Option<(CellRef, &'s Value)> {
        let below = self.blocks.partition_point(|block| block.rows.0 <= row);
        let block = self.blocks[..below].last().filter(|block| row <= block.rows.1)?;
        Some((block.at, block.value))
    }
}

/// Whether a cell says that it holds what stands above it.
pub(super) fn is_ditto(value: &Value) -> bool {
    text(value).is_some_and(|text| {
        let mark = text.trim_matches([' ', '-', '\u{2013}', '\u{2014}']).to_lowercase();
        DITTO.contains(&mark.as_str())
    })
}
