//! Surveys as readable text: the one door through which tests hand a survey to the library.
//!
//! ```text
//! [Project]
//! Units    | in
//! [Openings]
//! Unit | Opening | Width      | Height
//! 101  | W1      | 105 1/2    | 78
//! ^    | W2      | #REF!      | 78
//! ```
//!
//! A line `[Name]` begins a sheet; the line after it is row 1, and a blank line is a blank row.
//! What the sheet does not show may follow: `[Name] hides rows 3-4, columns B-C`.
//! Cells stand between `|`. What a cell holds is told by how it is written:
//!
//! | written | holds |
//! |---|---|
//! | `78`, `105.5`, `-3` | a number |
//! | `'78` | the text `78` |
//! | `8.25%` | a number shown as a percentage |
//! | `2026-03-04` | a date |
//! | `TRUE`, `FALSE` | a truth |
//! | `#REF!` | an error |
//! | `=?` | a formula without a result |
//! | `^` | nothing: it is merged with the cell above |
//! | `<` | nothing: it is merged with the cell on its left |
//! | nothing | nothing |
//! | anything else | that text |

pub mod blinds;
pub mod block;
pub mod chance;
pub mod files;
pub mod formats;
pub mod package;
pub mod opening;
pub mod remembered;
pub mod spoil;
pub mod windows;

use std::str::FromStr;

use rust_decimal::Decimal;
use sillbook::date::Date;
use sillbook::grid::{Block, Grid, Hidden, Row, Sheet, Value};
use sillbook::place::{CellRef, SheetId, Sheets};
use sillbook::query::Query;

/// A run of surveys, and the names of their sheets.
pub struct Surveys {
    /// The surveys, in order.
    pub grids: Vec<Grid>,
    /// Their sheets.
    pub sheets: Sheets,
}

/// One survey, `survey.xlsx`, from its text.
pub fn grid(text: &str) -> Grid {
    surveys(&[("survey.xlsx", text)]).grids.remove(0)
}

/// Each file's name and text. What comes before the first `---` is `survey.xlsx`.
pub fn files_of(text: &str) -> Vec<(&str, &str)> {
    let Some(text) = text.strip_prefix("--- ") else { return vec![("survey.xlsx", text)] };
    let files = text.split("\n--- ");
    files.map(|file| file.split_once('\n').expect("a file's name stands on a line of its own")).collect()
}

/// Several surveys, each a file name and its text.
pub fn surveys(files: &[(&str, &str)]) -> Surveys {
    let mut sheets = Sheets::default();
    let grids = files.iter().map(|(name, text)| read(name, text, &mut sheets)).collect();
    Surveys { grids, sheets }
}

/// Queries as lines in the order in which they were raised: severity, cell, message and, in
/// brackets, what is special to the place: `stop Openings!C2: no width is given (detail)`.
pub fn told(queries: &[Query], sheets: &Sheets) -> Vec<String> {
    let line = |query: &Query| {
        let place = query.at.map_or_else(String::new, |at: CellRef| format!(" {}", sheets.show(at)));
        let detail = if query.detail.is_empty() { String::new() } else { format!(" ({})", query.detail) };
        format!("{}{place}: {}{detail}", query.severity, query.message)
    };
    queries.iter().map(line).collect()
}

fn read(survey: &str, text: &str, sheets: &mut Sheets) -> Grid {
    sheets.next_file();
    let mut grid = Grid { survey: survey.to_owned(), sheets: Vec::new() };
    let mut row = 0;
    for line in text.lines().map(str::trim).skip_while(|line| line.is_empty()) {
        if let Some((name, hides)) = line.strip_prefix('[').and_then(|line| line.split_once(']')) {
            let id = sheets.enter(survey, name).expect("a test has few sheets");
            grid.sheets.push(sheet(id, name, hidden(hides.trim())));
            row = 0;
        } else {
            let sheet = grid.sheets.last_mut().expect("the first line names a sheet, such as [Openings]");
            enter(sheet, row, line);
            row += 1;
        }
    }
    grid
}

fn sheet(id: SheetId, name: &str, hidden: Hidden) -> Sheet {
    Sheet { id, name: name.to_owned(), rows: Vec::new(), merged: Vec::new(), hidden }
}

/// `hides rows 3-4, columns B-C, rows 9`, from the top and the left.
fn hidden(text: &str) -> Hidden {
    let mut hidden = Hidden::default();
    let runs = text.strip_prefix("hides ").into_iter().flat_map(|runs| runs.split(',').map(str::trim));
    for run in runs {
        let (what, ends) = run.split_once(' ').expect("rows or columns, and which");
        let (first, last) = ends.split_once('-').unwrap_or((ends, ends));
        let number = |row: &str| row.parse::<u32>().expect("a row's number") - 1;
        let letter = |column: &str| u16::from(column.as_bytes()[0] - b'A');
        match what {
            "rows" => hidden.rows.push((number(first), number(last))),
            "columns" => hidden.columns.push((letter(first), letter(last))),
            other => panic!("a sheet hides rows or columns, not {other}"),
        }
    }
    hidden
}

fn enter(sheet: &mut Sheet, row: u32, line: &str) {
    let mut cells = Vec::new();
    for (column, text) in (0_u16..).zip(line.split('|').map(str::trim)) {
        match text {
            "" => {}
            "^" => merge_with_above(sheet, row, column),
            "<" => merge_with_left(sheet, row, column),
            text => cells.push((column, value(text))),
        }
    }
    if !cells.is_empty() {
        sheet.rows.push(Row { row, cells });
    }
}

fn merge_with_above(sheet: &mut Sheet, row: u32, column: u16) {
    let above = row.checked_sub(1).expect("no cell stands above row 1");
    let over = |block: &&mut Block| (block.columns.0..=block.columns.1).contains(&column);
    match sheet.merged.iter_mut().filter(over).find(|block| block.rows.1 >= above) {
        Some(block) => block.rows.1 = row,
        None => sheet.merged.push(Block { rows: (above, row), columns: (column, column) }),
    }
}

fn merge_with_left(sheet: &mut Sheet, row: u32, column: u16) {
    let left = column.checked_sub(1).expect("no cell stands left of column A");
    match sheet.merged.iter_mut().find(|block| block.columns.1 == left && block.rows.1 == row) {
        Some(block) => block.columns.1 = column,
        None => sheet.merged.push(Block { rows: (row, row), columns: (left, column) }),
    }
}

fn value(text: &str) -> Value {
    let number = |text: &str| Decimal::from_str(text).ok();
    if let Some(text) = text.strip_prefix('\'') {
        return Value::Text(text.into());
    }
    if text.starts_with('#') {
        return Value::Error(text.into());
    }
    if Date::from_iso(text).is_some() {
        return Value::Date(text.into());
    }
    match text {
        "=?" => Value::NoResult,
        "TRUE" => Value::Truth(true),
        "FALSE" => Value::Truth(false),
        _ => match (number(text), text.strip_suffix('%').and_then(number)) {
            (Some(number), _) => Value::Number(number),
            (None, Some(percent)) => Value::Percent(percent),
            (None, None) => Value::Text(text.into()),
        },
    }
}
