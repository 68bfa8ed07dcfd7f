//! Workbooks of 1993 to 2003 (.xls; [MS-XLS]): a compound file with one stream of records.

mod compound;
mod records;
mod sheet;

use encoding_rs::{Encoding, WINDOWS_1252};

use super::cells::{Intake, SheetCells};
use super::error::{Damage, Problem};
use super::guard::Budget;
use super::number::Epoch;
use super::shown::{Formats, Shown};
use records::{Records, Writing, kind};

/// What the workbook holds for all of its sheets.
struct Shared {
    writing: Writing,
    strings: Vec<Box<str>>,
    /// How a cell's number is shown, by its style.
    styles: Vec<Shown>,
    epoch: Epoch,
    sheets: Vec<Listed>,
}

/// A worksheet that the workbook lists.
struct Listed {
    name: String,
    /// Where in the stream it begins.
    start: usize,
}

/// Each worksheet's cells, in the workbook's order.
pub(super) fn read(file: Vec<u8>) -> Result<Vec<SheetCells>, Problem> {
    let (stream, name) = compound::workbook(&file)?;
    drop(file);
    let mut budget = Budget::whole();
    sheets(&stream, &mut budget).map_err(|damage| damage.in_part(name))
}

fn sheets(stream: &[u8], budget: &mut Budget) -> Result<Vec<SheetCells>, Damage> {
    let shared = Shared::read(stream, budget)?;
    let mut read = Vec::new();
    let mut left = stream.len();
    for Listed { name, start } in &shared.sheets {
        let records = Records::of(stream.get(*start..).ok_or_else(Damage::breaks_off)?);
        let before = records.left();
        let (cells, after) = sheet::read(records, Intake::new(name.clone(), budget), &shared)?;
        // A sheet's bytes are its own, or many sheets could be made of few bytes.
        let overlap = || Damage::Broken("its sheets overlap".into());
        left = left.checked_sub(before - after).ok_or_else(overlap)?;
        read.push(cells);
    }
    Ok(read)
}

/// The number of the format of 1997 to 2003.
const UNICODE_VERSION: u16 = 0x0600;
/// The kind of a sheet that holds cells.
const WORKSHEET: u8 = 0;

impl Shared {
    /// Reads the stream's first part, which is about the whole workbook.
    fn read(stream: &[u8], budget: &mut Budget) -> Result<Shared, Damage> {
        let mut records = Records::of(stream);
        let mut begin = records.next()?;
        if begin.kind != kind::BEGIN {
            return Err(Damage::Broken("it does not begin as a workbook".into()));
        }
        let writing = match begin.bytes.u16()? {
            UNICODE_VERSION => Writing::Unicode,
            _ => Writing::CodePage(WINDOWS_1252),
        };
        let (strings, styles, sheets) = (Vec::new(), Vec::new(), Vec::new());
        let mut shared = Shared { writing, strings, styles, epoch: Epoch::default(), sheets };
        let (mut formats, mut format_of_style) = (Formats::default(), Vec::new());
        loop {
            let mut record = records.next()?;
            match record.kind {
                kind::ENCRYPTED => return Err(Problem::Locked.into()),
                kind::CODE_PAGE => {
                    if let Writing::CodePage(encoding) = &mut shared.writing {
                        *encoding = code_page(record.bytes.u16()?);
                    }
                }
                kind::DATE_MODE if record.bytes.u16()? == 1 => shared.epoch = Epoch::January1904,
                kind::NUMBER_FORMAT => {
                    let number = record.bytes.u16()?;
                    let code = match shared.writing {
                        Writing::Unicode => record.text(shared.writing)?,
                        Writing::CodePage(_) => record.short_text(shared.writing)?,
                    };
                    formats.add(number.into(), &code);
                }
                kind::STYLE => {
                    record.bytes.u16()?;
                    format_of_style.push(record.bytes.u16()?);
                }
                kind::SHEET => {
                    let start = record.bytes.u32()? as usize;
                    record.bytes.u8()?;
                    if record.bytes.u8()? == WORKSHEET {
                        shared.sheets.push(Listed { name: record.short_text(shared.writing)?, start });
                    }
                }
                kind::SHARED_TEXTS => {
                    record.bytes.u32()?;
                    // The count is not believed where there are fewer.
                    for _ in 0..record.bytes.u32()? {
                        let Some(text) = record.shared_text()? else { break };
                        budget.keep(&text)?;
                        shared.strings.push(text.into());
                    }
                }
                kind::END => break,
                _ => {}
            }
        }
        shared.styles = format_of_style.into_iter().map(|format| formats.shown(format.into())).collect();
        Ok(shared)
    }
}

/// The encoding of a code page ([MS-XLS] 2.4.52); that of Western Europe for one that is not known.
fn code_page(number: u16) -> &'static Encoding {
    let label = match number {
        874 => "windows-874".to_owned(),
        932 => "shift_jis".to_owned(),
        936 => "gbk".to_owned(),
        949 => "euc-kr".to_owned(),
        950 => "big5".to_owned(),
        10000 => "macintosh".to_owned(),
        number => format!("windows-{number}"),
    };
    Encoding::for_label(label.as_bytes()).unwrap_or(WINDOWS_1252)
}
