//! Workbooks in OpenDocument (.ods; ISO/IEC 26300): one part holds every sheet.

mod cell;
mod sheet;
mod text;

use super::cells::{Intake, SheetCells};
use super::error::{Damage, Problem};
use super::guard::{Budget, Package};
use super::limits::MOST_PARTS;
use super::parts::parsed;
use super::xml::{Step, Xml};

/// The part that holds the sheets.
pub(super) const CONTENT: &str = "content.xml";

/// The part that lists the others, and says which of them are encrypted.
const MANIFEST: &str = "META-INF/manifest.xml";

/// Each sheet's cells, in the workbook's order.
pub(super) fn read(mut package: Package) -> Result<Vec<SheetCells>, Problem> {
    if parsed(&mut package, MANIFEST, is_encrypted)?.unwrap_or(false) {
        return Err(Problem::Locked);
    }
    parsed(&mut package, CONTENT, sheets)?.ok_or_else(|| Problem::missing(CONTENT))
}

fn sheets(xml: &mut Xml<'_>) -> Result<Vec<SheetCells>, Damage> {
    let mut budget = Budget::whole();
    let mut sheets = Vec::new();
    let whole = xml.open();
    while let Some(step) = xml.step(whole)? {
        let Step::Element(element) = step else { continue };
        match element.name() {
            "table" => {
                if sheets.len() == MOST_PARTS {
                    return Err(Problem::TooManySheets.into());
                }
                let intake = Intake::new(element.attribute("name")?, &mut budget);
                sheets.push(sheet::read(xml, intake)?);
            }
            "document-content" | "body" | "spreadsheet" => {}
            // Styles, and what came of earlier versions of the sheets.
            _ => xml.skip()?,
        }
    }
    Ok(sheets)
}

fn is_encrypted(xml: &mut Xml<'_>) -> Result<bool, Damage> {
    let whole = xml.open();
    while let Some(step) = xml.step(whole)? {
        if matches!(step, Step::Element(element) if element.name() == "encryption-data") {
            return Ok(true);
        }
    }
    Ok(false)
}
