//! `Labels`: every line of every label.

use serde_json::{Value, json};

use super::{RUNS, Run, length};
use crate::support::package::Sheet;
use sillbook::length::{Length, Units};

/// Columns and rows from one label to the next.
const ACROSS: u32 = 3;
const DOWN: u32 = 7;
/// The row of the first.
const FIRST: u32 = 3;

/// What the labels must say, line by line.
fn wanted(run: &Run) -> Vec<[String; 6]> {
    let mut labels = Vec::new();
    for line in run.list("order") {
        let mut number = 0;
        for name in line["openings"].as_array().unwrap() {
            let opening = run.opening(name);
            for _ in 0..opening["quantity"].as_u64().unwrap() {
                number += 1;
                labels.push(label(run, line, opening, number));
            }
        }
    }
    labels
}

fn label(run: &Run, line: &Value, opening: &Value, number: u64) -> [String; 6] {
    let list = |values: &[&Value]| {
        let texts = values.iter().map(|value| value.as_str().unwrap()).filter(|text| !text.is_empty());
        texts.collect::<Vec<_>>().join(", ")
    };
    let unit = opening["unit"].as_str().unwrap();
    let not_yet = if line["release"] == "provisional" { " - DO NOT MAKE YET" } else { "" };
    let project = &run.report.rules.project;
    let survey = run.report.fingerprint.map_or_else(String::new, |survey| format!(", survey {survey}"));
    let stamp = format!("Revision {}{survey}", project.revision);
    // A phase's own number wins over the project's.
    let own = run.report.rules.phases.iter().find(|phase| line["phase"] == phase.name.as_str());
    let own = own.map(|phase| &phase.order_number).filter(|number| !number.is_empty());
    let order = match own.unwrap_or(&project.order_number).as_str() {
        "" => String::new(),
        number => format!("order {number}"),
    };
    [
        if unit.is_empty() { "No unit" } else { unit }.to_owned(),
        list(&[&opening["room"], &opening["name"], &json!(hangs(opening))]),
        size(&line["width_mm"], &line["drop_mm"], run.units()),
        list(&[&line["product"], &line["color"], &json!(operated(line))]),
        format!("Line {}: {number} of {}{not_yet}", line["line"], line["quantity"]),
        list(&[
            &json!(stamp),
            &json!(project.name),
            &floor_of(opening),
            &opening["building"],
            &line["phase"],
            &json!(order),
        ]),
    ]
}

/// `outside mount, stacks left, two people`.
fn hangs(opening: &Value) -> String {
    let mut words = vec![format!("{} mount", opening["mount"].as_str().unwrap())];
    words.extend(match opening["draw"].as_str() {
        Some("split") => Some("stacks both sides".to_owned()),
        Some(side) => Some(format!("stacks {side}")),
        None => None,
    });
    words.extend((opening["people"] == 2).then(|| "two people".to_owned()));
    words.join(", ")
}

/// What operates a blind, if it is not a wand.
fn operated(line: &Value) -> String {
    let side = line["control_side"].as_str().unwrap_or("side not given");
    match line["control"].as_str().unwrap() {
        "motor" => format!("motor, {side}"),
        "cord" => format!("cord: KEEP FROM CHILDREN, {side}"),
        _ => String::new(),
    }
}

/// `110 x 83 1/2 in`: the width first.
fn size(width: &Value, drop: &Value, units: Units) -> String {
    let [width, drop] = [width, drop].map(|value| {
        let length: Length = length(value);
        length.shown(units).to_string()
    });
    format!("{} x {drop}", width.strip_suffix(units.symbol()).unwrap().trim_end())
}

/// The lines of the label that stands there.
fn printed(sheet: &Sheet, place: u32) -> [String; 6] {
    let (top, column) = (FIRST + place / 2 * DOWN, place % 2 * ACROSS);
    std::array::from_fn(|line| {
        let cell = sheet.cells.get(&(top + line as u32, column));
        cell.map_or_else(String::new, |cell| cell.text.clone())
    })
}

#[test]
fn every_line_of_a_label_says_what_the_order_says() {
    for run in RUNS.iter() {
        let sheet = &run.package.sheets["Labels"];
        let wanted = wanted(run);
        for (place, wanted) in (0..).zip(&wanted) {
            let printed = printed(sheet, place);
            for (printed, wanted) in printed.iter().zip(wanted) {
                // What is too long for its row is cut off.
                let agree = printed
                    .strip_suffix('…')
                    .map_or(printed == wanted, |begin| wanted.starts_with(begin.trim_end()));
                assert!(agree, "{}, label {}: {printed:?} for {wanted:?}", run.name, place + 1);
            }
        }
        assert_eq!(printed(sheet, wanted.len() as u32).concat(), "", "{}: a label more", run.name);
        // A width that is its drop could change places with it unseen.
        let sizes = run.list("order").iter().filter(|line| line["width_mm"] != line["drop_mm"]);
        assert!(sizes.count() > 2, "{}", run.name);
    }
}

/// The floor's name, which says that it is one.
fn floor_of(opening: &Value) -> Value {
    let name = opening["floor"].as_str().unwrap();
    Value::from(if name.is_empty() { String::new() } else { format!("floor {name}") })
}
