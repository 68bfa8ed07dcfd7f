//! Workbooks in OpenDocument (.ods; ISO/IEC 26300): one part holds every sheet.

mod cell;
mod sheet;
mod text;

use quick_xml::events::Event;

use super::cells::{Intake, SheetCells};
use super::error::{Damage, Problem};
use super::guard::{Budget, MOST_PARTS, Package, Part};
use super::parts::parsed;
use super::xml::{Attributes, skip};

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

fn sheets(mut part: Part<'_>) -> Result<Vec<SheetCells>, Damage> {
    let mut budget = Budget::whole();
    let mut sheets = Vec::new();
    let mut buffer = Vec::new();
    loop {
        buffer.clear();
        match part.read_event_into(&mut buffer)? {
            Event::Start(element) => match element.local_name().as_ref() {
                "table" => {
                    if sheets.len() == MOST_PARTS {
                        return Err(Problem::TooManySheets.into());
                    }
                    let intake = Intake::new(Attributes::of(&element)?.text("name")?, &mut budget);
                    sheets.push(sheet::read(&mut part, intake)?);
                }
                "document-content" | "body" | "spreadsheet" => {}
                // Styles, and what came of earlier versions of the sheets.
                _ => skip(&mut part, &mut buffer)?,
            },
            Event::End(element) if element.local_name().as_ref() == "document-content" => return Ok(sheets),
            Event::Eof => return Err(Damage::breaks_off()),
            _ => {}
        }
    }
}

fn is_encrypted(mut part: Part<'_>) -> Result<bool, Damage> {
    let mut buffer = Vec::new();
    loop {
        buffer.clear();
        match part.read_event_into(&mut buffer)? {
            Event::Start(element) if element.local_name().as_ref() == "encryption-data" => return Ok(true),
            Event::Eof => return Ok(false),
            _ => {}
        }
    }
}
