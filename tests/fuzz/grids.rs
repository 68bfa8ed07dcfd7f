//! Files of every format, their bytes and parts spoilt: sound ones of our own hand and those of `tests/odd`.

use std::fs;
use std::path::Path;

use sillbook::grid::{self, Grid, GridError, Problem, Row, Sheet};
use sillbook::place::Sheets;

use super::hold;
use crate::support;
use crate::support::chance::Chance;
use crate::support::files::Folder;
use crate::support::formats;
use crate::support::spoil::corrupted;

const ROUNDS: u64 = 300;

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
        for _ in 0..1 + chance.of(3) {
            bytes = corrupted(&bytes, chance);
        }
        File { name: format!("s.{ending}"), bytes }
    };
    hold(ROUNDS, made, move |file| {
        let path = folder.path().join(&file.name);
        fs::write(&path, &file.bytes).unwrap();
        let read = || grid::read(&path, &mut Sheets::default());
        match (read(), read()) {
            (Err(GridError { problem: Problem::Failed, .. }), _) => Some("makes a reader panic".to_owned()),
            (Err(one), Err(other)) => {
                let words = [one.to_string(), one.hint().to_owned()];
                let same = words == [other.to_string(), other.hint().to_owned()];
                (words.iter().any(String::is_empty) || !same).then(|| format!("is refused so: {words:?}"))
            }
            (Ok(one), Ok(other)) if format!("{one:?}") == format!("{other:?}") => disorder(&one),
            _ => Some("is read another way the second time".to_owned()),
        }
    });
}

/// What is not as every sheet is: rows and cells in order, and none without a cell.
fn disorder(grid: &Grid) -> Option<String> {
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
