//! Tables of text (.csv, .tsv): one sheet, every cell a text exactly as it is written.
//!
//! A row is a record, counted as a spreadsheet program counts them on opening the file: a blank
//! line is a row, and a line break within quotation marks is not another one.

mod encoding;
mod records;
mod separator;

use super::Value;
use super::cells::{self, Intake, SheetCells, unreadable};
use super::error::Problem;
use super::guard::Budget;
use records::{Field, Quoting, Records};

/// What stands for bytes that are no character.
const NO_CHARACTER: char = '\u{fffd}';

/// Reads a table of text, whatever is in it.
pub(super) fn read(name: String, file: Vec<u8>) -> Result<Vec<SheetCells>, Problem> {
    let text = encoding::decode(file);
    if text.contains('\0') {
        return Err(Problem::NotText);
    }
    sheet(name, &text)
}

/// Reads a file under a workbook's name, which is a table of text only if every record says so.
pub(super) fn read_evident(name: String, file: Vec<u8>) -> Result<Vec<SheetCells>, Problem> {
    let text = encoding::decode(file);
    let is_text =
        !text.contains(|c: char| c.is_control() && !matches!(c, '\t' | '\r' | '\n') || c == NO_CHARACTER);
    if is_text && separator::is_evident(&text) {
        return sheet(name, &text);
    }
    Err(Problem::NotAWorkbook)
}

/// The one sheet of a table of text, under the file's name.
fn sheet(name: String, text: &str) -> Result<Vec<SheetCells>, Problem> {
    let (separator, text) = match separator::declared(text) {
        Some((separator, rest)) => (separator, rest),
        None => (separator::found(text), text),
    };
    let mut budget = Budget::whole();
    let mut sheet = Intake::new(name, &mut budget);
    for field in Records::of(text, separator) {
        let position = sheet.position(field.record, field.column)?;
        let Some(value) = value(field)? else { continue };
        sheet.take(position, value)?;
    }
    // It has no merged cells, which alone could be damaged.
    Ok(vec![sheet.finish().map_err(|damage| damage.in_part("table"))?])
}

/// What a field holds; `None` if it is blank. What is not written as a field should be is an error
/// in its place, but not a quotation mark that swallows the rest of the file.
fn value(field: Field<'_>) -> Result<Option<Value>, Problem> {
    match field.quoting {
        Quoting::Open => Err(Problem::OpenQuote { row: u64::from(field.record) + 1 }),
        Quoting::Torn => Ok(Some(unreadable(&field.text))),
        _ if field.text.contains(NO_CHARACTER) => Ok(Some(unreadable(&field.text))),
        Quoting::Bare | Quoting::Whole => Ok(cells::text(field.text.into())),
    }
}
