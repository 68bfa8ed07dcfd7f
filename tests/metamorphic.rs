//! The same survey said another way gives the same result: in other units, in another order, in
//! more rows, in other words, on more threads.

use std::io::Cursor;
use std::path::Path;

use crate::support::files::Folder;
use serde_json::{Value, json};
use sillbook::exchange::json as document;
use sillbook::pipeline::{self, Silent};
use sillbook::workbook;

/// Openings of every mount and state. `~` marks a length in inches and their eighths, which is a
/// whole number of micrometers, so that either unit can write it exactly.
const BLOCK: &str = "
[Openings]
Opening | Unit | Kind       | Width   | Height  | Recess depth | Handle | Trim | Wall left | Wall right | Wall above | Sill height | Header height | Measured | Substrate | Draw  | Product
W0      | 101  | window     | ~60     | ~50     | ~0           | ~0     |      | ~7/8      | ~5/8       | ~20        | ~30         |               |          | wood    | left  |
D1      | 101  | patio door | ~106    | ~78     | ~0           | ~1     |      | ~10       | ~9 1/2     | ~20        |             |               |          | wood    | left  |
D2      | 101  | patio door | ~95 5/8 | ~79 1/4 | ~0           | ~2     | ~1/2 | ~1 1/8    | ~12        | ~9         |             | ~7 1/4        |          | stud wall | split | louver-127
W1      | 101  | window     | ~60 3/8 | ~48 1/8 | ~5           | ~0     |      |           |            |            | ~30         |               |          | concrete  | right |
W2      | 102  | window     | ~36     | ~48     | ~5 1/4       | ~0     |      |           |            |            | ~30         |               | drawing  | wood    | left  |
W3      | 102  | window     | ~44 7/8 | ~51     |              | ~0     |      | ~3        | ~1/2       | ~6         |             |               |          |           | left  |
W4      | 102  | window     | ~9      | ~48     | ~5           | ~0     |      |           |            |            | ~30         |               |          | wood    | left  |
W5      | 102  | window     | ~36     | ~48     | ~5 1/4       | ~0     |      |           |            |            | ~30         |               |          | wood    | left  |
W6      | 103  | window     | ~36     | ~48     | ~5 1/4       | ~0     |      |           |            |            | ~30         |               |          | wood    | left  |
";

const WORKSHOP: &str = "Cost basis | make\nTax % | 8.25%\nOverhead % | 9\n";

/// One step of sizes and of wands, and one length that a wand's price is for.
const ONE_STEP: &str = "[Products]
Product | Rounding step | Wand step
louver-89 | 1 mm | 300 mm
louver-127 | 1 mm | 300 mm
[Prices]
Item | Price | Per
made-to-measure blind | 30 | each
made-to-measure blind | 22 | m2
bracket 3 in | 1.8 | each
bracket 4 1/2 in | 2.4 | each
inside bracket | 1.2 | each
carrier | 0.3 | each
wand | 1.5 | 300 mm
";

#[derive(Clone, Copy)]
enum Written {
    Inches,
    Millimeters,
}

/// The block in these units, with more items of the project and more sheets.
fn block(written: Written, project: &str, sheets: &str) -> String {
    let cells = |line: &str| {
        let cells = line.split('|').map(|cell| match cell.trim().strip_prefix('~') {
            Some(inches) => in_units(inches, written),
            None => cell.trim().to_owned(),
        });
        cells.collect::<Vec<_>>().join(" | ")
    };
    let units = match written {
        Written::Inches => "in",
        Written::Millimeters => "mm",
    };
    let openings: Vec<String> = BLOCK.lines().map(cells).collect();
    format!("[Project]\nUnits | {units}\n{project}{}\n{sheets}", openings.join("\n").trim_start())
}

/// `105 1/2` as it is, or as 105 x 25.4 + 1/2 x 25.4 = 2679.7 mm.
fn in_units(inches: &str, written: Written) -> String {
    let parts = inches.split([' ', '/']).map(|part| part.parse::<i64>().unwrap()).collect::<Vec<_>>();
    let eighths = match parts[..] {
        [whole] => whole * 8,
        [top, bottom] => top * 8 / bottom,
        [whole, top, bottom] => whole * 8 + top * 8 / bottom,
        _ => panic!("{inches} is no length"),
    };
    let micrometers = eighths * 3_175;
    match written {
        Written::Inches => inches.to_owned(),
        Written::Millimeters => format!("{}.{:03}", micrometers / 1000, micrometers % 1000),
    }
}

fn result(text: &str) -> Value {
    let folder = Folder::new();
    let (json, _) = outputs(&folder.survey("survey.xlsx", text));
    let mut document: Value = serde_json::from_slice(&json).unwrap();
    // What knows the very file: a label's code, a blind, the document.
    for (list, key) in [("labels", "key"), ("blinds", "survey")] {
        for row in document[list].as_array_mut().unwrap() {
            row.as_object_mut().unwrap().remove(key);
        }
    }
    document.as_object_mut().unwrap().remove("survey_fingerprint");
    document
}

/// The bytes of the document and of the workbook.
fn outputs(survey: &Path) -> (Vec<u8>, Vec<u8>) {
    let input = pipeline::read(&[survey.to_owned()], None, &Silent).unwrap();
    let report = pipeline::work(&input, &Silent).unwrap();
    let (mut json, mut book) = (Vec::new(), Cursor::new(Vec::new()));
    document::write(&report, &mut json).unwrap();
    workbook::write(&report, workbook::Limits::SPREADSHEET, &mut book).unwrap();
    (json, book.into_inner())
}

/// Takes keys out of a document, however deep.
fn without(mut document: Value, keys: &[&str]) -> Value {
    strip(&mut document, keys);
    document
}

fn strip(value: &mut Value, keys: &[&str]) {
    match value {
        Value::Object(members) => {
            members.retain(|key, _| !keys.contains(&key.as_str()));
            members.values_mut().for_each(|member| strip(member, keys));
        }
        Value::Array(items) => items.iter_mut().for_each(|item| strip(item, keys)),
        _ => {}
    }
}

/// The members of a list in an order of their own.
fn sorted(list: &Value) -> Vec<String> {
    let mut rows: Vec<String> = list.as_array().unwrap().iter().map(Value::to_string).collect();
    rows.sort_unstable();
    rows
}

#[track_caller]
fn same(one: &Value, other: &Value) {
    same_for("both", one, other);
}

/// Holds two documents to be alike, and says where they first are not.
#[track_caller]
fn same_for(case: &str, one: &Value, other: &Value) {
    let (Value::Object(one), Value::Object(other)) = (one, other) else { panic!("no documents") };
    // How a survey is written is what its columns tell.
    for (key, value) in one.iter().filter(|(key, _)| *key != "columns") {
        let (one, other) = (
            serde_json::to_string_pretty(value).unwrap(),
            serde_json::to_string_pretty(&other[key]).unwrap(),
        );
        let differ = one.lines().zip(other.lines()).position(|(one, other)| one != other);
        let around = |text: &str| {
            let at = differ.unwrap_or(0).saturating_sub(8);
            text.lines().skip(at).take(12).collect::<Vec<_>>().join("\n")
        };
        assert!(one == other, "{case}: {key} differs:\n{}\n-- and --\n{}", around(&one), around(&other));
    }
}

#[test]
fn inches_and_millimeters_with_one_rounding_step_give_the_same_result() {
    // What is written for a reader names a unit; nothing else may differ.
    let in_words = ["units", "value", "item", "size", "message", "hint", "details", "held_by", "what"];
    for project in ["", WORKSHOP] {
        let of = |written| without(result(&block(written, project, ONE_STEP)), &in_words);
        same(&of(Written::Inches), &of(Written::Millimeters));
    }
}

#[test]
fn with_its_own_rounding_step_a_size_differs_by_less_than_the_step() {
    let inches = result(&block(Written::Inches, "", ""));
    let millimeters = result(&block(Written::Millimeters, "", ""));
    let rows = |document: &Value| document["openings"].as_array().unwrap().clone();
    let mut differ = 0;
    for (one, other) in rows(&inches).iter().zip(rows(&millimeters)) {
        for key in ["name", "state", "mount", "draw", "product", "control_side"] {
            assert_eq!(one[key], other[key], "{key} of {}", one["name"]);
        }
        for key in ["width_mm", "drop_mm"] {
            let (Some(one_mm), Some(other_mm)) = (one[key].as_f64(), other[key].as_f64()) else {
                assert_eq!(one["state"], "held");
                continue;
            };
            // The coarser of both steps is 1/8 in = 3.175 mm.
            assert!((one_mm - other_mm).abs() < 3.175, "{key} of {}: {one_mm}, {other_mm}", one["name"]);
            differ += usize::from(one_mm != other_mm);
        }
    }
    assert!(differ > 0, "the steps make no difference, so this shows nothing");
}

#[test]
fn rows_in_another_order_give_the_same_blinds_and_the_same_order() {
    // Rolls are cut in the survey's order, blind by blind; so here any piece comes from any of them.
    let project =
        format!("{WORKSHOP}[Materials]\nMaterial | Cut in\nfabric-89 | pieces\nfabric-127 | pieces\n");
    let text = block(Written::Inches, &project, "");
    let (head, rows) = text.split_at(text.find("W0").unwrap());
    let rows: Vec<&str> = rows.lines().filter(|row| !row.is_empty()).collect();
    let reversed: Vec<&str> = rows.iter().rev().copied().collect();
    let rotated = [&rows[3..], &rows[..3]].concat();
    // Cells and the numbers of lines and labels follow the rows, and so does which line a bar is
    // first cut for, and which units a list names first.
    let places =
        ["at", "from", "line", "blind", "first", "last", "patterns", "item", "details", "used", "torn"];
    let in_order = |document: Value| {
        let mut document = without(document, &places);
        for line in document["order"].as_array_mut().unwrap() {
            line["openings"] = json!(sorted(&line["openings"]));
        }
        for opening in document["openings"].as_array_mut().unwrap() {
            opening.as_object_mut().unwrap().remove("lines");
        }
        for query in document["queries"].as_array_mut().unwrap() {
            query["openings"] = json!(sorted(&query["openings"]));
        }
        for unit in document["units"].as_array_mut().unwrap() {
            unit["names"] = json!(sorted(&unit["names"]));
            for caution in unit["cautions"].as_array_mut().unwrap() {
                caution["openings"] = json!(sorted(&caution["openings"]));
                // They name openings in the survey's order.
                caution["words"] = Value::Null;
            }
        }
        // Of openings that are as good the first of the survey is offered first.
        document["also_fits"] = Value::Null;
        // Units are fitted in the survey's order, and of those to fit first the first are taken.
        for key in ["fitting_days", "loads", "notices", "pilot"] {
            document[key] = Value::Null;
        }
        for key in
            ["openings", "order", "labels", "blinds", "queries", "hardware", "loose", "units", "assumptions"]
        {
            document[key] = json!(sorted(&document[key]));
        }
        for key in ["lines", "shares"] {
            document["cost"][key] = json!(sorted(&document["cost"][key]));
        }
        for entry in document["cost"]["not_in_total"].as_array_mut().unwrap() {
            entry["openings"] = json!(sorted(&entry["openings"]));
        }
        for part in document["range"]["parts"].as_array_mut().unwrap() {
            part["openings"] = json!(sorted(&part["openings"]));
        }
        document
    };
    let first = in_order(result(&text));
    for other in [reversed, rotated] {
        same(&first, &in_order(result(&format!("{head}{}", other.join("\n")))));
    }
}

#[test]
fn a_quantity_is_as_many_rows() {
    let row = |id: &str, quantity: &str| {
        format!("{id} | 1 | window | {quantity} | 60 | 48 | 30 | 5 | 0 | wood | split\n")
    };
    let heads = "Opening | Unit | Kind | Quantity | Width | Height | Sill height | Recess depth | Handle | Substrate | Draw\n";
    for project in ["", WORKSHOP] {
        let survey = |rows: &str| format!("[Project]\nUnits | in\n{project}[Openings]\n{heads}{rows}");
        let other = "D1 | 2 | patio door | 1 | 106 | 78 | | 0 | 1 | wood | left\n";
        let one_row = result(&survey(&(row("W1", "5") + other)));
        let five: String = ["W1", "W2", "W3", "W4", "W5"].map(|id| row(id, "1")).concat();
        let five_rows = result(&survey(&(five + other)));
        for key in ["order", "cuts", "hardware", "cost"] {
            let of = |document: &Value| without(json!({ key: document[key] }), &["openings", "blinds"]);
            same(&of(&one_row), &of(&five_rows));
        }
        for key in ["openings", "sized", "blinds", "sizes"] {
            assert_eq!(one_row["counts"][key], five_rows["counts"][key], "{key}");
        }
        assert_eq!((&one_row["counts"]["rows"], &five_rows["counts"]["rows"]), (&json!(2), &json!(6)));
    }
}

#[test]
fn the_bytes_are_the_same_on_any_number_of_threads_and_every_time() {
    let folder = Folder::new();
    let harrier = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo/harrier-wharf.xlsx");
    let workshop = folder.survey("block.xlsx", &block(Written::Millimeters, WORKSHOP, ""));
    for survey in [harrier, workshop] {
        let on = |threads: usize| {
            let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
            pool.install(|| outputs(&survey))
        };
        let first = on(1);
        for threads in [1, 2, 16] {
            let again = on(threads);
            assert!(first.0 == again.0, "{}: another document on {threads} threads", survey.display());
            assert!(first.1 == again.1, "{}: another workbook on {threads} threads", survey.display());
        }
    }
}

/// A survey of one opening with these headings and cells.
fn one(headings: &str, cells: &str) -> Value {
    let fixed =
        ("Opening | Unit | Kind | Recess depth | Handle | Sill height", "W1 | 1 | window | 5 | 0 | 30");
    let text =
        format!("[Project]\nUnits | in\n[Openings]\n{} | {headings}\n{} | {cells}\n", fixed.0, fixed.1);
    // The steps name the cells that were read.
    without(result(&text), &["from"])
}

#[test]
fn one_width_is_three_equal_widths() {
    let alone = one("Width | Height", "60 3/8 | 48");
    for (headings, cells) in [
        ("Width top | Width middle | Width bottom | Height", "60 3/8 | 60 3/8 | 60 3/8 | 48"),
        ("Width top | Width bottom | Height", "60 3/8 | 60 3/8 | 48"),
        ("Width middle | Height left | Height middle | Height right", "60 3/8 | 48 | 48 | 48"),
        ("Height right | Width bottom", "48 | 60 3/8"),
        ("Width | Width top | Height | Height left", "60 3/8 | 60 3/8 | 48 | 48"),
    ] {
        same(&alone, &one(headings, cells));
    }
}

#[test]
fn a_length_is_the_same_however_it_is_written() {
    let number = one("Width | Height", "106 | 78");
    for (width, height) in [
        ("'106", "'78"),
        ("106\"", "78 in"),
        ("8' 10\"", "6' 6\""),
        ("8'-10\"", "6'-6\""),
        ("8 ft 10 in", "6 ft 6 in"),
        ("2692.4 mm", "1981.2 mm"),
        ("2,692.4 mm", "1,981.2 mm"),
        ("269.24 cm", "198.12 cm"),
        ("2.6924 m", "1.9812 m"),
        ("106.0", "78.000"),
    ] {
        same_for(width, &number, &one("Width | Height", &format!("{width} | {height}")));
    }
    for (headings, cells) in [
        ("Width (mm) | Height (cm)", "2692.4 | 198.12"),
        ("Width (ft) | Height", "8' 10\" | 78"),
        ("Width (mm) | Height (mm)", "106 in | 78\""),
    ] {
        same_for(cells, &number, &one(headings, cells));
    }
}

#[test]
fn a_difference_is_seen() {
    let one_way = one("Width | Height", "60 3/8 | 48");
    let other = one("Width | Height", "60 1/2 | 48");
    let seen = std::panic::catch_unwind(|| same(&one_way, &other));
    assert!(seen.is_err());
}
