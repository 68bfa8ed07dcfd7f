//! Stories of projects that last: a survey, what people type on `Blinds` of its fit-out, the survey as it
//! is then, and what must come of it. Every fit-out goes through a workbook file.
//!
//! ```text
//! == a blind that is ordered stays as it was ordered
//! --- survey
//! [Openings]
//! ...
//! --- type
//! W1 | State | ordered
//! line 2, 1 | Note | third box
//! --- survey
//! same
//! --- then
//! line 1: 1 x 39 1/2 in x 49 1/2 in, 1 ordered
//! ```
//!
//! What stands after `then` is all that is told of the last run: its lines, its openings that are held,
//! what is asked of ordered blinds, what the parts of the cost come to, and spare louvers. `same` is the
//! survey before once more.

use std::fmt::Write as _;
use std::fs::{self, File};
use std::io::BufWriter;
use std::path::{Path, PathBuf};

use serde_json::Value as Json;
use sillbook::exchange::json;
use sillbook::grid::{self, Grid, Value};
use sillbook::pipeline::{self, RunError, Silent};
use sillbook::query::Wording;
use sillbook::schema::blinds::BLINDS;
use sillbook::tables;
use sillbook::workbook::{self, Limits};

use crate::support::files::Folder;
use crate::support::{Surveys, files_of, surveys};

/// What holds of every story unless it says otherwise.
pub const PROJECT: &str = "[Project]\nProject | Mill House\nUnits | in\nSurvey date | 2026-03-02\n";

struct Story<'t> {
    file: String,
    title: &'t str,
    parts: Vec<(&'t str, String)>,
}

fn stories(file: &Path, text: &'static str) -> Vec<Story<'static>> {
    let file = file.file_stem().unwrap().to_string_lossy().into_owned();
    let stories = text.split("\n== ").skip(1);
    stories
        .map(|story| {
            let (title, rest) = story.split_once('\n').unwrap();
            let parts = rest.split("--- ").skip(1);
            let parts = parts.map(|part| {
                let (name, body) = part.split_once('\n').unwrap();
                (name.trim(), body.trim_end().to_owned())
            });
            Story { file: file.clone(), title, parts: parts.collect() }
        })
        .collect()
}

/// Types beside blinds of a fit-out: each line says of which blind, in which column, and what.
pub fn type_in(earlier: &mut Grid, typed: &str) {
    for line in typed.lines().filter(|line| !line.trim().is_empty()) {
        let cells: Vec<&str> = line.split('|').map(str::trim).collect();
        let [which, column, value] = cells[..] else { panic!("three cells: {line}") };
        let sheet = earlier.sheets.iter_mut().find(|sheet| tables::is_named(sheet, BLINDS.sheet)).unwrap();
        let text = |value: &Value| match value {
            Value::Text(text) => text.to_string(),
            Value::Number(number) => number.to_string(),
            _ => String::new(),
        };
        let head =
            sheet.rows.iter().position(|row| row.cells.first().is_some_and(|(_, cell)| text(cell) == "What"));
        let head = head.unwrap();
        let place = |name: &str| {
            let found = sheet.rows[head].cells.iter().find(|(_, cell)| text(cell) == name);
            found.unwrap_or_else(|| panic!("no column {name}")).0
        };
        let (opening, line_column, blind, into) =
            (place("Opening"), place("Line"), place("Blind"), place(column));
        let is_meant = |row: &grid::Row| {
            let of = |column: u16| row.value(column).map(text).unwrap_or_default();
            match which.strip_prefix("line ") {
                Some(number) => match number.split_once(',') {
                    Some((line, number)) => {
                        of(line_column) == line && of(blind).split(" of ").next() == Some(number.trim())
                    }
                    None => of(line_column) == number,
                },
                None => of(opening) == which,
            }
        };
        let rows: Vec<usize> =
            (head + 1..sheet.rows.len()).filter(|&row| is_meant(&sheet.rows[row])).collect();
        assert!(!rows.is_empty(), "no blind {which}");
        for row in rows {
            let cells = &mut sheet.rows[row].cells;
            cells.retain(|(column, _)| *column != into);
            if !value.is_empty() {
                let is_date = value.len() == 10 && value.matches('-').count() == 2;
                let cell = if is_date { Value::Date(value.into()) } else { Value::Text(value.into()) };
                cells.push((into, cell));
                cells.sort_by_key(|(column, _)| *column);
            }
        }
    }
}

/// Runs a survey after a fit-out, and writes its own; gives the document and the file.
pub fn run(text: &str, after: Option<(&Path, &str)>, to: &Path) -> Result<Json, RunError> {
    let text = if text.contains("[Project]") { text.to_owned() } else { format!("{PROJECT}{text}") };
    let Surveys { grids, mut sheets } = surveys(&files_of(&text));
    let earlier = after.map(|(path, typed)| {
        let mut grid = grid::read_earlier(path, &mut sheets, &sillbook::earlier::is_read).unwrap();
        type_in(&mut grid, typed);
        grid
    });
    let input = pipeline::understand_after(earlier.as_ref(), &grids, sheets, None)?;
    let report = pipeline::verified(pipeline::work(&input, &Silent)?, &Silent)?;
    let mut file = BufWriter::new(File::create(to).unwrap());
    workbook::write(&report, Limits::SPREADSHEET.without_drawings(), &mut file).unwrap();
    let mut out = Vec::new();
    json::write(&report, &mut out).unwrap();
    Ok(serde_json::from_slice(&out).unwrap())
}

pub fn array(value: &Json) -> &Vec<Json> {
    value.as_array().unwrap()
}

/// Inches as a number of 1/16, for short lines.
fn inches(mm: &Json) -> String {
    let sixteenths = (mm.as_f64().unwrap() / 25.4 * 16.0).round() as i64;
    let length = sillbook::length::Length::sixty_fourths(sixteenths * 4);
    sillbook::length::fraction_of_inch(length, 16).unwrap()
}

/// All that is told of a run.
fn told(document: &Json) -> String {
    let mut lines = String::new();
    for line in array(&document["order"]) {
        let number = line["line"].as_u64().unwrap();
        let (width, drop) = (inches(&line["width_mm"]), inches(&line["drop_mm"]));
        write!(lines, "line {number}: {} x {width} x {drop}", line["quantity"]).unwrap();
        for key in ["source", "mount"] {
            if !["made", "inside"].contains(&line[key].as_str().unwrap()) {
                write!(lines, " {}", line[key].as_str().unwrap()).unwrap();
            }
        }
        let blinds = array(&document["blinds"]);
        for blind in blinds.iter().filter(|blind| blind["what"] == "blind" && blind["line"] == number) {
            write!(lines, "; {}", blind["blind"].as_str().unwrap()).unwrap();
            write!(lines, " {}", blind["opening"].as_str().unwrap()).unwrap();
            if let Some(state) = blind["state"].as_str() {
                write!(lines, " {state}").unwrap();
            }
            if let Some(of) = blind["remake_of"].as_str() {
                write!(lines, " for {of}").unwrap();
            }
            if let Some(note) = blind["note"].as_str().filter(|note| !note.is_empty()) {
                write!(lines, " ({note})").unwrap();
            }
        }
        lines.push('\n');
    }
    for row in array(&document["blinds"]) {
        match row["what"].as_str().unwrap() {
            "spare louvers" => {
                write!(lines, "spares {}: {}", row["line"], row["louver_count"]).unwrap();
                if let Some(state) = row["state"].as_str() {
                    write!(lines, " {state}").unwrap();
                }
                lines.push('\n');
            }
            "line gone" => writeln!(lines, "gone {}", row["line"]).unwrap(),
            _ => {}
        }
    }
    for opening in array(&document["openings"]).iter().filter(|opening| opening["state"] == "held") {
        writeln!(lines, "held {}", opening["name"].as_str().unwrap()).unwrap();
    }
    let own = [
        "ordered-",
        "fitted-",
        "remake-without",
        "stock-ordered",
        "stock-no-longer",
        "typed-without",
        "maybe-the",
        "cancelled-and",
        "do-before",
    ];
    for query in array(&document["queries"]) {
        let code = query["code"].as_str().unwrap();
        if own.iter().any(|own| code.starts_with(own)) {
            let details: Vec<&str> =
                array(&query["details"]).iter().map(|one| one.as_str().unwrap()).collect();
            writeln!(lines, "{} {code}: {}", query["severity"].as_str().unwrap(), details.join("; "))
                .unwrap();
        }
    }
    let mut cost: Vec<(String, f64)> = Vec::new();
    for line in array(&document["cost"]["lines"]).iter().filter(|line| line["section"] == "blinds") {
        let commitment = line["commitment"].as_str().unwrap().to_owned();
        let amount: f64 = line["amount"].as_str().map_or(f64::NAN, |amount| amount.parse().unwrap());
        match cost.iter_mut().find(|(known, _)| *known == commitment) {
            Some((_, sum)) => *sum += amount,
            None => cost.push((commitment, amount)),
        }
    }
    cost.sort_by(|one, other| one.0.cmp(&other.0));
    let cost: Vec<String> = cost.iter().map(|(name, sum)| format!("{name} {sum:.2}")).collect();
    writeln!(lines, "blinds cost: {}", cost.join(", ")).unwrap();
    lines
}

/// The last run of a story, as it is told.
fn last_run(story: &Story<'_>) -> String {
    let folder = Folder::new();
    let mut survey = String::new();
    let mut typed = String::new();
    let mut after: Option<PathBuf> = None;
    let mut result = String::new();
    for (number, (name, body)) in story.parts.iter().enumerate() {
        match *name {
            "type" => typed.clone_from(body),
            "survey" => {
                if body.trim() != "same" {
                    survey.clone_from(body);
                }
                let to = folder.path().join(format!("fit-out {number}.xlsx"));
                let before = after.as_deref().map(|path| (path, typed.as_str()));
                result = match run(&survey, before, &to) {
                    Ok(document) => told(&document),
                    Err(error) => return format!("refused: {error} ({})\n", error.hint()),
                };
                after = Some(to);
                typed.clear();
            }
            "then" => {}
            other => panic!("{other} is no part of a story"),
        }
    }
    result
}

#[test]
fn every_story_ends_as_it_must() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/stories");
    let mut files: Vec<PathBuf> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.sort();
    let mut faults = String::new();
    let mut count = 0;
    for file in files {
        let text: &'static str = fs::read_to_string(&file).unwrap().leak();
        for story in stories(&file, text) {
            count += 1;
            let expected = story.parts.iter().find(|(name, _)| *name == "then").map_or("", |(_, body)| body);
            let told = last_run(&story);
            if told.trim() != expected.trim() {
                writeln!(faults, "== {} ({})\n--- then\n{told}", story.title, story.file).unwrap();
            }
        }
    }
    assert!(count >= 30, "only {count} stories");
    assert!(faults.is_empty(), "{faults}");
}
