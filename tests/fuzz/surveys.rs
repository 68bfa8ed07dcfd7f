//! Whole surveys: those of the other tests as what to spoil, and what must hold of any.

use std::fmt;
use std::fs::{self, File};
use std::io::BufWriter;
use std::path::Path;

use sillbook::exchange::json;
use sillbook::grid::{self, Grid, Value};
use sillbook::length::Unit;
use sillbook::pipeline::{self, Input, RunError, Silent};
use sillbook::place::Sheets;
use sillbook::query::Wording;
use sillbook::report::Report;
use sillbook::workbook::{self, Limits};

use super::silence;
use crate::invariants;
use crate::support::files::Folder;
use crate::support::{files_of, surveys};

/// A run's files, and the fit-out that it goes on from.
#[derive(Clone)]
pub struct Job {
    /// The surveys.
    pub grids: Vec<Grid>,
    /// The earlier fit-out.
    pub earlier: Option<Grid>,
    /// What a bare number is in, if the command line says.
    pub unit: Option<Unit>,
}

impl Job {
    /// The survey of one text; a file `earlier.xlsx` in it is the fit-out to go on from.
    pub fn of(text: &str) -> Job {
        let mut grids = surveys(&files_of(text)).grids;
        let earlier = grids.iter().position(|grid| grid.survey == "earlier.xlsx");
        let earlier = earlier.map(|place| grids.remove(place));
        let unit = (!text.contains("Units |")).then_some(Unit::Inch);
        Job { grids, earlier, unit }
    }

    /// Its files with their sheets entered anew.
    pub fn entered(&self) -> (Vec<Grid>, Option<Grid>, Sheets) {
        let mut sheets = Sheets::default();
        let mut grids = self.grids.clone();
        for grid in &mut grids {
            sheets.next_file();
            enter(grid, &mut sheets);
        }
        let mut earlier = self.earlier.clone();
        if let Some(earlier) = &mut earlier {
            sheets.earlier_file();
            enter(earlier, &mut sheets);
        }
        (grids, earlier, sheets)
    }

    /// All that its files say.
    pub fn read(&self) -> Result<Input, RunError> {
        let (grids, earlier, sheets) = self.entered();
        pipeline::understand_after(earlier.as_ref(), &grids, sheets, self.unit)
    }

    /// The fit-out that is written of it, read back.
    pub fn fit_out(&self) -> Grid {
        let input = self.read().unwrap();
        let report = pipeline::work(&input, &Silent).unwrap();
        let folder = Folder::new();
        let path = folder.path().join("fit-out.xlsx");
        let mut file = BufWriter::new(File::create(&path).unwrap());
        workbook::write(&report, Limits::SPREADSHEET.without_drawings(), &mut file).unwrap();
        drop(file);
        grid::read_earlier(&path, &mut Sheets::default(), &sillbook::earlier::is_read).unwrap()
    }

    /// What comes of it, as other programs read it.
    pub fn document(&self) -> serde_json::Value {
        let input = self.read().unwrap();
        document_of(&pipeline::work(&input, &Silent).unwrap())
    }

    /// What is wrong with what comes of it, be it worked out or refused.
    pub fn fault(&self) -> Option<String> {
        match (self.read(), self.read()) {
            (Ok(one), Ok(other)) if as_read(&one) == as_read(&other) => self.fault_of_run(&one),
            (Err(one), Err(other)) if words(&one) == words(&other) => fault_of_refusal(&one),
            _ => Some("is read another way the second time".to_owned()),
        }
    }

    /// What is wrong with what comes of it, that it is refused among it.
    pub fn fault_or_refusal(&self) -> Option<String> {
        let refused = self.read().err().map(|error| format!("is refused: {:?}", words(&error)));
        refused.or_else(|| self.fault())
    }

    fn fault_of_run(&self, input: &Input) -> Option<String> {
        let report = match pipeline::work(input, &Silent) {
            Ok(report) => report,
            Err(error) => return fault_of_refusal(&error),
        };
        if let Some(query) = report.queries.iter().find(|query| query.message.is_empty()) {
            return Some(format!("asks without words: {}", query.code));
        }
        if let Some(silent) = silence::fault(&report, &self.entered().0) {
            return Some(silent);
        }
        let report = match pipeline::verified(report, &Silent) {
            Ok(report) => report,
            Err(error) => return fault_of_refusal(&error),
        };
        if input.earlier.is_some() {
            // The named checks are of a run in which nothing is ordered yet.
            return silence::fault_of_orders(&report, input.earlier.as_ref());
        }
        let broken = invariants::faults(&document_of(&report), input);
        (!broken.is_empty()).then(|| format!("breaks what holds of every run: {}", broken.join("\n")))
    }
}

fn document_of(report: &Report<'_>) -> serde_json::Value {
    let mut document = Vec::new();
    json::write(report, &mut document).unwrap();
    serde_json::from_slice(&document).unwrap()
}

fn as_read(input: &Input) -> String {
    format!("{:?} {:?} {:?}", input.survey, input.queries, input.earlier)
}

fn enter(grid: &mut Grid, sheets: &mut Sheets) {
    for sheet in &mut grid.sheets {
        sheet.id = sheets.enter(&grid.survey, &sheet.name).unwrap();
    }
}

/// What is told of an error, and the way out.
fn words(error: &RunError) -> [String; 2] {
    [error.to_string(), error.hint()]
}

/// What is wrong with an error: that it is one of the program, or has no words.
fn fault_of_refusal(error: &RunError) -> Option<String> {
    let mut cause = error;
    while let RunError::InOption { error, .. } = cause {
        cause = error;
    }
    if matches!(cause, RunError::BuiltInRules { .. } | RunError::Cutting(_) | RunError::Breach(_)) {
        return Some(format!("is a fault of the program: {error}"));
    }
    words(error).iter().any(String::is_empty).then(|| format!("is refused without words: {error:?}"))
}

impl fmt::Debug for Job {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(f, "unit {:?}", self.unit)?;
        for grid in self.grids.iter().chain(&self.earlier) {
            writeln!(f, "--- {}", grid.survey)?;
            for sheet in &grid.sheets {
                writeln!(f, "[{}]", sheet.name)?;
                for row in &sheet.rows {
                    write!(f, "{:3}", row.row + 1)?;
                    for (column, value) in &row.cells {
                        write!(f, " | {column}: {}", shown(value))?;
                    }
                    writeln!(f)?;
                }
            }
        }
        Ok(())
    }
}

fn shown(value: &Value) -> String {
    match value {
        Value::Text(text) => format!("{:?}", text.chars().take(80).collect::<String>()),
        Value::Number(number) => number.to_string(),
        other => format!("{other:?}"),
    }
}

/// The surveys of `tests/queries`, each with the lines that raise its query.
pub fn of_queries(files: &[&str]) -> Vec<Job> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/queries");
    let texts = files.iter().map(|file| fs::read_to_string(folder.join(file).with_extension("txt")).unwrap());
    texts.flat_map(|text| text.split("\n== ").skip(1).map(of_query).collect::<Vec<Job>>()).collect()
}

fn of_query(case: &str) -> Job {
    let lines = case.lines().skip(1).filter(|line| !line.is_empty() && !line.starts_with("# "));
    let lines = lines.filter(|line| !line.starts_with("+ "));
    let lines: Vec<&str> = lines.map(|line| line.strip_prefix("- ").unwrap_or(line)).collect();
    Job::of(&lines.join("\n"))
}

/// The surveys of `tests/messes`.
pub fn of_messes() -> Vec<Job> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/messes");
    let mut paths: Vec<_> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    paths.sort();
    let mess = |path| {
        let text = fs::read_to_string(path).unwrap();
        let (survey, _) = text.split_once("\n=>").unwrap();
        let head = |line: &&str| line.starts_with('#') || line.starts_with("--units");
        let lines: Vec<&str> = survey.lines().skip_while(head).collect();
        Job::of(&lines.join("\n"))
    };
    paths.into_iter().map(mess).collect()
}
