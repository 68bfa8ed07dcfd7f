//! The least that a run could take with the library that writes its workbook: the survey's cells read and
//! dropped, and every call by which the fit-out was written made again, sheet by sheet on one thread, at
//! the same compression. It knows nothing of blinds, makes no text and draws no picture.

use std::collections::HashMap;
use std::fs::File;
use std::hint::black_box;
use std::io::BufWriter;
use std::path::Path;
use std::time::Instant;

use calamine::{Reader, Xlsx, open_workbook};
use rust_xlsxwriter::{Format, FormatAlign, FormatBorder, Formula, Image, Url, Workbook, Worksheet};

use crate::calls::{Call, Calls, FitOut, Held};
use crate::{Outcome, Timing, memory};

/// How hard the fit-out is compressed.
const COMPRESSION: u8 = 3;

/// Cells of a sheet that the library keeps in memory; a sheet of more is on disk, row by row.
const IN_MEMORY: usize = 20_000;

/// The part that reads the survey's cells and drops them.
pub const READ: &str = "read";

/// Reads `survey`, and makes the calls of `fitout` again.
pub fn run(survey: &Path, fitout: &Path) -> Outcome<Timing> {
    let started = Instant::now();
    stream(survey)?;
    let read = started.elapsed().as_secs_f64();
    let [filled, put_together] = write(fitout)?;
    let parts = [(READ, read), ("fill", filled), ("put together", put_together)];
    let parts = parts.map(|(part, seconds)| (part.to_owned(), seconds)).to_vec();
    Ok(Timing { parts, peak: memory::peak() })
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

/// Makes the calls again; gives the seconds of filling the sheets and of putting the file together, without
/// those of reading the calls.
fn write(fitout: &Path) -> Outcome<[f64; 2]> {
    let mut read = FitOut::open(fitout)?;
    let mut workbook = Workbook::new();
    workbook.set_zip_compression_level(COMPRESSION);
    let looks: Vec<Format> = (0..read.looks).map(look).collect();
    let mut images: HashMap<String, Image> = HashMap::new();
    let mut filled = 0.0;
    for place in 0..read.names.len() {
        let calls = read.sheet(place)?;
        for file in calls.pictures.values() {
            if !images.contains_key(file) {
                images.insert(file.clone(), Image::new_from_buffer(&read.picture(file)?)?);
            }
        }
        let started = Instant::now();
        let sheet = match calls.cells.len() > IN_MEMORY {
            true => workbook.add_worksheet_with_constant_memory()?,
            false => workbook.add_worksheet(),
        };
        fill(sheet, &calls, &looks, &images)?;
        filled += started.elapsed().as_secs_f64();
    }
    let started = Instant::now();
    workbook.save_to_writer(BufWriter::new(File::create(fitout.with_extension("floor.xlsx"))?))?;
    Ok([filled, started.elapsed().as_secs_f64()])
}

/// A look as full as ours, and like no other.
fn look(number: usize) -> Format {
    let format = Format::new().set_font_name("Arial").set_font_size(9).set_num_format("#,##0.######");
    let format = format.set_align(FormatAlign::Top).set_border_bottom(FormatBorder::Hair).set_text_wrap();
    format.set_font_color(u32::try_from(number).unwrap_or_default()).set_indent(1)
}

fn fill(
    sheet: &mut Worksheet,
    calls: &Calls,
    looks: &[Format],
    images: &HashMap<String, Image>,
) -> Outcome<()> {
    sheet.set_name(&calls.name)?;
    let mut row_before = None;
    for Call { at: (row, column), look, held, merged } in &calls.cells {
        let (row, column, look) = (*row, *column, &looks[*look]);
        if row_before.replace(row) != Some(row)
            && let Some(height) = calls.heights.get(&row)
        {
            sheet.set_row_height(row, *height)?;
        }
        if let Some((last_row, last_column)) = *merged {
            sheet.merge_range(row, column, last_row, last_column, "", look)?;
        }
        match held {
            Held::Blank => sheet.write_blank(row, column, look)?,
            Held::Number(number) => sheet.write_number_with_format(row, column, *number, look)?,
            Held::Text(text) => sheet.write_string_with_format(row, column, text, look)?,
            Held::Formula(formula, result) => {
                let formula = Formula::new(formula).set_result(result);
                sheet.write_formula_with_format(row, column, formula, look)?
            }
            Held::Link(to, text) => {
                let link = Url::new(to).set_text(text);
                sheet.write_url_with_format(row, column, &link, look)?
            }
        };
        if let Some(file) = calls.pictures.get(&(row, column)) {
            sheet.insert_image_with_offset(row, column, &images[file], 2, 2)?;
        }
    }
    Ok(())
}
