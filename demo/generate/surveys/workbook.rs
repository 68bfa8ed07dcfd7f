//! A workbook as plain cells, and its bytes.

use rust_xlsxwriter::{
    Color, DocProperties, ExcelDateTime, Format, FormatAlign, FormatBorder, Workbook, XlsxError,
};

/// A survey workbook before it is written.
#[derive(Default)]
pub struct Survey {
    /// Its sheets, in order.
    pub sheets: Vec<Sheet>,
}

/// One sheet: headings over rows.
pub struct Sheet {
    /// The sheet's name.
    pub name: &'static str,
    /// The first row.
    pub headings: Vec<String>,
    /// The rows under it; each has a place for every heading.
    pub rows: Vec<Vec<Option<Cell>>>,
    /// Blocks that are merged.
    pub merged: Vec<Merged>,
}

/// Rows (from 0, under the headings, both ends included) merged in one column; the first row's cell shows.
pub struct Merged {
    /// The column, from 0.
    pub column: u16,
    /// First and last row.
    pub rows: (u32, u32),
}

/// What a cell holds.
#[derive(Clone, Debug, PartialEq)]
pub enum Cell {
    /// Text.
    Text(String),
    /// A number.
    Number(f64),
    /// A share shown as a percentage: 0.0825 shows as 8.25 %.
    Percent(f64),
    /// A day: year, month, day.
    Date(u16, u8, u8),
}

impl From<&str> for Cell {
    fn from(text: &str) -> Cell {
        Cell::Text(text.to_owned())
    }
}

impl From<String> for Cell {
    fn from(text: String) -> Cell {
        Cell::Text(text)
    }
}

impl From<i32> for Cell {
    fn from(number: i32) -> Cell {
        Cell::Number(f64::from(number))
    }
}

impl From<f64> for Cell {
    fn from(number: f64) -> Cell {
        Cell::Number(number)
    }
}

impl Sheet {
    /// A sheet with nothing merged.
    pub fn new(name: &'static str, headings: Vec<String>, rows: Vec<Vec<Option<Cell>>>) -> Sheet {
        Sheet { name, headings, rows, merged: Vec::new() }
    }

    /// A sheet of items and their values.
    pub fn of_items(name: &'static str, items: Vec<(&str, Cell)>) -> Sheet {
        let rows = items.into_iter().map(|(item, value)| vec![Some(Cell::from(item)), Some(value)]).collect();
        Sheet::new(name, vec!["Item".to_owned(), "Value".to_owned()], rows)
    }
}

impl Survey {
    /// The file. Its creation time is fixed, so that the same survey gives the same bytes.
    pub fn to_bytes(&self) -> Result<Vec<u8>, XlsxError> {
        let heading = Format::new()
            .set_bold()
            .set_text_wrap()
            .set_background_color(Color::RGB(0xE7_E2_D6))
            .set_border_bottom(FormatBorder::Thin);
        let percent = Format::new().set_num_format("0.00%");
        let date = Format::new().set_num_format("yyyy-mm-dd");
        let block = Format::new().set_align(FormatAlign::Top);

        let mut workbook = Workbook::new();
        let created = ExcelDateTime::from_ymd(2026, 3, 2)?.and_hms(8, 0, 0)?;
        workbook.set_properties(&DocProperties::new().set_creation_datetime(&created));
        for sheet in &self.sheets {
            let page = workbook.add_worksheet();
            page.set_name(sheet.name)?.set_freeze_panes(1, 0)?.set_repeat_rows(0, 0)?;
            page.set_landscape();
            for (column, name) in (0..).zip(&sheet.headings) {
                page.write_with_format(0, column, name, &heading)?;
                page.set_column_width(column, width_of(sheet, usize::from(column)))?;
            }
            for (row, cells) in (1..).zip(&sheet.rows) {
                for (column, cell) in (0..).zip(cells) {
                    match cell {
                        None => {}
                        Some(Cell::Text(text)) => _ = page.write_string(row, column, text)?,
                        Some(Cell::Number(number)) => _ = page.write_number(row, column, *number)?,
                        Some(Cell::Percent(share)) => {
                            page.write_number_with_format(row, column, *share, &percent)?;
                        }
                        Some(Cell::Date(year, month, day)) => {
                            let day = ExcelDateTime::from_ymd(*year, *month, *day)?;
                            page.write_datetime_with_format(row, column, &day, &date)?;
                        }
                    }
                }
            }
            for Merged { column, rows: (first, last) } in &sheet.merged {
                // Merging writes the block's own first cell, so the text is written again over it.
                page.merge_range(first + 1, *column, last + 1, *column, "", &block)?;
                if let Some(Some(Cell::Text(text))) = sheet.rows[*first as usize].get(usize::from(*column)) {
                    page.write_string_with_format(first + 1, *column, text, &block)?;
                }
            }
        }
        workbook.save_to_buffer()
    }
}

/// A width, in characters, that shows the column's longest text.
fn width_of(sheet: &Sheet, column: usize) -> f64 {
    let longest_word = sheet.headings[column].split(' ').map(str::len).max().unwrap_or(0);
    let longest_text = sheet.rows.iter().filter_map(|row| match row.get(column)? {
        Some(Cell::Text(text)) => Some(text.chars().count()),
        Some(Cell::Date(..)) => Some(10),
        _ => None,
    });
    longest_text.max().unwrap_or(0).max(longest_word).clamp(6, 40) as f64 + 2.0
}
