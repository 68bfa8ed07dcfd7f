//! One sheet's cells, merged blocks and hidden rows and columns, in one pass.

use super::Shared;
use super::records::{Record, Records, kind};
use crate::grid::Value;
use crate::grid::binary::{self, Bytes};
use crate::grid::cells::{Intake, SheetCells, text, unreadable};
use crate::grid::error::Damage;

/// Reads a sheet to its end.
pub(super) fn read(
    records: &mut Records<'_>,
    mut sheet: Intake<'_>,
    shared: &Shared,
) -> Result<SheetCells, Damage> {
    let (mut row, mut next_column) = (0, 0);
    loop {
        let Record { kind, mut bytes } = records.next()?;
        match kind {
            kind::ROW => {
                (row, next_column) = (bytes.u32()?, 0);
                bytes.take(7)?;
                if bytes.u8()? & ROW_HIDDEN != 0 {
                    sheet.hide_rows(row, row);
                }
            }
            kind::COLUMNS => {
                let (first, last) = (bytes.u32()?, bytes.u32()?);
                bytes.take(8)?;
                if bytes.u16()? & COLUMNS_HIDDEN != 0 {
                    sheet.hide_columns(first, last);
                }
            }
            kind::MERGED => {
                let rows = (bytes.u32()?, bytes.u32()?);
                sheet.merge(rows, (bytes.u32()?, bytes.u32()?));
            }
            kind::END_OF_SHEET => return sheet.finish(),
            _ => {
                let (kind, column) = match kind {
                    kind::CELL_BLANK..=kind::FORMULA_ERROR | kind::CELL_RICH_TEXT => (kind, bytes.u32()?),
                    kind::SHORT_CELL_BLANK..=kind::SHORT_CELL_SHARED_TEXT => {
                        (kind - kind::SHORT_CELL_BLANK + kind::CELL_BLANK, next_column)
                    }
                    _ => continue,
                };
                let position = sheet.position(row, column)?;
                next_column = column + 1;
                if let Some(value) = value(kind, bytes, shared)? {
                    sheet.take(position, value)?;
                }
            }
        }
    }
}

/// The flag of a row that is not shown.
const ROW_HIDDEN: u8 = 0x10;
/// The flag of columns that are not shown.
const COLUMNS_HIDDEN: u16 = 1;

/// What a cell holds, from its style on.
fn value(kind: u32, mut bytes: Bytes<'_>, shared: &Shared) -> Result<Option<Value>, Damage> {
    // The upper byte holds flags of its own.
    let style = bytes.u32()? & 0x00FF_FFFF;
    let number = |number| {
        let shown = shared.styles.get(style as usize).copied().unwrap_or_default();
        Some(shown.stored(number, shared.epoch))
    };
    Ok(match kind {
        kind::CELL_SQUEEZED => number(bytes.squeezed()?),
        kind::CELL_NUMBER | kind::FORMULA_NUMBER => number(bytes.f64()?),
        kind::CELL_TRUTH | kind::FORMULA_TRUTH => Some(Value::Truth(bytes.u8()? != 0)),
        kind::CELL_ERROR | kind::FORMULA_ERROR => Some(binary::error(bytes.u8()?)),
        kind::CELL_TEXT | kind::FORMULA_TEXT => text(bytes.wide_text()?.into()),
        kind::CELL_RICH_TEXT => {
            bytes.u8()?;
            text(bytes.wide_text()?.into())
        }
        kind::CELL_SHARED_TEXT => {
            let at = bytes.u32()?;
            match shared.strings.get(at as usize) {
                Some(shared) => text(shared.clone()),
                None => Some(unreadable(&at.to_string())),
            }
        }
        _ => None,
    })
}
