//! The same cells in every format that the tests write, by chance: each is read as the cells that it holds.

use std::fs;

use rust_decimal::Decimal;
use sillbook::grid::{self, Row, Sheet, Value};
use sillbook::place::Sheets;

use super::hold;
use crate::support;
use crate::support::chance::Chance;
use crate::support::files::Folder;
use crate::support::formats;

const ROUNDS: u64 = 100;

/// Texts that every format holds as they are; what one has spaces or letters for is held by its own tests.
const TEXTS: [&str; 16] = [
    "Width",
    "W1",
    "105 1/2",
    "8' 10\"",
    "a & b",
    "<wide>",
    "two\nlines",
    "é½宽🪟",
    "00762",
    "1e3",
    "TRUE",
    "=1+1",
    "a,b;c",
    "a\u{a0}b",
    "#5",
    "-",
];
const ERRORS: [&str; 7] = ["#NULL!", "#DIV/0!", "#VALUE!", "#REF!", "#NAME?", "#NUM!", "#N/A"];

/// One or two sheets of a few cells, with rows and columns left out between them.
fn sheets(chance: &mut Chance) -> Vec<Sheet> {
    let mut sheets = support::grid("[Openings]\nx\n[Types & more]\nx\n").sheets;
    sheets.truncate(1 + chance.of(2));
    for sheet in &mut sheets {
        let mut next = 0;
        sheet.rows.clear();
        for _ in 0..1 + chance.of(6) {
            let row = next + [0, 0, 0, 1, 40, 300][chance.of(6)];
            next = row + 1;
            let mut column = 0;
            let mut cells = Vec::new();
            for _ in 0..1 + chance.of(8) {
                column += [0, 0, 0, 1, 25][chance.of(5)];
                cells.push((column, value(chance)));
                column += 1;
            }
            sheet.rows.push(Row { row, cells });
        }
    }
    sheets
}

fn value(chance: &mut Chance) -> Value {
    // As many digits as a spreadsheet keeps.
    let mut number = || {
        let digits = 10_u64.pow(1 + chance.below(14) as u32);
        let number = chance.below(digits) as i64;
        Decimal::new(number * [1, 1, -1][chance.of(3)], chance.below(7) as u32).normalize()
    };
    let (number, percent) = (number(), number());
    match chance.of(8) {
        0..3 => Value::Text(TEXTS[chance.of(TEXTS.len())].into()),
        3 | 4 => Value::Number(number),
        5 => Value::Percent(percent),
        6 => {
            let day = [1990 + chance.of(60), 1 + chance.of(12), 1 + chance.of(28)];
            Value::Date(format!("{}-{:02}-{:02}", day[0], day[1], day[2]).into())
        }
        _ => match chance.of(2) {
            0 => Value::Truth(chance.of(2) == 0),
            _ => Value::Error(ERRORS[chance.of(ERRORS.len())].into()),
        },
    }
}

/// A cell as a table of text has it, which knows texts alone.
fn as_text(value: &Value) -> Value {
    let text = match value {
        Value::Number(number) => number.to_string(),
        Value::Percent(percent) => format!("{percent}%"),
        Value::Truth(truth) => truth.to_string().to_uppercase(),
        Value::Text(text) | Value::Date(text) | Value::Error(text) => text.to_string(),
        Value::NoResult => String::new(),
    };
    Value::Text(text.into())
}

type Cells = Vec<(usize, u32, u16, Value)>;

fn cells(sheets: &[Sheet]) -> Cells {
    let rows = sheets.iter().enumerate().flat_map(|(at, sheet)| sheet.rows.iter().map(move |row| (at, row)));
    rows.flat_map(|(at, row)| {
        row.cells.iter().map(move |(column, value)| (at, row.row, *column, value.clone()))
    })
    .collect()
}

/// Holds one format, and what its cells come to.
fn hold_format(ending: &'static str, written: fn(&[Sheet]) -> Vec<u8>, meant: fn(&[Sheet]) -> Cells) {
    let folder = Folder::new();
    hold(ROUNDS, sheets, move |sheets| {
        let path = folder.path().join(format!("s.{ending}"));
        fs::write(&path, written(sheets)).unwrap();
        let read = match grid::read(&path, &mut Sheets::default()) {
            Ok(grid) => cells(&grid.sheets),
            Err(error) => return Some(format!("is refused: {error}")),
        };
        let meant = meant(sheets);
        match read.iter().zip(&meant).find(|(read, meant)| read != meant) {
            Some((read, meant)) => Some(format!("is read as {read:?}, not {meant:?}")),
            None => (read.len() != meant.len())
                .then(|| format!("is read as {} cells, not {}", read.len(), meant.len())),
        }
    });
}

#[test]
fn xls_is_read_as_its_cells() {
    hold_format("xls", formats::xls, cells);
}

#[test]
fn xlsb_is_read_as_its_cells() {
    hold_format("xlsb", formats::xlsb, cells);
}

#[test]
fn ods_is_read_as_its_cells() {
    hold_format("ods", formats::ods, cells);
}

#[test]
fn a_table_of_text_is_read_as_its_fields() {
    hold_format("csv", formats::csv, |sheets| {
        let fields = cells(&sheets[..1]).into_iter();
        fields.map(|(at, row, column, value)| (at, row, column, as_text(&value))).collect()
    });
}
