//! A file to addressed cells, within limits of size. The only room that reads a floating-point
//! number; it knows no columns.
//!
//! Every format has a reader of our own (`xlsx`, `xlsb`, `xls`, `ods`, `csv`, on `zip`, `quick-xml`
//! and `encoding_rs`) over shared limits, shared cells and shared ways to show a number, so that a
//! survey is the same cells in every format. A general reader gives no address for a cell that it
//! cannot read (so a `#SPILL!` could not be named), loses hidden rows, percentages and formulas
//! without a result, and may abort or take memory without bound on a hostile file: that would ask
//! for a child process with a limit of memory. In safe code that allocates only for bytes that are
//! there, a file can end in a refusal at worst. calamine supplies the date arithmetic, and is the
//! second opinion of the tests and the bare reader of the benchmark.
//!
//! Rows of no height and columns of no width are hidden as much as those that say so. Rows that a
//! sheet hides by default hold no cell, and are not listed.

mod binary;
mod cells;
mod csv;
mod error;
mod fingerprint;
mod format;
mod guard;
mod limits;
mod number;
mod ods;
mod parts;
mod shown;
mod xls;
mod xlsb;
mod xlsx;
mod xml;

pub(crate) use error::plainly;
pub use error::{GridError, Problem};
pub use fingerprint::Fingerprint;
pub use format::FORMATS;
pub(crate) use format::{begins_as_workbook, part};

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};

use rust_decimal::Decimal;

use crate::place::{CellRef, SheetId, Sheets};
use fingerprint::Print;

/// Reads survey files as [`read`] does, in the order given, with the fingerprint of their bytes.
///
/// # Errors
/// As [`read`], for the first file that cannot be read.
pub fn read_all(paths: &[PathBuf], sheets: &mut Sheets) -> Result<(Vec<Grid>, Fingerprint), GridError> {
    let mut print = Print::default();
    let grids = paths.iter().map(|path| read_into(path, sheets, &mut print)).collect::<Result<_, _>>()?;
    Ok((grids, print.finish()))
}

/// Reads a survey file, entering each of its sheets in `sheets`. A cell that cannot be read is a
/// [`Value::Error`] in its place.
///
/// # Errors
/// [`GridError`] for what is no file, cannot be read, contradicts itself, or is too large to be a survey.
pub fn read(path: &Path, sheets: &mut Sheets) -> Result<Grid, GridError> {
    read_into(path, sheets, &mut Print::default())
}

/// Reads those sheets of an earlier fit-out that are wanted, by their names. It is no survey: its cells are
/// always shown with its name.
///
/// # Errors
/// As [`read`].
pub fn read_earlier(
    path: &Path,
    sheets: &mut Sheets,
    wanted: &dyn Fn(&str) -> bool,
) -> Result<Grid, GridError> {
    sheets.earlier_file();
    read_sheets(path, sheets, &mut Print::default(), wanted)
}

fn read_into(path: &Path, sheets: &mut Sheets, print: &mut Print) -> Result<Grid, GridError> {
    sheets.next_file();
    read_sheets(path, sheets, print, &|_| true)
}

fn read_sheets(
    path: &Path,
    sheets: &mut Sheets,
    print: &mut Print,
    wanted: &dyn Fn(&str) -> bool,
) -> Result<Grid, GridError> {
    let failed = |problem| GridError { file: path.display().to_string(), problem };
    let file = format::bytes(path).map_err(failed)?;
    print.add(&file);
    // A reader that panics on a file says no more about it than one that gives up.
    let read =
        catch_unwind(AssertUnwindSafe(|| format::read(path, file, wanted))).unwrap_or(Err(Problem::Failed));
    let survey = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
    let mut entered = Vec::new();
    for cells::SheetCells { name, rows, merged, hidden } in read.map_err(failed)? {
        let id = sheets.enter(&survey, &name).ok_or_else(|| failed(Problem::TooManySheets))?;
        entered.push(Sheet { id, name, rows, merged, hidden });
    }
    Ok(Grid { survey, sheets: entered })
}

/// One survey file as cells.
#[derive(Clone, Debug)]
pub struct Grid {
    /// The file's name without its folder.
    pub survey: String,
    /// Its sheets in file order, chart sheets left out.
    pub sheets: Vec<Sheet>,
}

/// One sheet: its rows that hold anything, from the top.
#[derive(Clone, Debug)]
pub struct Sheet {
    /// How cells on this sheet are addressed.
    pub id: SheetId,
    /// The sheet's name as written.
    pub name: String,
    /// Rows with at least one cell, in order.
    pub rows: Vec<Row>,
    /// Merged blocks, in order of their first cell.
    pub merged: Vec<Block>,
    /// Rows and columns that the sheet does not show.
    pub hidden: Hidden,
}

/// Rows and columns that a sheet does not show: hidden by hand, folded away, or left out by a
/// filter. Their cells are read like any other.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Hidden {
    /// First and last of each run of rows, from 0, from the top, none touching another.
    pub rows: Vec<(u32, u32)>,
    /// First and last of each run of columns, likewise.
    pub columns: Vec<(u16, u16)>,
}

/// One row's cells.
#[derive(Clone, Debug)]
pub struct Row {
    /// Row, from 0.
    pub row: u32,
    /// Column (from 0) and value of each cell that holds anything, from the left.
    pub cells: Vec<(u16, Value)>,
}

/// A merged block, both ends included.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Block {
    /// First and last row, from 0.
    pub rows: (u32, u32),
    /// First and last column, from 0.
    pub columns: (u16, u16),
}

/// What a cell holds.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// Text, as written.
    Text(Box<str>),
    /// A number, to the 15 significant digits that a spreadsheet shows.
    Number(Decimal),
    /// A number shown as a percentage: 0.0825 shown as 8.25 % is `Percent(8.25)`.
    Percent(Decimal),
    /// A cell formatted as a date or a time: an ISO 8601 date, or a time of day.
    Date(Box<str>),
    /// `TRUE` or `FALSE`.
    Truth(bool),
    /// `#REF!`, `#SPILL!` and their like.
    Error(Box<str>),
    /// A formula whose result the file does not hold.
    NoResult,
}

impl Sheet {
    /// The value at a row and column, from 0.
    pub fn value(&self, row: u32, column: u16) -> Option<&Value> {
        self.row(row)?.value(column)
    }

    /// A row, from 0, if it holds anything.
    fn row(&self, row: u32) -> Option<&Row> {
        // Most sheets leave no row out below the first.
        let first = self.rows.first()?.row;
        let likely = self.rows.get(usize::try_from(row.checked_sub(first)?).ok()?);
        likely.filter(|likely| likely.row == row).or_else(|| {
            let place = self.rows.binary_search_by_key(&row, |row| row.row).ok()?;
            self.rows.get(place)
        })
    }

    /// The address of a cell of this sheet.
    pub fn at(&self, row: u32, column: u16) -> CellRef {
        CellRef { sheet: self.id, row, column }
    }
}

impl Row {
    /// The value in a column, from 0.
    pub fn value(&self, column: u16) -> Option<&Value> {
        let cell = self.cells.binary_search_by_key(&column, |cell| cell.0).ok()?;
        Some(&self.cells[cell].1)
    }
}
