//! One sheet's cells, merged blocks and hidden rows and columns, in one pass.

use super::Shared;
use super::records::{Record, Records, kind};
use super::sound::Sound;
use crate::grid::Value;
use crate::grid::binary::{self, Bytes};
use crate::grid::cells::{Intake, SheetCells, text, unreadable};
use crate::grid::error::Damage;

/// The flag of a row that is not shown.
const ROW_HIDDEN: u8 = 0x20;
/// The flag of columns that are not shown.
const COLUMNS_HIDDEN: u16 = 1;

/// Reads a sheet, of which the first record has been read, to its end.
pub(super) fn read(
    records: &mut Records<'_>,
    mut sheet: Intake<'_>,
    shared: &Shared,
) -> Result<SheetCells, Damage> {
    let mut sound = Sound::default();
    // Charts within the sheet begin and end as it does.
    let mut charts = 0_u32;
    // The cell of a formula whose result is a text that follows.
    let mut awaited = None;
    loop {
        let mut record = records.next()?;
        match record.kind {
            kind::BEGIN => charts += 1,
            kind::END if charts == 0 => break,
            kind::END => charts -= 1,
            _ if charts > 0 => {}
            _ => sound.note(&record, shared.writing)?,
        }
        if charts > 0 {
            continue;
        }
        match record.kind {
            kind::ROW => {
                let row = record.bytes.u16()?.into();
                record.bytes.take(10)?;
                if record.bytes.u8()? & ROW_HIDDEN != 0 {
                    sheet.hide_rows(row, row);
                }
            }
            kind::COLUMNS => {
                let (first, last) = (record.bytes.u16()?, record.bytes.u16()?);
                record.bytes.take(4)?;
                if record.bytes.u16()? & COLUMNS_HIDDEN != 0 {
                    sheet.hide_columns(first.into(), last.into());
                }
            }
            kind::MERGED => {
                for _ in 0..record.bytes.u16()? {
                    let mut end = || record.bytes.u16().map(u32::from);
                    let rows = (end()?, end()?);
                    sheet.merge(rows, (end()?, end()?));
                }
            }
            kind::SQUEEZED_NUMBERS => squeezed_numbers(record.bytes, &mut sheet, shared)?,
            kind::FORMULA_TEXT => {
                if let Some(position) = awaited.take()
                    && let Some(value) = text(record.text(shared.writing)?.into())
                {
                    sheet.take(position, value)?;
                }
            }
            kind if may_hold_something(kind) => {
                if let Some(formula) = awaited.take() {
                    sheet.take(formula, Value::NoResult)?;
                }
                let (row, column) = (record.bytes.u16()?, record.bytes.u16()?);
                let position = sheet.position(row.into(), column.into())?;
                match held(record, shared)? {
                    Held::Value(value) => sheet.take(position, value)?,
                    Held::TextThatFollows => awaited = Some(position),
                    Held::Nothing => {}
                }
            }
            _ => {}
        }
    }
    if let Some(formula) = awaited {
        sheet.take(formula, Value::NoResult)?;
    }
    sound.at_end()?;
    sheet.finish()
}

/// Whether a record is a cell of its own that may hold something.
pub(super) fn may_hold_something(kind: u16) -> bool {
    matches!(
        kind,
        kind::FORMULA
            | kind::FORMULA_OF_1990
            | kind::FORMULA_OF_1992
            | kind::NUMBER
            | kind::SQUEEZED_NUMBER
            | kind::TEXT
            | kind::RICH_TEXT
            | kind::SHARED_TEXT
            | kind::TRUTH_OR_ERROR
    )
}

/// What a cell holds.
enum Held {
    Value(Value),
    /// A formula's text, in a record of its own.
    TextThatFollows,
    Nothing,
}

impl From<Option<Value>> for Held {
    fn from(value: Option<Value>) -> Held {
        value.map_or(Held::Nothing, Held::Value)
    }
}

/// What a cell holds, from its style on.
fn held(mut record: Record<'_>, shared: &Shared) -> Result<Held, Damage> {
    let style = record.bytes.u16()?;
    Ok(match record.kind {
        kind::NUMBER => Held::Value(number(record.bytes.f64()?, style, shared)),
        kind::SQUEEZED_NUMBER => Held::Value(number(record.bytes.squeezed()?, style, shared)),
        kind::TEXT | kind::RICH_TEXT => text(record.text(shared.writing)?.into()).into(),
        kind::SHARED_TEXT => {
            let at = record.bytes.u32()?;
            match shared.strings.get(at as usize) {
                Some(shared) => text(shared.clone()).into(),
                None => Held::Value(unreadable(&at.to_string())),
            }
        }
        kind::TRUTH_OR_ERROR => {
            let (value, is_error) = (record.bytes.u8()?, record.bytes.u8()?);
            Held::Value(if is_error == 0 { Value::Truth(value != 0) } else { binary::error(value) })
        }
        kind::FORMULA | kind::FORMULA_OF_1990 | kind::FORMULA_OF_1992 => result(record.bytes, style, shared)?,
        _ => Held::Nothing,
    })
}

/// A formula's result: a number, or no number at all, whose last bytes say so ([MS-XLS] 2.5.133).
fn result(mut bytes: Bytes<'_>, style: u16, shared: &Shared) -> Result<Held, Damage> {
    let mut parts = Bytes(bytes.take(8)?);
    let [kind, _, value, _, _, _, 0xFF, 0xFF] = *parts.0 else {
        return Ok(Held::Value(number(parts.f64()?, style, shared)));
    };
    Ok(match kind {
        0 => Held::TextThatFollows,
        1 => Held::Value(Value::Truth(value != 0)),
        2 => Held::Value(binary::error(value)),
        // An empty text.
        3 => Held::Nothing,
        _ => Held::Value(Value::NoResult),
    })
}

fn number(number: f64, style: u16, shared: &Shared) -> Value {
    let shown = shared.styles.get(usize::from(style)).copied().unwrap_or_default();
    shown.stored(number, shared.epoch)
}

/// Several numbers beside each other, each with its style, then the last one's column.
fn squeezed_numbers(mut bytes: Bytes<'_>, sheet: &mut Intake<'_>, shared: &Shared) -> Result<(), Damage> {
    let (row, first) = (bytes.u16()?, bytes.u16()?);
    let mut column = u32::from(first);
    while bytes.0.len() >= 6 {
        let style = bytes.u16()?;
        let value = number(bytes.squeezed()?, style, shared);
        let position = sheet.position(row.into(), column)?;
        sheet.take(position, value)?;
        column += 1;
    }
    match u32::from(bytes.u16()?) + 1 == column {
        true => Ok(()),
        false => Err(Damage::Broken("it has numbers of which some are missing".into())),
    }
}
