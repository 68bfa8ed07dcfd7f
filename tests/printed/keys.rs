//! A key of an opening holds what its number was worked out to: the last step of that name. Sheets
//! and programs are lent the same rows, so a figure under another's key would be wrong in both.

use std::collections::{BTreeMap, BTreeSet};

use serde_json::Value;

use super::RUNS;

/// A key of an opening, and the number that it holds: lengths by their value, the rest as shown.
const LENGTHS: [(&str, &str); 17] = [
    ("/width_mm", "width"),
    ("/drop_mm", "drop"),
    ("/stack_mm", "stack"),
    ("/clear_open_mm", "clear when open"),
    ("/escape_clear_mm", "clear for escape"),
    ("/louvers/length_mm", "louver length"),
    ("/valance_mm", "valance"),
    ("/return_left_mm", "return, left"),
    ("/return_right_mm", "return, right"),
    ("/overlap_left_mm", "overlap, left"),
    ("/overlap_right_mm", "overlap, right"),
    ("/wand_mm", "wand"),
    ("/stands_proud_mm", "projection past wall face"),
    ("/brackets/reach_mm", "reach"),
    ("/brackets/setback_mm", "setback"),
    ("/brackets/top_above_floor_mm", "bracket top above floor"),
    ("/brackets/top_above_head_mm", "bracket top above head"),
];
const SHOWN: [(&str, &str); 6] = [
    ("/mount", "mount"),
    ("/control_side", "control side"),
    ("/louvers/count", "louvers"),
    ("/brackets/count", "brackets"),
    ("/fixings/count", "fixings"),
    ("/people", "people"),
];
/// A key of an order's line, and the number of its first opening that it holds.
const OF_A_LINE: [(&str, &str); 8] = [
    ("/width_mm", "width"),
    ("/drop_mm", "drop"),
    ("/headrail_mm", "headrail cut"),
    ("/rod_mm", "tilt rod cut"),
    ("/louver_length_mm", "louver length"),
    ("/valance_mm", "valance"),
    ("/return_left_mm", "return, left"),
    ("/return_right_mm", "return, right"),
];

/// The last step of each number of an opening.
fn worked(opening: &Value) -> BTreeMap<&str, &Value> {
    let steps = opening["working"].as_array().unwrap().iter();
    steps.map(|step| (step["of"].as_str().unwrap(), step)).collect()
}

/// A count or a word as a step shows it.
fn shown(value: &Value) -> String {
    value.as_str().map_or_else(|| value.to_string(), str::to_owned)
}

#[test]
fn every_key_holds_the_number_of_its_name() {
    let (mut faults, mut met) = (Vec::new(), BTreeSet::new());
    for run in RUNS.iter() {
        let openings: BTreeMap<&str, &Value> =
            run.list("openings").iter().map(|opening| (opening["name"].as_str().unwrap(), opening)).collect();
        let mut hold = |of: &'static str, key: &'static str, row: &Value, opening: &Value, name: &str| {
            if let Some(step) = worked(opening).get(of) {
                met.insert((key, of));
                let value = row.pointer(key).unwrap();
                // Of one item; those of another at an end that is not on a stud come to it.
                let also = row.pointer("/fixings/also/count").filter(|_| key == "/fixings/count");
                let all = also.map(|also| Value::from(value.as_u64().unwrap() + also.as_u64().unwrap()));
                let value = all.as_ref().unwrap_or(value);
                let same = match &step["value_mm"] {
                    Value::Null => shown(value) == shown(&step["value"]),
                    length => value == length,
                };
                if !same {
                    faults.push(format!("{}, {name}: {key} is {value}, {of} is {step}", run.name));
                }
            }
        };
        for (name, opening) in openings.iter().filter(|(_, opening)| opening["state"] != "held") {
            for (key, of) in LENGTHS.into_iter().chain(SHOWN) {
                hold(of, key, opening, opening, name);
            }
        }
        for line in run.list("order") {
            let first = line["openings"][0].as_str().unwrap();
            // What comes from stock is not cut.
            let is_cut = |key: &str| line["source"] == "made" || !["/headrail_mm", "/rod_mm"].contains(&key);
            for (key, of) in OF_A_LINE.into_iter().filter(|(key, _)| is_cut(key)) {
                hold(of, key, line, openings[first], &format!("line {}", line["line"]));
            }
        }
    }
    assert!(faults.is_empty(), "{} wrong:\n{}", faults.len(), faults[..faults.len().min(30)].join("\n"));
    for of in LENGTHS.into_iter().chain(SHOWN).chain(OF_A_LINE) {
        assert!(met.contains(&of), "{of:?} never occurs");
    }
}
