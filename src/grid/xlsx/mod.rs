//! Workbooks in Office Open XML (.xlsx, .xlsm; ECMA-376).
//!
//! Sheets are read in one pass by this room's own eyes: a general reader gives a cell's value or
//! its style and formula, loses the address of a cell that it cannot read, and walks the sheet
//! once more for the merged blocks.

mod sheet;
mod strings;
mod styles;

use super::cells::{Intake, SheetCells};
use super::error::Problem;
use super::guard::{Budget, Package};
use super::limits::MOST_PARTS;
use super::number::Epoch;
use super::parts::{only, parsed, relationships, worksheets};
use super::shown::Shown;
use super::xml::Step;

/// What every sheet of a workbook refers to.
#[derive(Default)]
struct Shared {
    strings: Vec<Box<str>>,
    /// How a cell's number is shown, by its style.
    styles: Vec<Shown>,
    epoch: Epoch,
}

/// The cells of each worksheet that is wanted, in the workbook's order; `main` is the part that lists them.
pub(super) fn read(
    mut package: Package,
    main: &str,
    wanted: &dyn Fn(&str) -> bool,
) -> Result<Vec<SheetCells>, Problem> {
    let related = relationships(&mut package, main)?;
    let (listed, epoch) = sheets(&mut package, main)?;
    let mut budget = Budget::whole();
    let mut shared = Shared { epoch, ..Shared::default() };
    if let Some(part) = only(main, &related, "sharedStrings")? {
        let strings = parsed(&mut package, part, |strings| strings::read(strings, &mut budget))?;
        shared.strings = strings.unwrap_or_default();
    }
    if let Some(part) = only(main, &related, "styles")? {
        shared.styles = parsed(&mut package, part, styles::read)?.unwrap_or_default();
    }
    let mut read = Vec::new();
    let worksheets = worksheets(main, listed, &related)?;
    for (name, part) in worksheets.into_iter().filter(|(name, _)| wanted(name)) {
        let intake = Intake::new(name, &mut budget);
        let cells = parsed(&mut package, &part, |sheet| sheet::read(sheet, intake, &shared))?;
        read.push(cells.ok_or_else(|| Problem::missing(&part))?);
    }
    Ok(read)
}

/// Name and relationship of each sheet, and the day that dates count from.
fn sheets(package: &mut Package, main: &str) -> Result<(Vec<(String, String)>, Epoch), Problem> {
    let found = parsed(package, main, |xml| {
        let (mut sheets, mut epoch) = (Vec::new(), Epoch::default());
        let whole = xml.open();
        while let Some(step) = xml.step(whole)? {
            let Step::Element(element) = step else { continue };
            match element.name() {
                "sheet" => {
                    if sheets.len() == MOST_PARTS {
                        return Err(Problem::TooManySheets.into());
                    }
                    sheets.push((element.attribute("name")?, element.attribute("id")?));
                }
                "workbookPr" => {
                    let flag = element.attribute("date1904")?;
                    if flag == "1" || flag == "true" {
                        epoch = Epoch::January1904;
                    }
                }
                _ => {}
            }
        }
        Ok((sheets, epoch))
    })?;
    found.ok_or(Problem::NotAWorkbook)
}
