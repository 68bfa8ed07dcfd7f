//! Files of every format, their bytes and parts spoilt: sound ones of our own hand and those of `tests/odd`.

use std::fs;
use std::path::Path;

use sillbook::grid::{self, Grid, GridError, Problem, Row, Sheet};
use sillbook::place::Sheets;

use super::packages::misprinted;
use super::{hold, texts};
use crate::support;
use crate::support::chance::Chance;
use crate::support::files::Folder;
use crate::support::formats;
use crate::support::spoil::{corrupted, parts};

const ROUNDS: u64 = 100;

/// The sheets of the rule sheets' survey.
fn sheets() -> Vec<Sheet> {
    support::grid(include_str!("rules.txt")).sheets
}

/// Holds one format: the files of `tests/odd` with its ending, and one of our own.
fn hold_format(ending: &'static str, own: Vec<u8>) {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/odd");
    let mut paths: Vec<_> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    paths.retain(|path| path.extension().is_some_and(|found| found == ending));
    paths.sort();
    let sound: Vec<Vec<u8>> = paths.iter().map(|path| fs::read(path).unwrap()).chain([own]).collect();
    let folder = Folder::new();
    let made = move |chance: &mut Chance| {
        let mut bytes = sound[chance.of(sound.len())].clone();
        if chance.of(2) == 0 {
            bytes = mistyped(bytes, ending, chance);
        } else {
            for _ in 0..1 + chance.of(3) {
                bytes = corrupted(&bytes, chance);
            }
        }
        File { name: format!("s.{ending}"), bytes }
    };
    hold(ROUNDS, made, move |file| {
        let path = folder.path().join(&file.name);
        fs::write(&path, &file.bytes).unwrap();
        match grid::read(&path, &mut Sheets::default()) {
            Err(GridError { problem: Problem::Failed, .. }) => Some("makes a reader panic".to_owned()),
            first @ Err(_) => same_twice(&first, &path),
            Ok(grid) => disorder(&grid).or_else(|| same_twice(&Ok(grid), &path)),
        }
    });
}

/// A file whose texts have a fault, where it has any: a line of a table, or the markup of a package's part.
fn mistyped(bytes: Vec<u8>, ending: &str, chance: &mut Chance) -> Vec<u8> {
    match (ending, parts(&bytes)) {
        ("ods" | "xlsx", Some(mut parts)) => {
            misprinted(&mut parts, chance);
            formats::packed(&parts)
        }
        ("csv", _) => {
            let text = String::from_utf8_lossy(&bytes).into_owned();
            let mut lines: Vec<String> = text.split('\n').map(str::to_owned).collect();
            for _ in 0..1 + chance.of(3) {
                let line = chance.of(lines.len());
                lines[line] = texts::spoilt(&lines[line], chance);
            }
            lines.join(["\n", "\r\n", "\r"][chance.of(3)]).into_bytes()
        }
        _ => corrupted(&bytes, chance),
    }
}

/// What is wrong where a file is not read, or not refused, the second time as it was the `first`.
pub fn same_twice(first: &Result<Grid, GridError>, path: &Path) -> Option<String> {
    match (first, grid::read(path, &mut Sheets::default())) {
        (Err(one), Err(other)) => {
            let words = [one.to_string(), one.hint().to_owned()];
            let same = words == [other.to_string(), other.hint().to_owned()];
            (words.iter().any(String::is_empty) || !same).then(|| format!("is refused so: {words:?}"))
        }
        (Ok(one), Ok(other)) if format!("{one:?}") == format!("{other:?}") => None,
        _ => Some("is read another way the second time".to_owned()),
    }
}

/// What is not as every sheet is: rows and cells in order, and none without a cell.
pub fn disorder(grid: &Grid) -> Option<String> {
    for sheet in &grid.sheets {
        let rows = sheet.rows.windows(2).all(|pair| pair[0].row < pair[1].row);
        let cells =
            |row: &Row| !row.cells.is_empty() && row.cells.windows(2).all(|pair| pair[0].0 < pair[1].0);
        if !rows || !sheet.rows.iter().all(cells) {
            return Some(format!("has cells out of order on {}", sheet.name));
        }
    }
    None
}

/// A file that is shown by its size: the round makes it again.
struct File {
    name: String,
    bytes: Vec<u8>,
}

impl std::fmt::Debug for File {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} of {} bytes", self.name, self.bytes.len())
    }
}

#[test]
fn any_xlsx_is_read_or_refused() {
    let folder = Folder::new();
    let path = folder.survey("s.xlsx", include_str!("rules.txt"));
    hold_format("xlsx", fs::read(path).unwrap());
}

#[test]
fn any_xlsb_is_read_or_refused() {
    hold_format("xlsb", formats::xlsb(&sheets()));
}

#[test]
fn any_xls_is_read_or_refused() {
    hold_format("xls", formats::xls(&sheets()));
}

#[test]
fn any_ods_is_read_or_refused() {
    hold_format("ods", formats::ods(&sheets()));
}

#[test]
fn any_table_of_text_is_read_or_refused() {
    hold_format("csv", formats::csv(&sheets()[1..]));
}
