//! What programs are given: JSON that follows its schema, and CSV under the same names.

use std::collections::BTreeSet;
use std::path::PathBuf;

use crate::support::files::Folder;
use serde_json::{Value, json};
use sillbook::exchange::csv::List;
use sillbook::exchange::json as document;
use sillbook::pipeline::{self, Silent};
use sillbook::report::Report;
use sillbook::report::figure::Row;
use sillbook::report::rows::{
    AlsoFitsRow, ChangeRow, LessCoverRow, NoticeRow, PhaseRow, PilotCaseRow, PilotUnitRow, SizesAtRow,
    StockUseRow,
};

/// An inside mount that may be made, one that is provisional, an outside one with a wall that
/// closes it, and one that is held; texts that a spreadsheet could take for formulas.
const FLAT: &str = "
    [Project]
    Project  | =1+1
    Units    | in
    Cut by phase | yes
    [Openings]
    Opening | Unit | Room  | Quantity | Width | Height | Recess depth | Measured | Wall right | Right ends at | Substrate | Note
    W1      | 101  | =Hall | 2        | 106   | 78     | 3            |          |            |               | wood    | @home
    W2      | 101  | +Hall |          | 36    | 48     | 4            | drawing  |            |               |           |
    +W3     | 101  | -Hall |          | 72    | 60     | 0            |          | 1/4        | wall          | concrete  |
    W4      | 101  | Hall  |          | x     | 60     | 0            |          |            |               |           |
    [Answers]
    Opening | Column | Answer
    W1      | Note   | @home
    [Options]
    Option | Note     | Labor rate
    Dearer | +1 night | 60
";

/// Made from bars, with stock sizes, shared sizes and every part of the cost.
const WORKSHOP: &str = "
    [Project]
    Units         | mm
    Currency      | EUR
    Cost basis    | make
    Stock sizes   | yes
    Merge sizes   | 20
    Tax %         | 8.25%
    Overhead %    | 10
    Profit %      | 5
    Contingency % | 2.5
    Order date    | 2026-03-02
    [Openings]
    Opening | Unit | Width | Height | Recess depth | Phase | Substrate
    D1      | A    | 2490  | 2032   | 0            | 1     | masonry
    D2      | A    | 1900  | 2100   | 0            | 1     | steel
    D3      | B    | 1910  | 2105   | 0            | 2     | drywall
    W1      | B    | 900   | 1200   | 120          | 2     | wood
    [Offcuts]
    Material | Color | Length  | Quantity
    rail     | white  | 2000 mm | 2
";

/// Sizes of finished blinds: what needs the opening is not known.
const FINISHED: &str = "
    [Project]
    Units           | in
    Sizes given are | finished
    [Openings]
    Opening | Unit | Width | Height | Mount
    W1      | A    | 60    | 72     | outside
    W2      | A    | 48    | 60     | inside
";

fn with_report<T>(texts: &[&str], look: impl FnOnce(&Report<'_>) -> T) -> T {
    let folder = Folder::new();
    let surveys: Vec<PathBuf> = texts
        .iter()
        .enumerate()
        .map(|(index, text)| folder.survey(&format!("survey-{}.xlsx", index + 1), text))
        .collect();
    let input = pipeline::read(&surveys, None, &Silent).unwrap();
    look(&pipeline::work(&input, &Silent).unwrap())
}

fn text_of(report: &Report<'_>) -> String {
    let mut out = Vec::new();
    document::write(report, &mut out).unwrap();
    String::from_utf8(out).unwrap()
}

fn result(texts: &[&str]) -> Value {
    with_report(texts, |report| serde_json::from_str(&text_of(report)).unwrap())
}

fn list(report: &Report<'_>, list: List) -> Vec<Vec<String>> {
    let mut out = Vec::new();
    list.write(report, &mut out).unwrap();
    // The mark by which spreadsheets know UTF-8.
    let out = out.strip_prefix("\u{feff}".as_bytes()).unwrap();
    let mut reader = csv::ReaderBuilder::new().has_headers(false).from_reader(out);
    reader.records().map(|record| record.unwrap().iter().map(str::to_owned).collect()).collect()
}

fn schema() -> jsonschema::Validator {
    jsonschema::validator_for(&serde_json::from_str(&sillbook::exchange::schema::text().unwrap()).unwrap())
        .unwrap()
}

/// `UPDATE_SCHEMA=1` writes the file anew.
#[test]
fn the_schema_that_ships_is_that_of_the_rows() {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("templates/result.schema.json");
    let schema = sillbook::exchange::schema::text().unwrap();
    if std::env::var_os("UPDATE_SCHEMA").is_some() {
        std::fs::write(&path, &schema).unwrap();
    }
    assert!(std::fs::read_to_string(&path).unwrap() == schema, "UPDATE_SCHEMA=1 writes it anew");
}

fn faults(document: &Value) -> Vec<String> {
    schema().iter_errors(document).map(|error| format!("{}: {error}", error.instance_path())).collect()
}

#[test]
fn every_result_follows_the_schema() {
    let twin = FLAT.replace("101", "102");
    for texts in [&[FLAT][..], &[WORKSHOP], &[FINISHED], &[FLAT, &twin]] {
        assert_eq!(faults(&result(texts)), Vec::<String>::new());
    }
}

#[test]
fn the_schema_finds_what_is_wrong() {
    type Plant = fn(&mut Value);
    let plants: [(&str, Plant); 9] = [
        ("a key is missing", |d| drop(d["openings"][0].as_object_mut().unwrap().remove("stack_mm"))),
        ("a key of an object is missing", |d| {
            drop(d["openings"][0]["brackets"].as_object_mut().unwrap().remove("reach_mm"));
        }),
        ("a key is not known", |d| d["order"][0]["color2"] = json!("white")),
        ("a length is text", |d| d["openings"][0]["width_mm"] = json!("2679.7")),
        ("a width is nothing", |d| d["order"][0]["width_mm"] = json!(0)),
        ("money is a number", |d| d["cost"]["subtotal"] = json!(12.5)),
        ("a state is not known", |d| d["openings"][0]["state"] = json!("made")),
        ("a line has no number", |d| d["cuts"][0]["patterns"][0]["lines"][0] = json!(0)),
        ("another format", |d| d["format"] = json!("sillbook/2")),
    ];
    let sound = result(&[FLAT]);
    for (fault, plant) in plants {
        let mut planted = sound.clone();
        plant(&mut planted);
        assert_eq!(faults(&planted).len(), 1, "{fault}");
    }
}

#[test]
fn lengths_are_millimeters_and_a_held_opening_is_null() {
    let document = result(&[FLAT]);
    let opening = |index: usize| &document["openings"][index];
    // 106 in less 1/4 in a side is 105 1/2 in, x 25.4 = 2679.7 mm; 78 in less 1/2 in is
    // 77 1/2 in = 1968.5 mm; a louver is 1 3/4 in shorter: 75 3/4 in = 1924.05 mm.
    assert_eq!(opening(0)["width_mm"], json!(2679.7));
    assert_eq!(opening(0)["drop_mm"], json!(1968.5));
    assert_eq!(opening(0)["louvers"]["length_mm"], json!(1924.05));
    assert_eq!(opening(0)["state"], "sized");
    assert_eq!(opening(0)["brackets"]["reach_mm"], Value::Null);
    assert_eq!(opening(1)["state"], "provisional");
    assert_eq!(opening(1)["fixings"]["item"], Value::Null);
    // The wall leaves 1/4 in; 3/8 in of it is the valance's and the hand's: -1/8 in = -3.175 mm.
    assert_eq!(opening(2)["overlap_right_mm"], json!(-3.175));
    assert_eq!(opening(3)["state"], "held");
    for key in ["width_mm", "louvers", "brackets", "fixings", "product", "mount", "weight_kg"] {
        assert_eq!(opening(3)[key], Value::Null, "{key}");
    }
    let counts = json!({
        "rows": 4, "openings": 5, "sized": 3, "provisional": 1, "held": 1, "blinds": 4, "sizes": 3
    });
    assert_eq!(document["counts"], counts);
    assert_eq!(document["complete"], json!(false));
}

#[test]
fn the_last_step_of_a_number_is_its_value() {
    let document = result(&[FLAT]);
    for opening in document["openings"].as_array().unwrap() {
        for (of, key) in [("width", "width_mm"), ("drop", "drop_mm")] {
            let steps = opening["working"].as_array().unwrap();
            let Some(last) = steps.iter().rfind(|step| step["of"] == of) else {
                assert_eq!(opening["state"], "held");
                continue;
            };
            assert_eq!(last["value_mm"], opening[key], "{of} of {}", opening["name"]);
        }
    }
}

#[test]
fn a_share_of_the_cost_and_the_totals_add_up() {
    let document = result(&[WORKSHOP]);
    let money = |value: &Value| value.as_str().unwrap().parse::<rust_decimal::Decimal>().unwrap();
    let lines = document["cost"]["lines"].as_array().unwrap();
    let sum = |sections: &[&str]| -> rust_decimal::Decimal {
        let chosen = lines.iter().filter(|line| sections.contains(&line["section"].as_str().unwrap()));
        chosen.map(|line| money(&line["amount"])).sum()
    };
    let direct = ["blinds", "parts", "making", "fitting", "survey", "removal", "delivery"];
    let overhead = lines.iter().find(|line| line["section"] == "overhead").unwrap();
    assert_eq!(money(&overhead["quantity"]), sum(&direct));
    assert_eq!(overhead["rate"], json!(0.1));
    let all = [&direct[..], &["overhead", "profit", "contingency"]].concat();
    let cost = &document["cost"];
    assert_eq!(money(&cost["subtotal"]), sum(&all));
    assert_eq!(money(&cost["total"]), money(&cost["subtotal"]) + money(&cost["tax"]));
}

/// The columns that an object of the document fills: its keys, an object's keys under its own,
/// and no list of objects.
fn columns(row: &Value, under: &str, found: &mut BTreeSet<String>) {
    for (key, value) in row.as_object().unwrap() {
        let name = if under.is_empty() { key.clone() } else { format!("{under}_{key}") };
        match value {
            Value::Object(_) => columns(value, &name, found),
            Value::Array(items) if items.first().is_some_and(Value::is_object) => {}
            _ => drop(found.insert(name)),
        }
    }
}

/// An object with every key of a row, and nothing under them.
fn keys_of<'r, R: Row<'r>>() -> Value {
    R::fields().into_iter().map(|field| (field.key.name.to_owned(), Value::Null)).collect()
}

#[test]
fn a_column_is_a_key() {
    with_report(&[FLAT], |report| {
        let document: Value = serde_json::from_str(&text_of(report)).unwrap();
        let first = |pointer: &str| document.pointer(pointer).unwrap_or_else(|| panic!("no {pointer}"));
        let rows = |list: &Value| list.as_array().unwrap().len();
        let rows_within = |list: &Value, key: &str| -> usize {
            list.as_array().unwrap().iter().map(|row| rows(&row[key])).sum()
        };
        let (pilot_units, pilot_cases) = (keys_of::<PilotUnitRow<'_>>(), keys_of::<PilotCaseRow<'_>>());
        let rows_of_pilot = |key: &str| document["pilot"].get(key).map_or(0, rows);
        let rows_within_cost = |options: &Value| -> usize {
            options.as_array().unwrap().iter().map(|option| rows(&option["cost"]["sections"])).sum()
        };
        let summary = json!({
            "project": document["project"], "complete": document["complete"], "counts": document["counts"],
            "cost": {
                "subtotal": "", "tax": "", "total": "", "known_tax": "", "known_total": "",
                "committed": "", "remade": "", "open": "",
            }
        });
        // Lists that may be empty: their keys, as the rows have them.
        let (also_fits, changes) = (keys_of::<AlsoFitsRow<'_>>(), keys_of::<ChangeRow<'_>>());
        let (stock_use, less_cover) = (keys_of::<StockUseRow<'_>>(), keys_of::<LessCoverRow<'_>>());
        let (openings, cuts, cost) = (&document["openings"], &document["cuts"], &document["cost"]);
        // A list, an object of the document that it is made of, other columns, and how many rows.
        let sizes_curve = keys_of::<SizesAtRow<'_>>();
        let phases = keys_of::<PhaseRow<'_>>();
        let notices = keys_of::<NoticeRow<'_>>();
        let cases: [(List, &Value, &[&str], usize); 40] = [
            (List::Summary, &summary, &[], 1),
            (List::Openings, first("/openings/0"), &[], rows(openings)),
            (
                List::Candidates,
                first("/openings/0/candidates/0"),
                &["name"],
                rows_within(openings, "candidates"),
            ),
            (List::Working, first("/openings/0/working/0"), &["name"], rows_within(openings, "working")),
            (List::Order, first("/order/0"), &[], rows(&document["order"])),
            (List::SpareLouvers, first("/spare_louvers/0"), &[], rows(&document["spare_louvers"])),
            (List::Colors, first("/colors/0"), &[], rows(&document["colors"])),
            (List::Deliveries, first("/deliveries/0"), &[], rows(&document["deliveries"])),
            (List::Labels, first("/labels/0"), &[], rows(&document["labels"])),
            (List::Blinds, first("/blinds/0"), &[], rows(&document["blinds"])),
            (List::AlsoFits, &also_fits, &[], rows(&document["also_fits"])),
            (List::StockUse, &stock_use, &[], rows(&document["stock_use"])),
            (List::LessCover, &less_cover, &[], rows(&document["less_cover"])),
            (List::Cuts, first("/cuts/0"), &[], rows(cuts)),
            (
                List::Patterns,
                first("/cuts/0/patterns/0"),
                &["material", "color", "phase"],
                rows_within(cuts, "patterns"),
            ),
            (List::ByPhase, first("/by_phase/0"), &[], rows(&document["by_phase"])),
            (List::Offcuts, first("/offcuts/0"), &[], rows(&document["offcuts"])),
            (List::Hardware, first("/hardware/0"), &[], rows(&document["hardware"])),
            (List::Bits, first("/bits/0"), &[], rows(&document["bits"])),
            (List::Loose, first("/loose/0"), &[], rows(&document["loose"])),
            (List::Options, first("/options/1"), &[], rows(&document["options"])),
            (
                List::OptionsCost,
                first("/options/1/cost/sections/0"),
                &["option"],
                rows_within_cost(&document["options"]),
            ),
            (List::Pilot, &pilot_units, &[], rows_of_pilot("units")),
            (List::PilotCases, &pilot_cases, &[], rows_of_pilot("cases")),
            (List::Units, first("/units/0"), &[], rows(&document["units"])),
            (
                List::Cautions,
                first("/units/0/cautions/0"),
                &["unit", "building"],
                rows_within(&document["units"], "cautions"),
            ),
            (List::SizesCurve, &sizes_curve, &[], rows(&document["sizes_curve"])),
            (List::FittingDays, first("/fitting_days/0"), &[], rows(&document["fitting_days"])),
            (List::Loads, first("/loads/0"), &[], rows(&document["loads"])),
            (List::Notices, &notices, &[], rows(&document["notices"])),
            (List::Cost, first("/cost/lines/0"), &[], rows(&cost["lines"])),
            (List::Shares, first("/cost/shares/0"), &[], rows(&cost["shares"])),
            (List::NotInTotal, first("/cost/not_in_total/0"), &[], rows(&cost["not_in_total"])),
            (List::Phases, &phases, &[], rows(&document["phases"])),
            (List::Range, first("/range/parts/0"), &[], rows(&document["range"]["parts"])),
            (List::Assumptions, first("/assumptions/0"), &[], rows(&document["assumptions"])),
            (List::Queries, first("/queries/0"), &[], rows(&document["queries"])),
            (List::Answers, first("/answers/0"), &[], rows(&document["answers"])),
            (List::Columns, first("/columns/0"), &[], rows(&document["columns"])),
            (List::Changes, &changes, &[], rows(&document["changes"])),
        ];
        assert_eq!(cases.each_ref().map(|case| case.0), List::ALL);
        for (which, object, others, rows) in cases {
            let mut expected: BTreeSet<String> = others.iter().map(|name| (*name).to_owned()).collect();
            columns(object, "", &mut expected);
            // Each length stands in inches as well, as the survey has it.
            let inches = expected.iter().filter_map(|name| Some(format!("{}_in", name.strip_suffix("_mm")?)));
            let inches: Vec<String> = inches.collect();
            expected.extend(inches);
            let read = list(report, which);
            assert_eq!(read[0].iter().cloned().collect::<BTreeSet<_>>(), expected, "{which:?}");
            assert_eq!(read.len() - 1, rows, "{which:?}");
        }
    });
}

#[test]
fn text_of_a_survey_never_becomes_a_formula_and_numbers_of_ours_stay_numbers() {
    with_report(&[FLAT], |report| {
        let openings = list(report, List::Openings);
        let column = |name: &str| openings[0].iter().position(|heading| heading == name).unwrap();
        let cells = |name: &str| openings[1..].iter().map(|row| &*row[column(name)]).collect::<Vec<_>>();
        assert_eq!(cells("room"), ["'=Hall", "'+Hall", "'-Hall", "Hall"]);
        assert_eq!(cells("name"), ["W1", "W2", "'+W3", "W4"]);
        assert_eq!((cells("overlap_right_mm")[2], cells("overlap_right_in")[2]), ("-3.175", "-0.125"));
        assert_eq!(list(report, List::Summary)[1][0], "'=1+1");
        // JSON has no formulas, so its text is as written.
        let document: Value = serde_json::from_str(&text_of(report)).unwrap();
        assert_eq!(document["openings"][0]["room"], "=Hall");
    });
}
