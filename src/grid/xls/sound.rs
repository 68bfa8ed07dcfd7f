//! Whether the cells of a sheet are all there.
//!
//! A stream of records has no sums by which a spoilt byte would show: a record whose number it spoils is
//! one that no reader knows, and with it a cell is gone, or a row. So what a sheet says twice is held
//! together. Its rows say which of them hold cells, and how far they reach; its dimensions say how far all
//! of them do; cells have lengths of their own; and among them stand only such records as writers put
//! there. Some writers leave the dimensions as they were when rows are taken away, and some count the
//! columns of a row one short, so neither is believed alone.

use std::collections::BTreeMap;

use super::records::{Record, Writing, kind};
use super::sheet::may_hold_something;
use crate::grid::error::Damage;

/// What a sheet has said of its cells, and what has come of it.
#[derive(Default)]
pub(super) struct Sound {
    /// Rows that hold cells by their own word, each with the column before which they end.
    promised: BTreeMap<u16, u16>,
    /// Rows of which a cell has come, each with the last column of one.
    filled: BTreeMap<u16, u16>,
    /// How many rows there are of which there is a record, their own or a cell's.
    reaches: u32,
    /// How many rows and columns the sheet has by its dimensions.
    rows: u32,
    columns: u16,
    /// Whether a record that no writer puts among cells stands behind the last of them.
    stranger: bool,
}

impl Sound {
    /// Notes a record of the sheet.
    pub(super) fn note(&mut self, record: &Record<'_>, writing: Writing) -> Result<(), Damage> {
        let kind = record.kind;
        if let Some(length) = length(kind)
            && record.bytes.0.len() != length
        {
            return Err(broken("it has a cell of the wrong length"));
        }
        let is_cell = is_cell(kind);
        if (is_cell || kind == kind::ROW) && (self.stranger || record.goes_on() && !may_go_on(kind)) {
            return Err(broken("it has something unknown among its cells"));
        }
        let mut bytes = record.bytes;
        if is_cell {
            let (row, column) = (bytes.u16()?, bytes.u16()?);
            let last = self.filled.entry(row).or_default();
            *last = column.max(*last);
            self.reaches = self.reaches.max(u32::from(row) + 1);
        } else if kind == kind::ROW {
            let (row, first, end) = (bytes.u16()?, bytes.u16()?, bytes.u16()?);
            self.reaches = self.reaches.max(u32::from(row) + 1);
            // Some writers say of a row without cells that it ends behind its first column.
            if first < end && end > 1 {
                self.promised.insert(row, end);
            }
        } else if kind == kind::DIMENSIONS {
            self.rows = match writing {
                Writing::Unicode => (bytes.u32()?, bytes.u32()?).1,
                Writing::CodePage(_) => (bytes.u16()?, bytes.u16()?.into()).1,
            };
            bytes.u16()?;
            self.columns = bytes.u16()?;
        } else if self.reaches > 0 {
            self.stranger |= !stands_among_cells(kind) || record.goes_on() && !may_go_on(kind);
        }
        Ok(())
    }

    /// Holds together what the whole sheet has said.
    pub(super) fn at_end(&self) -> Result<(), Damage> {
        let number = |row: &u16| u32::from(*row) + 1;
        if let Some(row) = self.promised.keys().find(|row| !self.filled.contains_key(row)) {
            return Err(broken(&format!("row {} of a sheet has lost its cells", number(row))));
        }
        if self.promised.is_empty() && self.reaches < self.rows {
            let Sound { reaches, rows, .. } = self;
            return Err(broken(&format!("a sheet ends at row {reaches} and should end at row {rows}")));
        }
        if let Some((row, _)) = self.filled.iter().find(|(row, last)| self.is_astray(**row, **last)) {
            return Err(broken(&format!("row {} of a sheet has a cell too far out", number(row))));
        }
        Ok(())
    }

    /// Whether a cell is past the end of its row and of the sheet.
    fn is_astray(&self, row: u16, column: u16) -> bool {
        let past_its_row = self.promised.get(&row).is_none_or(|end| column > *end);
        let past_the_sheet = u32::from(row) >= self.rows || column > self.columns;
        !self.promised.is_empty() && self.rows > 0 && past_its_row && past_the_sheet
    }
}

fn broken(reason: &str) -> Damage {
    Damage::Broken(reason.to_owned())
}

/// Whether a record is a cell, or several, whatever it holds.
fn is_cell(kind: u16) -> bool {
    may_hold_something(kind) || matches!(kind, kind::SQUEEZED_NUMBERS | kind::BLANK | kind::BLANKS)
}

/// Bytes of a record that are always as many ([MS-XLS] 2.4).
fn length(kind: u16) -> Option<usize> {
    Some(match kind {
        kind::BLANK => 6,
        kind::TRUTH_OR_ERROR => 8,
        kind::SQUEEZED_NUMBER | kind::SHARED_TEXT => 10,
        kind::NUMBER => 14,
        kind::ROW => 16,
        _ => return None,
    })
}

/// Whether a record may be too long for one: those that hold texts or pictures.
fn may_go_on(kind: u16) -> bool {
    matches!(kind, kind::TEXT | kind::RICH_TEXT | kind::FORMULA_TEXT) || FROM_ELSEWHERE.contains(&kind)
}

/// Records that belong to cells: blocks of rows, formulas that several cells share and their results.
const OF_CELLS: [u16; 8] = [0x005E, 0x0091, 0x00D7, 0x01C2, kind::FORMULA_TEXT, 0x0221, 0x0236, 0x04BC];

/// Records that stand elsewhere by the format, and that some writers put beside the cell that they are
/// about: notes, links, drawings, merged blocks, choices, formats and columns.
const FROM_ELSEWHERE: [u16; 18] = [
    0x001C, 0x001D, 0x0055, 0x005D, 0x007D, 0x007F, 0x00E5, 0x00EC, 0x00ED, 0x00EF, 0x01B0, 0x01B1, 0x01B2,
    0x01B6, 0x01B8, 0x01BE, 0x0225, 0x0800,
];

fn stands_among_cells(kind: u16) -> bool {
    OF_CELLS.contains(&kind) || FROM_ELSEWHERE.contains(&kind)
}
