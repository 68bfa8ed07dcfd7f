//! Workbooks of 1993 to 2003 (.xls; [MS-XLS]): a compound file with one stream of records.

mod compound;
mod records;
mod sheet;
mod sound;

use encoding_rs::{Encoding, WINDOWS_1252};

use super::cells::{Intake, SheetCells};
use super::error::{Damage, Problem};
use super::guard::Budget;
use super::limits::MOST_PARTS;
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

/// A sheet that the workbook lists.
struct Listed {
    name: String,
    /// Where in the stream it begins.
    start: usize,
    /// Whether it is one of cells.
    is_worksheet: bool,
}

/// Each worksheet's cells, in the workbook's order.
pub(super) fn read(file: Vec<u8>) -> Result<Vec<SheetCells>, Problem> {
    let (stream, name) = compound::workbook(&file)?;
    drop(file);
    let mut budget = Budget::whole();
    sheets(&stream, &mut budget).map_err(|damage| damage.in_part(name))
}

fn sheets(stream: &[u8], budget: &mut Budget) -> Result<Vec<SheetCells>, Damage> {
    let mut records = Records::of(stream);
    let shared = Shared::read(&mut records, budget)?;
    let mut starts: Vec<usize> = shared.sheets.iter().map(|sheet| sheet.start).collect();
    starts.sort_unstable();
    let first = stream.len() - records.left();
    if starts.windows(2).any(|pair| pair[0] == pair[1]) || starts.first().is_some_and(|start| *start < first)
    {
        return Err(Damage::Broken("its sheets overlap".into()));
    }
    if !records.at_end() && starts.first() != Some(&first) {
        return Err(no_end());
    }
    let mut read = Vec::new();
    for Listed { name, start, is_worksheet } in &shared.sheets {
        // A sheet's bytes are its own, or many sheets could be made of few bytes.
        let following = starts.partition_point(|other| other <= start);
        let end = starts.get(following).copied().unwrap_or(stream.len());
        let mut records = Records::of(stream.get(*start..end).ok_or_else(Damage::breaks_off)?);
        let mut begin = records.next()?;
        if begin.kind != kind::BEGIN {
            return Err(Damage::Broken("it has a sheet that does not begin as one".into()));
        }
        begin.bytes.u16()?;
        if (begin.bytes.u16()? == OF_CELLS) != *is_worksheet {
            return Err(Damage::Broken("it has a sheet of another kind than it says".into()));
        }
        if *is_worksheet {
            read.push(sheet::read(&mut records, Intake::new(name.clone(), budget), &shared)?);
            if !records.at_end() {
                return Err(no_end());
            }
        }
    }
    Ok(read)
}

/// Where a part of the stream has ended, a sheet that is listed begins, or nothing comes: a spoilt byte can
/// end a part too soon, or take a sheet off the list.
fn no_end() -> Damage {
    Damage::Broken("it does not end where it should".into())
}

/// The numbers of the formats of 1997 to 2003, and of 1993 to 1996.
const UNICODE_VERSION: u16 = 0x0600;
const CODE_PAGE_VERSION: u16 = 0x0500;
/// The kind of a sheet that holds cells, in the list of sheets and where it begins.
const WORKSHEET: u8 = 0;
const OF_CELLS: u16 = 0x0010;

impl Shared {
    /// Reads the stream's first part, which is about the whole workbook.
    fn read(records: &mut Records<'_>, budget: &mut Budget) -> Result<Shared, Damage> {
        let mut begin = records.next()?;
        if begin.kind != kind::BEGIN {
            return Err(Damage::Broken("it does not begin as a workbook".into()));
        }
        let writing = match begin.bytes.u16()? {
            UNICODE_VERSION => Writing::Unicode,
            CODE_PAGE_VERSION => Writing::CodePage(WINDOWS_1252),
            _ => return Err(Damage::Broken("it does not begin as a workbook".into())),
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
                    if shared.sheets.len() == MOST_PARTS {
                        return Err(Problem::TooManySheets.into());
                    }
                    let start = record.bytes.u32()? as usize;
                    record.bytes.u8()?;
                    let is_worksheet = record.bytes.u8()? == WORKSHEET;
                    let name = record.short_text(shared.writing)?;
                    shared.sheets.push(Listed { name, start, is_worksheet });
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
