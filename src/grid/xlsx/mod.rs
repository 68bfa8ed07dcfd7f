//! Workbooks in Office Open XML (.xlsx, .xlsm; ECMA-376).
//!
//! Sheets are read in one pass by this room's own eyes: a general reader gives a cell's value or
//! its style and formula, loses the address of a cell that it cannot read, and walks the sheet
//! once more for the merged blocks.

mod sheet;
mod strings;
mod styles;
mod xml;

use std::path::Path;

use quick_xml::events::Event;

use super::error::Problem;
use super::guard::{Budget, Package, Part};
use super::number::Epoch;
pub(super) use sheet::SheetCells;
use styles::Shown;
use xml::{Attributes, Damage, breaks_off};

/// What every sheet of a workbook refers to.
#[derive(Default)]
struct Shared {
    strings: Vec<Box<str>>,
    /// How a cell's number is shown, by its style.
    styles: Vec<Shown>,
    epoch: Epoch,
}

/// Each worksheet's name and cells, in the workbook's order.
pub(super) fn read(path: &Path) -> Result<Vec<(String, SheetCells)>, Problem> {
    let mut package = Package::open(path)?;
    let main = relationships(&mut package, "")?
        .into_iter()
        .find(|related| related.is("officeDocument"))
        .map_or_else(|| "xl/workbook.xml".to_owned(), |related| related.part);
    let related = relationships(&mut package, &main)?;
    let (listed, epoch) = sheets(&mut package, &main)?;
    let mut shared = Shared { epoch, ..Shared::default() };
    for part in related.iter().filter(|related| related.is("sharedStrings")) {
        shared.strings = parsed(&mut package, &part.part, strings::read)?.unwrap_or_default();
    }
    for part in related.iter().filter(|related| related.is("styles")) {
        shared.styles = parsed(&mut package, &part.part, styles::read)?.unwrap_or_default();
    }
    let mut budget = Budget::whole();
    let mut read = Vec::new();
    for (name, id) in listed {
        let Some(related) = related.iter().find(|related| related.id == id && related.is("worksheet")) else {
            continue;
        };
        let Some(part) = package.part(&related.part)? else {
            return Err(Problem::Damaged { part: related.part.clone(), reason: "it is missing".into() });
        };
        let cells =
            sheet::read(part, &name, &shared, &mut budget).map_err(|stop| stop.in_part(&related.part))?;
        read.push((name, cells));
    }
    Ok(read)
}

/// A part's contents, if the workbook has it.
fn parsed<T>(
    package: &mut Package,
    name: &str,
    parse: impl Fn(Part<'_>) -> Result<T, Damage>,
) -> Result<Option<T>, Problem> {
    let Some(part) = package.part(name)? else { return Ok(None) };
    parse(part).map(Some).map_err(|damage| damage.in_part(name))
}

/// A part that another part refers to.
struct Related {
    id: String,
    kind: String,
    part: String,
}

impl Related {
    /// Whether it is of that kind, in the transitional or the strict form of the standard.
    fn is(&self, kind: &str) -> bool {
        self.kind.rsplit('/').next() == Some(kind)
    }
}

/// What a part refers to; the empty name is the workbook file itself.
fn relationships(package: &mut Package, of: &str) -> Result<Vec<Related>, Problem> {
    let (folder, file) = of.rsplit_once('/').unwrap_or(("", of));
    let name = format!("{folder}/_rels/{file}.rels");
    let related = parsed(package, name.trim_start_matches('/'), |mut part| {
        let mut related = Vec::new();
        let mut buffer = Vec::new();
        loop {
            match part.read_event_into(&mut buffer)? {
                Event::Start(element) if element.local_name().as_ref() == "Relationship" => {
                    let attributes = Attributes::of(&element)?;
                    related.push(Related {
                        id: attributes.text("Id")?,
                        kind: attributes.text("Type")?,
                        part: resolved(folder, &attributes.text("Target")?),
                    });
                }
                Event::End(element) if element.local_name().as_ref() == "Relationships" => {
                    return Ok(related);
                }
                Event::Eof => return Err(breaks_off()),
                _ => {}
            }
            buffer.clear();
        }
    })?;
    Ok(related.unwrap_or_default())
}

/// A target as a part's name: from the root if it begins with a stroke, else from the folder.
fn resolved(folder: &str, target: &str) -> String {
    let from = if target.starts_with('/') { "" } else { folder };
    let mut steps: Vec<&str> = Vec::new();
    for step in from.split('/').chain(target.split('/')) {
        match step {
            "" | "." => {}
            ".." => {
                steps.pop();
            }
            step => steps.push(step),
        }
    }
    steps.join("/")
}

/// Name and relationship of each sheet, and the day that dates count from.
fn sheets(package: &mut Package, main: &str) -> Result<(Vec<(String, String)>, Epoch), Problem> {
    let found = parsed(package, main, |mut part| {
        let (mut sheets, mut epoch) = (Vec::new(), Epoch::default());
        let mut buffer = Vec::new();
        loop {
            match part.read_event_into(&mut buffer)? {
                Event::Start(element) => match element.local_name().as_ref() {
                    "sheet" => {
                        let attributes = Attributes::of(&element)?;
                        sheets.push((attributes.text("name")?, attributes.text("id")?));
                    }
                    "workbookPr" => {
                        let flag = Attributes::of(&element)?.text("date1904")?;
                        if flag == "1" || flag == "true" {
                            epoch = Epoch::January1904;
                        }
                    }
                    _ => {}
                },
                Event::End(element) if element.local_name().as_ref() == "workbook" => {
                    return Ok((sheets, epoch));
                }
                Event::Eof => return Err(breaks_off()),
                _ => {}
            }
            buffer.clear();
        }
    })?;
    found.ok_or_else(|| Problem::NotAWorkbook { reason: format!("it has no part {main}") })
}
