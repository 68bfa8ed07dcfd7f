//! The fit-out workbook, read back with the same crate that reads surveys.

#[path = "support/report.rs"]
mod report;

use std::io::Cursor;

use calamine::{Data, Reader, Xlsx};
use report::Block;
use sillbook::report::Report;
use sillbook::workbook::{Limits, write, write_within};

type Book = Xlsx<Cursor<Vec<u8>>>;

fn written(report: &Report<'_>, limits: Limits) -> Vec<u8> {
    let mut file = Cursor::new(Vec::new());
    write_within(report, limits, &mut file).expect("a workbook");
    file.into_inner()
}

fn open(bytes: Vec<u8>) -> Book {
    Xlsx::new(Cursor::new(bytes)).expect("a workbook that can be read")
}

/// The cells of a sheet that hold anything, as (row, column, value), row by row.
fn cells(book: &mut Book, sheet: &str) -> Vec<(u32, u32, Data)> {
    let mut reader = book.worksheet_cells_reader(sheet).expect("the sheet");
    let mut cells = Vec::new();
    while let Some(cell) = reader.next_cell().expect("a cell") {
        let value: Data = cell.get_value().clone().into();
        if value != Data::Empty {
            let (row, column) = cell.get_position();
            cells.push((row, column, value));
        }
    }
    cells
}

/// The value under a heading, in the `row`th row below it.
fn under(cells: &[(u32, u32, Data)], heading: &str, row: u32) -> Data {
    let at = cells.iter().find(|cell| cell.2 == Data::String(heading.to_owned()));
    let (top, column, _) = at.unwrap_or_else(|| panic!("no heading {heading:?}"));
    let found = cells.iter().find(|cell| (cell.0, cell.1) == (top + row, *column));
    found.map_or(Data::Empty, |cell| cell.2.clone())
}

fn texts(cells: &[(u32, u32, Data)]) -> Vec<String> {
    cells.iter().map(|cell| cell.2.to_string()).collect()
}

#[test]
fn sheets_stand_in_the_order_agreed() {
    let block = Block::plain();
    let book = open(written(&block.report(), Limits::SPREADSHEET));
    let sheets = [
        "Summary",
        "Queries",
        "Openings",
        "Order",
        "Cut list",
        "Hardware",
        "Install index",
        "0304",
        "0305",
        "Cost summary",
        "Working",
        "Rules used",
    ];
    assert_eq!(book.sheet_names(), sheets);
}

#[test]
fn the_same_report_gives_the_same_bytes() {
    let block = Block::plain();
    let mut first = Cursor::new(Vec::new());
    write(&block.report(), &mut first).expect("a workbook");
    assert!(first.into_inner() == written(&block.report(), Limits::SPREADSHEET));
}
