//! Each printed figure is held to its number by its place: the sheet, the heading over it or the name
//! beside it, and the row. The numbers are those of the document of the same run; what that does not
//! hold is worked anew. A heading that no figure here names fails, and so does a figure that no sheet
//! shows, and two figures that are alike in every row, for those could change places unseen.

mod blinds;
mod cost;
mod cut_list;
mod drawings;
mod fitting_days;
mod hardware;
mod install_index;
mod keys;
mod labels;
mod openings;
mod order;
mod phases;
mod range;
mod sawing;
mod sizes_curve;
mod stock_use;
mod surveys;
mod table;
mod unit_pages;

use std::path::Path;
use std::sync::LazyLock;

use crate::support::package::{Cell, Package};
use serde_json::{Value, json};
use sillbook::exchange::json as document;
use sillbook::length::{Length, Units};
use sillbook::pipeline::{self, Input, Silent};
use sillbook::report::Report;
use sillbook::workbook::{Limits, write};

/// One run: what was printed, and the document of the same run.
struct Run {
    name: &'static str,
    report: &'static Report<'static>,
    document: Value,
    package: Package,
}

/// The surveys of this room, in inches and in millimeters, and both demonstrations.
static RUNS: LazyLock<Vec<Run>> = LazyLock::new(|| {
    let text = |name, text| {
        let surveys = crate::support::surveys(&[("survey.xlsx", text)]);
        Run::of(name, pipeline::understand(&surveys.grids, surveys.sheets, None).unwrap())
    };
    let demo = |name, file| {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo").join(file);
        Run::of(name, pipeline::read(&[path], None, &Silent).unwrap())
    };
    vec![
        text("in inches", surveys::INCHES),
        text("in millimeters", surveys::MILLIMETERS),
        demo("harrier", "harrier-wharf.xlsx"),
        demo("larch", "larch-terrace.xlsx"),
    ]
});

impl Run {
    /// Works and writes a survey. It is kept for as long as the tests run.
    fn of(name: &'static str, input: Input) -> Run {
        let input: &'static Input = Box::leak(Box::new(input));
        let report: &'static Report<'static> = Box::leak(Box::new(pipeline::work(input, &Silent).unwrap()));
        let (mut text, mut file) = (Vec::new(), std::io::Cursor::new(Vec::new()));
        document::write(report, &mut text).unwrap();
        write(report, Limits::SPREADSHEET, &mut file).unwrap();
        let document = serde_json::from_slice(&text).unwrap();
        Run { name, report, document, package: Package::of(file.into_inner()) }
    }

    /// Every text of its sheets, with its place.
    fn texts(&self) -> impl Iterator<Item = (String, String)> {
        self.package.sheets.iter().flat_map(move |(sheet, cells)| {
            let texts = cells.cells.iter().filter(|(_, cell)| cell.is_text);
            texts.map(move |(at, cell)| {
                (format!("{}, {sheet}, row {}", self.name, at.0 + 1), cell.text.clone())
            })
        })
    }

    fn units(&self) -> Units {
        self.report.rules.project.units
    }

    /// A list of the document.
    fn list(&self, name: &str) -> &[Value] {
        self.document[name].as_array().unwrap()
    }

    /// The opening of that name, in the document.
    fn opening(&self, name: &Value) -> &Value {
        self.list("openings").iter().find(|row| row["name"] == *name).unwrap()
    }
}

/// Every text that the sheets of these runs print, with its place.
pub(crate) fn texts() -> impl Iterator<Item = (String, String)> {
    RUNS.iter().flat_map(Run::texts)
}

/// A figure: its heading or the name beside it, and its key in the row that it is printed of.
#[derive(Clone, Copy)]
struct Figure {
    name: &'static str,
    is: Is,
    key: &'static str,
    /// What stands where the row has no number; blank where it is empty, or the opening is held.
    else_shows: &'static str,
}

/// What a figure is: how the row's number becomes the cell's.
#[derive(Clone, Copy, PartialEq)]
enum Is {
    Text,
    Count,
    /// Millimeters in the row; on paper the run's unit, which the heading names.
    Length,
    /// Kilograms in the row; on paper pounds beside inches, which the heading names.
    Kilograms,
    Share,
    Degrees,
    /// Money as text in the row, a number in the cell.
    Money,
    /// A date as text in the row, a day's number in the cell.
    Day,
}

const fn figure(name: &'static str, is: Is, key: &'static str) -> Figure {
    Figure { name, is, key, else_shows: "" }
}

impl Figure {
    const fn or(self, else_shows: &'static str) -> Figure {
        Figure { else_shows, ..self }
    }

    /// As a table's heading.
    fn heading(&self, units: Units) -> String {
        match self.is {
            Is::Length => format!("{} ({})", self.name, units.symbol()),
            Is::Kilograms => format!("{} ({})", self.name, weight_unit(units).0),
            _ => self.name.to_owned(),
        }
    }

    /// What the row says must be shown.
    fn of(&self, row: &Value, units: Units) -> Shown {
        let value = match row.get(self.key) {
            Some(value) => value,
            None => row.pointer(&format!("/{}", self.key.replace('.', "/"))).unwrap_or(&Value::Null),
        };
        let number = |value: &Value| value.as_f64().unwrap_or_else(|| panic!("{}: {value}", self.key));
        match (self.is, value) {
            (_, Value::Null) if row["state"] == "held" => Shown::Blank,
            (_, Value::Null) => Shown::text(self.else_shows),
            (Is::Text, value) => Shown::text(value.as_str().unwrap_or_else(|| panic!("{}", self.key))),
            (Is::Length, value) => Shown::Number(in_units(number(value), units), 1e-6),
            (Is::Count, value) => Shown::Number(number(value), 0.0),
            (Is::Kilograms, value) => {
                let (_, kilograms) = weight_unit(units);
                Shown::Number(number(value) / kilograms, 0.000_501 / kilograms)
            }
            (Is::Money, value) => {
                Shown::Number(value.as_str().and_then(|money| money.parse().ok()).unwrap(), 1e-9)
            }
            (Is::Share, value) => Shown::Number(number(value), 0.000_051),
            (Is::Degrees, value) => Shown::Number(number(value), 0.051),
            (Is::Day, value) => {
                let date = rust_xlsxwriter::ExcelDateTime::parse_from_str(value.as_str().unwrap()).unwrap();
                Shown::Number(date.to_excel(), 0.0)
            }
        }
    }
}

/// Millimeters as the number that a cell holds.
fn in_units(mm: f64, units: Units) -> f64 {
    match units {
        Units::Inches => mm / 25.4,
        Units::Millimeters => mm,
    }
}

/// The unit of weights beside these lengths, and its kilograms.
const fn weight_unit(units: Units) -> (&'static str, f64) {
    match units {
        Units::Inches => ("lb", 0.453_592_37),
        Units::Millimeters => ("kg", 1.0),
    }
}

/// A length as a row of the document holds it.
fn mm(length: Length) -> Value {
    json!(length.nm() as f64 / 1e6)
}

/// A row's millimeters, exact.
fn length(value: &Value) -> Length {
    Length::from_nm((value.as_f64().unwrap() * 1e6).round() as i64)
}

/// What a place must show.
#[derive(Clone, Debug, PartialEq)]
enum Shown {
    Blank,
    Text(String),
    /// A number, and how far the cell's may be off it.
    Number(f64, f64),
}

impl Shown {
    fn text(text: &str) -> Shown {
        if text.is_empty() { Shown::Blank } else { Shown::Text(text.to_owned()) }
    }

    /// Whether a cell shows it.
    fn is_in(&self, cell: Option<&Cell>) -> bool {
        match (self, cell) {
            (Shown::Blank, cell) => cell.is_none_or(|cell| cell.text.is_empty()),
            (Shown::Text(text), Some(cell)) => cell.is_text && cell.text == *text,
            (Shown::Number(number, off), Some(cell)) => {
                !cell.is_text && cell.text.parse::<f64>().is_ok_and(|found| (found - number).abs() <= *off)
            }
            (_, None) => false,
        }
    }
}
