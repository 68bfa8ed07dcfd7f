//! The least that a run could take: the survey's cells read and dropped, the fit-out's cells
//! written again as they are, without formats.

use std::collections::BTreeMap;
use std::fs::File;
use std::hint::black_box;
use std::io::{BufWriter, Read, Seek};
use std::path::Path;
use std::time::Instant;

use calamine::{Data, Reader, Xlsx, open_workbook};
use rust_xlsxwriter::{Formula, Workbook};

use crate::{Outcome, Timing, memory};

/// Cells over which a sheet is kept on disk while it is written, as the fit-out's tables are. A
/// short one is quicker in memory.
const LONG: usize = 20_000;

/// The part that reads the survey's cells and drops them.
pub const READ: &str = "read";

/// Reads `survey`, and writes the cells of `fitout` again.
pub fn run(survey: &Path, fitout: &Path) -> Outcome<Timing> {
    let started = Instant::now();
    stream(survey)?;
    let read = started.elapsed().as_secs_f64();

    let sheets = cells_of(fitout)?;
    let started = Instant::now();
    write(&sheets, &fitout.with_extension("floor.xlsx"))?;
    let written = started.elapsed().as_secs_f64();
    Ok(Timing { parts: vec![(READ.to_owned(), read), ("write".to_owned(), written)], peak: memory::peak() })
}

/// Every cell of a workbook, one at a time.
fn stream(path: &Path) -> Outcome<()> {
    let mut workbook: Xlsx<_> = open_workbook(path)?;
    for name in workbook.sheet_names() {
        let mut cells = workbook.worksheet_cells_reader(&name)?;
        while let Some(cell) = cells.next_cell()? {
            black_box(cell);
        }
    }
    Ok(())
}

/// A sheet's cells from the top, each row from the left.
struct Cells {
    name: String,
    cells: Vec<(u32, u16, Data)>,
    formulas: BTreeMap<(u32, u16), String>,
}

fn cells_of(path: &Path) -> Outcome<Vec<Cells>> {
    let mut workbook: Xlsx<_> = open_workbook(path)?;
    workbook.sheet_names().into_iter().map(|name| sheet(&mut workbook, name)).collect()
}

fn sheet<R: Read + Seek>(workbook: &mut Xlsx<R>, name: String) -> Outcome<Cells> {
    Ok(Cells { cells: values(workbook, &name)?, formulas: formulas(workbook, &name)?, name })
}

fn values<R: Read + Seek>(workbook: &mut Xlsx<R>, sheet: &str) -> Outcome<Vec<(u32, u16, Data)>> {
    let (mut cells, mut values) = (workbook.worksheet_cells_reader(sheet)?, Vec::new());
    while let Some(cell) = cells.next_cell()? {
        let (row, column) = cell.get_position();
        values.push((row, u16::try_from(column)?, Data::from(cell.get_value().clone())));
    }
    Ok(values)
}

fn formulas<R: Read + Seek>(workbook: &mut Xlsx<R>, sheet: &str) -> Outcome<BTreeMap<(u32, u16), String>> {
    let (mut cells, mut formulas) = (workbook.worksheet_cells_reader(sheet)?, BTreeMap::new());
    while let Some(cell) = cells.next_formula()? {
        let (row, column) = cell.get_position();
        if !cell.get_value().is_empty() {
            formulas.insert((row, u16::try_from(column)?), cell.get_value().clone());
        }
    }
    Ok(formulas)
}

fn write(sheets: &[Cells], path: &Path) -> Outcome<()> {
    let mut workbook = Workbook::new();
    for Cells { name, cells, formulas } in sheets {
        let page = if cells.len() > LONG {
            workbook.add_worksheet_with_low_memory()?
        } else {
            workbook.add_worksheet()
        };
        page.set_name(name)?;
        for (row, column, value) in cells {
            if let Some(formula) = formulas.get(&(*row, *column)) {
                page.write_formula(*row, *column, Formula::new(formula).set_result(value.to_string()))?;
                continue;
            }
            match value {
                Data::Float(number) => page.write_number(*row, *column, *number)?,
                Data::Int(number) => page.write_number(*row, *column, *number as f64)?,
                Data::Bool(truth) => page.write_boolean(*row, *column, *truth)?,
                Data::DateTime(day) => page.write_number(*row, *column, day.as_f64())?,
                Data::Empty => continue,
                text => page.write_string(*row, *column, text.to_string())?,
            };
        }
    }
    workbook.save_to_writer(BufWriter::new(File::create(path)?))?;
    Ok(())
}
