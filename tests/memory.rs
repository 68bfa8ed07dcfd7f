//! What a run may take of the machine's memory: what would take more is refused before it does, with words.

use sillbook::earlier;
use sillbook::grid::{Grid, Row, Sheet, Value};
use sillbook::pipeline::{self, MOST_MEMORY, RunError};
use sillbook::place::Sheets;
use sillbook::query::Wording;

use crate::support::{Surveys, surveys};

const SURVEY: &str = "[Project]\nProject | Mill House\nUnits | in\n[Openings]\nOpening | Width | Height | Note\nW1 | 40 | 50 |\n";

/// A survey with so many bytes of text in notes of its one opening.
fn with_notes(bytes: usize) -> Surveys {
    let mut surveys = surveys(&[("survey.xlsx", SURVEY)]);
    let cells = &mut surveys.grids[0].sheets[1].rows[1].cells;
    // In pieces, as no cell of a workbook holds so much.
    let notes = (0..bytes / MEBIBYTE).map(|_| Value::Text("W".repeat(MEBIBYTE).into()));
    cells.extend((3..).zip(notes));
    surveys
}

const MEBIBYTE: usize = 1 << 20;

/// What refuses a run, in words.
fn refused(earlier: Option<&Grid>, Surveys { grids, sheets }: Surveys) -> Option<String> {
    match pipeline::understand_after(earlier, &grids, sheets, None) {
        Err(error @ RunError::TooLarge { .. }) => Some(format!("{error} ({})", error.hint())),
        _ => None,
    }
}

#[test]
fn very_long_texts_are_refused() {
    // Each text is held 13 times, beside the 170 MiB of every run.
    let most = (MOST_MEMORY / 1_024 - 170) / 13;
    let most = usize::try_from(most).unwrap();
    let told = refused(None, with_notes((most + 1) * MEBIBYTE)).unwrap();
    assert!(told.contains("its texts have 192 million letters"), "{told}");
    assert!(told.contains("split it by building or by floor"), "{told}");
    assert_eq!(refused(None, with_notes(most / 40 * MEBIBYTE)), None);
}

#[test]
fn very_many_products_are_refused() {
    let with_rows = |rows: u32| {
        let mut surveys = surveys(&[("survey.xlsx", &format!("{SURVEY}[Products]\nProduct\n"))]);
        let products = surveys.grids[0].sheets.last_mut().unwrap();
        products.rows.extend((1..rows).map(|row| Row { row, cells: Vec::new() }));
        refused(None, surveys)
    };
    let told = with_rows(60_000).unwrap();
    assert!(told.contains("it has 60000 rows on Products"), "{told}");
    assert_eq!(with_rows(1_000), None);
}

#[test]
fn very_many_cells_are_refused() {
    let with_cells = |rows: u32, cells: u16| {
        let mut surveys = surveys(&[("survey.xlsx", SURVEY)]);
        let row = |row| Row { row, cells: (0..cells).map(|column| (column, Value::Truth(true))).collect() };
        surveys.grids[0].sheets.last_mut().unwrap().rows.extend((2..rows).map(row));
        refused(None, surveys)
    };
    let told = with_cells(100_000, 60).unwrap();
    assert!(told.contains("it has 100002 rows of 5999891 cells"), "{told}");
    assert_eq!(with_cells(1_000, 60), None);
}

/// A sheet of an earlier fit-out with rows that hold nothing.
fn earlier_of(rows: u32, sheets: &mut Sheets) -> Grid {
    sheets.earlier_file();
    let id = sheets.enter("fit-out.xlsx", "Blinds").unwrap();
    let rows = (0..rows).map(|row| Row { row, cells: Vec::new() }).collect();
    let blinds =
        Sheet { id, name: "Blinds".to_owned(), rows, merged: Vec::new(), hidden: Default::default() };
    assert!(earlier::is_read(&blinds.name));
    Grid { survey: "fit-out.xlsx".to_owned(), sheets: vec![blinds] }
}

#[test]
fn a_large_earlier_fit_out_counts() {
    let with_rows = |rows| {
        let mut surveys = surveys(&[("survey.xlsx", SURVEY)]);
        let earlier = earlier_of(rows, &mut surveys.sheets);
        refused(Some(&earlier), surveys)
    };
    let told = with_rows(900_000).unwrap();
    assert!(told.contains("the earlier fit-out has 900000 rows"), "{told}");
    assert_eq!(with_rows(1_000), None);
}
