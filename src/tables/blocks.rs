//! Merged blocks that speak for every row they cover.

use crate::grid::{Sheet, Value};
use crate::place::CellRef;

/// One column's merged blocks, from the top.
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
    /// The blocks that begin in a column and hold something.
    pub(super) fn of(sheet: &'s Sheet, column: u16) -> Blocks<'s> {
        let mut blocks: Vec<MergedRows> = sheet
            .merged
            .iter()
            .filter(|block| block.columns.0 == column)
            .filter_map(|block| {
                let value = sheet.value(block.rows.0, column)?;
                Some(MergedRows { rows: block.rows, at: sheet.at(block.rows.0, column), value })
            })
            .collect();
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
