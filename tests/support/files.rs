//! A survey's text as a workbook file.

use std::fs;
use std::path::{Path, PathBuf};

use rust_decimal::prelude::ToPrimitive;
use rust_xlsxwriter::{ExcelDateTime, Format, Workbook, Worksheet};
use sillbook::grid::{Sheet, Value};

/// A folder that is gone when the test ends.
pub struct Folder(tempfile::TempDir);

impl Folder {
    /// An empty one.
    pub fn new() -> Folder {
        Folder(tempfile::tempdir().unwrap())
    }

    /// Where it is.
    pub fn path(&self) -> &Path {
        self.0.path()
    }

    /// Writes a survey into it, from its text.
    pub fn survey(&self, name: &str, text: &str) -> PathBuf {
        let mut workbook = Workbook::new();
        for sheet in super::grid(text).sheets {
            write(workbook.add_worksheet(), &sheet);
        }
        let path = self.path().join(name);
        workbook.save(&path).unwrap();
        path
    }

    /// The names of what is in it, in order.
    pub fn names(&self) -> Vec<String> {
        let mut names: Vec<_> = fs::read_dir(self.path())
            .unwrap()
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .collect();
        names.sort();
        names
    }
}

fn write(page: &mut Worksheet, sheet: &Sheet) {
    page.set_name(&sheet.name).unwrap();
    for row in &sheet.rows {
        for (column, value) in &row.cells {
            let (row, column) = (row.row, *column);
            match value {
                Value::Text(text) => page.write_string(row, column, &**text),
                Value::Number(number) => page.write_number(row, column, number.to_f64().unwrap()),
                Value::Percent(percent) => {
                    let share = percent.to_f64().unwrap() / 100.0;
                    page.write_number_with_format(row, column, share, &Format::new().set_num_format("0.00%"))
                }
                Value::Date(date) => {
                    let date = ExcelDateTime::parse_from_str(date).unwrap();
                    page.write_datetime_with_format(
                        row,
                        column,
                        &date,
                        &Format::new().set_num_format("yyyy-mm-dd"),
                    )
                }
                Value::Truth(truth) => page.write_boolean(row, column, *truth),
                Value::Error(_) | Value::NoResult => panic!("a file cannot be made with {value:?}"),
            }
            .unwrap();
        }
    }
}
