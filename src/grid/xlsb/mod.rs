//! Workbooks in the binary form of Office Open XML (.xlsb; [MS-XLSB]): the same parts as in .xlsx,
//! each a stream of records.

mod records;
mod sheet;

use super::cells::{Intake, SheetCells};
use super::error::{Damage, Problem};
use super::guard::{Budget, Package};
use super::limits::MOST_PARTS;
use super::number::Epoch;
use super::parts::{only, relationships, worksheets};
use super::shown::{Formats, Shown};
use records::{Record, Records, kind};

/// What every sheet of a workbook refers to.
#[derive(Default)]
struct Shared {
    strings: Vec<Box<str>>,
    /// How a cell's number is shown, by its style.
    styles: Vec<Shown>,
    epoch: Epoch,
}

/// Each worksheet's cells, in the workbook's order; `main` is the part that lists them.
pub(super) fn read(mut package: Package, main: &str) -> Result<Vec<SheetCells>, Problem> {
    let related = relationships(&mut package, main)?;
    let mut budget = Budget::whole();
    let mut shared = Shared::default();
    let listed = parsed(&mut package, main, |book| sheets(book, &mut shared.epoch))?;
    let listed = listed.ok_or(Problem::NotAWorkbook)?;
    if let Some(part) = only(main, &related, "sharedStrings")? {
        let strings = parsed(&mut package, part, |strings| texts(strings, &mut budget))?;
        shared.strings = strings.unwrap_or_default();
    }
    if let Some(part) = only(main, &related, "styles")? {
        shared.styles = parsed(&mut package, part, styles)?.unwrap_or_default();
    }
    let mut read = Vec::new();
    for (name, part) in worksheets(main, listed, &related)? {
        let intake = Intake::new(name, &mut budget);
        let cells = parsed(&mut package, &part, |sheet| sheet::read(sheet, intake, &shared))?;
        read.push(cells.ok_or_else(|| Problem::missing(&part))?);
    }
    Ok(read)
}

/// A part's contents, if the workbook has it.
fn parsed<T>(
    package: &mut Package,
    name: &str,
    parse: impl FnOnce(&mut Records<'_>) -> Result<T, Damage>,
) -> Result<Option<T>, Problem> {
    let Some(part) = package.bytes(name)? else { return Ok(None) };
    let mut records = Records::of(part);
    let parsed = parse(&mut records).and_then(|parsed| records.end().map(|()| parsed));
    parsed.map(Some).map_err(|damage| damage.in_part(name))
}

/// Name and relationship of each sheet, and the day that dates count from.
fn sheets(records: &mut Records<'_>, epoch: &mut Epoch) -> Result<Vec<(String, String)>, Damage> {
    let mut sheets = Vec::new();
    loop {
        let Record { kind, mut bytes } = records.next()?;
        match kind {
            kind::WORKBOOK_PROPERTIES if bytes.u32()? & 1 != 0 => *epoch = Epoch::January1904,
            kind::SHEET => {
                if sheets.len() == MOST_PARTS {
                    return Err(Problem::TooManySheets.into());
                }
                bytes.take(8)?;
                let id = bytes.wide_text()?;
                sheets.push((bytes.wide_text()?, id));
            }
            kind::END_OF_WORKBOOK => return Ok(sheets),
            _ => {}
        }
    }
}

/// The workbook's shared texts, in order. The count that the part declares is not believed.
fn texts(records: &mut Records<'_>, budget: &mut Budget) -> Result<Vec<Box<str>>, Damage> {
    let mut texts = Vec::new();
    loop {
        let Record { kind, mut bytes } = records.next()?;
        match kind {
            kind::SHARED_TEXT => {
                bytes.u8()?;
                let text = bytes.wide_text()?;
                budget.keep(&text)?;
                texts.push(text.into());
            }
            kind::END_OF_SHARED_TEXTS => return Ok(texts),
            _ => {}
        }
    }
}

/// What each of the workbook's cell styles shows, in order.
fn styles(records: &mut Records<'_>) -> Result<Vec<Shown>, Damage> {
    let (mut formats, mut styles) = (Formats::default(), Vec::new());
    // Styles have namesakes in another list of the part.
    let mut of_cells = false;
    loop {
        let Record { kind, mut bytes } = records.next()?;
        match kind {
            kind::NUMBER_FORMAT => {
                let number = bytes.u16()?;
                formats.add(number.into(), &bytes.wide_text()?);
            }
            kind::CELL_STYLES => of_cells = true,
            kind::STYLE if of_cells => {
                bytes.u16()?;
                styles.push(formats.shown(bytes.u16()?.into()));
            }
            kind::END_OF_CELL_STYLES | kind::END_OF_STYLES => return Ok(styles),
            _ => {}
        }
    }
}
