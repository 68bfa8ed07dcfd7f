//! Which format a file is in. What it holds decides, not what it is called: programs save web
//! pages and tables of text under a workbook's name, and people rename files.
//!
//! A table of text under a workbook's name is read only if every record has as many fields; a web
//! page is refused, and so are workbooks from before 1993.

use std::fs::File;
use std::io::Read;
use std::path::Path;

use super::cells::SheetCells;
use super::error::Problem;
use super::guard::{self, Package};
use super::limits::MOST_FILE_BYTES;
use super::{csv, ods, parts, xls, xlsb, xlsx};

/// Endings of the files that are read.
pub const FORMATS: [&str; 7] = [".xlsx", ".xlsm", ".xlsb", ".xls", ".ods", ".csv", ".tsv"];

/// How a zip archive begins.
const ZIP: &[u8] = b"PK";
/// How a compound file begins: a workbook of 1993 to 2003, or an encrypted one of any year.
const COMPOUND: &[u8] = &[0xD0, 0xCF, 0x11, 0xE0, 0xA1, 0xB1, 0x1A, 0xE1];
/// How a workbook older than compound files begins, by its version.
const BARE_RECORDS: [&[u8]; 3] =
    [&[0x09, 0x00, 0x04, 0x00], &[0x09, 0x02, 0x06, 0x00], &[0x09, 0x04, 0x06, 0x00]];

/// Bytes from which a format is told.
const START_BYTES: usize = 512;

/// The bytes of a file whose name ends in a format that is read.
pub(super) fn bytes(path: &Path) -> Result<Vec<u8>, Problem> {
    // What is not there has no format either, so that comes first.
    guard::is_file(path)?;
    if !FORMATS.contains(&ending(path).as_str()) {
        return Err(Problem::UnknownFormat);
    }
    guard::whole_file(path)
}

/// The cells of each sheet of a file, which was named so. Where a format keeps its sheets apart, those
/// that are not wanted are not read.
pub(super) fn read(
    path: &Path,
    file: Vec<u8>,
    wanted: &dyn Fn(&str) -> bool,
) -> Result<Vec<SheetCells>, Problem> {
    let start = file.get(..START_BYTES).unwrap_or(&file);
    if start.is_empty() {
        return Err(Problem::Empty);
    }
    let is_text = matches!(ending(path).as_str(), ".csv" | ".tsv");
    if start.starts_with(ZIP) && (!is_text || start.contains(&0)) {
        return packed(Package::open(file)?, wanted);
    }
    guard::within(MOST_FILE_BYTES, &file)?;
    if start.starts_with(COMPOUND) {
        return xls::read(file);
    }
    if BARE_RECORDS.iter().any(|bare| start.starts_with(bare)) {
        return Err(Problem::TooOld);
    }
    if is_markup(start) {
        return Err(Problem::Markup);
    }
    let name = path.file_stem().unwrap_or_default().to_string_lossy().into_owned();
    if is_text { csv::read(name, file) } else { csv::read_evident(name, file) }
}

/// The first bytes, `most` at the most, of a part of a workbook; `None` if the file is no archive within
/// the limits that has it.
pub(crate) fn part(path: &Path, name: &str, most: u64) -> Option<Vec<u8>> {
    if !begins_with(path, ZIP) {
        return None;
    }
    let mut package = Package::open(guard::whole_file(path).ok()?).ok()?;
    let mut bytes = Vec::new();
    package.bytes(name).ok()??.take(most).read_to_end(&mut bytes).ok()?;
    Some(bytes)
}

/// Whether a file is one, and begins as a zip archive does, or as a workbook that is locked with a password.
pub(crate) fn begins_as_workbook(path: &Path) -> bool {
    begins_with(path, ZIP) || begins_with(path, COMPOUND)
}

fn begins_with(path: &Path, wanted: &[u8]) -> bool {
    let mut start = vec![0; wanted.len()];
    guard::is_file(path).is_ok()
        && File::open(path).and_then(|mut file| file.read_exact(&mut start)).is_ok()
        && start == wanted
}

/// How a name ends, with its point.
fn ending(path: &Path) -> String {
    format!(".{}", path.extension().unwrap_or_default().to_string_lossy().to_lowercase())
}

/// The sheets of a zip archive, whichever of its formats it is.
fn packed(mut package: Package, wanted: &dyn Fn(&str) -> bool) -> Result<Vec<SheetCells>, Problem> {
    if package.has(ods::CONTENT) && !package.has("[Content_Types].xml") {
        return ods::read(package);
    }
    let main = parts::main(&mut package)?;
    if main.to_lowercase().ends_with(".bin") {
        xlsb::read(package, &main)
    } else {
        xlsx::read(package, &main, wanted)
    }
}

/// Whether a file begins as a web page or another document in XML does.
fn is_markup(start: &[u8]) -> bool {
    let text = String::from_utf8_lossy(start);
    let text = text.trim_start_matches('\u{feff}').trim_start().to_lowercase();
    ["<?xml", "<!doctype", "<html", "<head", "<body", "<table", "<meta", "<style"]
        .iter()
        .any(|mark| text.starts_with(mark))
}
