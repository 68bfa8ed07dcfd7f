//! What is held, what is not known, and what was assumed.

use std::collections::{BTreeMap, BTreeSet};

use serde_json::{Value, json};
use sillbook::rules::Capacity;
use sillbook::schema::Column;
use sillbook::schema::openings::{
    COLOR, CONTROL, DRAW, HANDLE, MEASURED, MOUNT, PRODUCT, TRIM, WALL_ABOVE, WALL_BELOW, WALL_LEFT,
    WALL_RIGHT,
};
use sillbook::survey::Facts;

use super::check::{Check, first, opening};
use super::document::{Run, count, names, rows, text};

pub const CHECKS: &[Check] = &[
    Check {
        name: "a held opening has no blind and a stop that says why; any other has a blind and no stop",
        faults: held_and_stopped,
        plants: &[
            ("louvers of a held opening", |document| {
                opening(document, "state", "held")["louvers"] = json!({"count": 1, "length_mm": 1});
            }),
            ("a held opening without a stop", |document| {
                document["queries"].as_array_mut().unwrap().retain(|query| query["severity"] != "stop");
            }),
            ("a stop on a blind that is made", |document| {
                let name = opening(document, "state", "sized")["name"].clone();
                let stop = first(document, "/queries", |query| query["severity"] == "stop");
                stop["openings"].as_array_mut().unwrap().push(name);
            }),
            ("a blind without a drop", |document| {
                opening(document, "state", "sized")["drop_mm"] = Value::Null;
            }),
        ],
    },
    Check {
        name: "every name is one opening's, and every list uses these names alone",
        faults: names_are_unique,
        plants: &[
            ("two of one name", |document| {
                document["openings"][1]["name"] = document["openings"][0]["name"].clone();
            }),
            ("a query about nobody", |document| {
                let query = first(document, "/queries", |query| !rows(&query["openings"]).is_empty());
                query["openings"][0] = json!("nobody");
            }),
            ("a row named twice by a query", |document| {
                let query = first(document, "/queries", |query| !rows(&query["openings"]).is_empty());
                let name = query["openings"][0].clone();
                query["openings"].as_array_mut().unwrap().push(name);
            }),
        ],
    },
    Check {
        name: "a depth, a floor, a capacity or a substrate that is not known is null, never 0",
        faults: unknown_is_null,
        plants: &[
            ("a setback of 0 in a recess of unknown depth", |document| {
                let unknown = first(document, "/openings", |row| {
                    row["mount"] == "inside" && row["brackets"]["setback_mm"].is_null()
                });
                unknown["brackets"]["setback_mm"] = json!(0);
            }),
            ("a height above an unknown floor", |document| {
                let unknown = first(document, "/openings", |row| {
                    row["state"] == "sized" && row["brackets"]["top_above_floor_mm"].is_null()
                });
                unknown["brackets"]["top_above_floor_mm"] = json!(0);
            }),
            ("a use of 0 of an unknown capacity", |document| {
                let unknown = first(document, "/openings", |row| {
                    row["fixings"]["item"].as_str().is_some_and(|item| item.starts_with("plug"))
                });
                unknown["fixings"]["use"] = json!(0);
            }),
            ("a fixing for an unknown wall", |document| {
                let unknown = first(document, "/openings", |row| {
                    row["state"] != "held" && row["fixings"]["item"].is_null()
                });
                unknown["fixings"]["item"] = json!("wood screw 8 x 1 1/2");
            }),
            ("a reach of 0 in a recess", |document| {
                opening(document, "mount", "inside")["brackets"]["reach_mm"] = json!(0);
            }),
        ],
    },
    Check {
        name: "every assumption is counted, once for each opening whose cell is blank",
        faults: assumptions_are_counted,
        plants: &[
            ("an assumption forgotten", |document| {
                document["assumptions"].as_array_mut().unwrap().retain(|row| row["column"] != "Trim");
            }),
            ("an assumption of one opening too many", |document| {
                let row = first(document, "/assumptions", |row| row["column"] == "Handle");
                row["openings"] = json!(count(&row["openings"]) + 1);
            }),
            ("a color taken in silence", |document| {
                document["assumptions"].as_array_mut().unwrap().retain(|row| row["column"] != "Color");
            }),
            ("an item of the project forgotten", |document| {
                let rows = document["assumptions"].as_array_mut().unwrap();
                let item = rows.iter().position(|row| row["openings"] == 0).unwrap();
                rows.remove(item);
            }),
        ],
    },
];

fn held_and_stopped(run: &Run<'_>) -> Vec<String> {
    let stops = run.rows("queries").iter().filter(|query| query["severity"] == "stop");
    let stopped: BTreeSet<&str> = stops.flat_map(names).collect();
    let mut faults = Vec::new();
    for (row, opening) in run.openings() {
        let name = text(&row["name"]);
        let is_held = row["state"] == "held";
        if is_held != stopped.contains(name) {
            faults.push(format!("{name}: {}, with a stop: {}", row["state"], !is_held));
        }
        if !is_held && opening.facts.is_none() {
            faults.push(format!("{name}: {} without a measurement", row["state"]));
        }
        for key in [
            "product",
            "color",
            "mount",
            "draw",
            "width_mm",
            "drop_mm",
            "source",
            "louvers",
            "brackets",
            "fixings",
            "weight_kg",
            "people",
        ] {
            if row[key].is_null() != is_held {
                faults.push(format!("{name}: {}, but {key} is {}", row["state"], row[key]));
            }
        }
    }
    faults
}

fn names_are_unique(run: &Run<'_>) -> Vec<String> {
    let mut faults = Vec::new();
    let mut known = BTreeSet::new();
    for row in run.rows("openings") {
        if !known.insert(text(&row["name"])) {
            faults.push(format!("{}: two openings", row["name"]));
        }
    }
    let not_in_total = rows(&run.document["cost"]["not_in_total"]);
    for row in run.rows("order").iter().chain(run.rows("queries")).chain(not_in_total) {
        let mut named = BTreeSet::new();
        for name in names(row) {
            if !known.contains(name) {
                faults.push(format!("{name}: no such opening"));
            }
            if !named.insert(name) {
                faults.push(format!("{name}: named twice by {row}"));
            }
        }
    }
    faults
}

fn unknown_is_null(run: &Run<'_>) -> Vec<String> {
    let mut faults = Vec::new();
    for hung in run.hung() {
        let (row, facts) = (hung.row, hung.facts);
        let inside = row["mount"] == "inside";
        let (brackets, fixings) = (&row["brackets"], &row["fixings"]);
        let chosen = fixings["item"].as_str();
        let chosen =
            chosen.and_then(|item| run.input.rules.fixings.iter().find(|fixing| *fixing.item == *item));
        let no_capacity = chosen.is_none_or(|fixing| fixing.capacity == Capacity::Unknown);
        let unknown = [
            ("setback", inside && facts.recess_depth.is_none(), &brackets["setback_mm"]),
            ("setback", row["mount"] == "outside", &brackets["setback_mm"]),
            ("reach", row["mount"] != "outside", &brackets["reach_mm"]),
            ("height above the floor", facts.sill_height().is_none(), &brackets["top_above_floor_mm"]),
            ("fixing", facts.substrate.is_none(), &fixings["item"]),
            ("use", no_capacity, &fixings["use"]),
            ("wand", row["control"] != "wand", &row["wand_mm"]),
        ];
        let known = unknown.iter().filter(|(_, unknown, value)| *unknown && !value.is_null());
        faults
            .extend(known.map(|(what, _, value)| hung.fault(format!("{what} {value} of what is not known"))));
    }
    faults
}

/// Whether an opening leaves a column blank.
type IsBlank = fn(&Facts) -> bool;

/// What an opening leaves blank of the columns whose unreadable cells always hold it: there a
/// value that is missing was blank.
const BLANK: [(&Column, IsBlank); 10] = [
    (&MEASURED, |facts| facts.source_at.is_none()),
    (&HANDLE, |facts| facts.handle.is_none()),
    (&TRIM, |facts| facts.trim.is_none()),
    (&WALL_LEFT, |facts| facts.wall_left.is_none()),
    (&WALL_RIGHT, |facts| facts.wall_right.is_none()),
    (&WALL_ABOVE, |facts| facts.wall_above.is_none()),
    (&WALL_BELOW, |facts| facts.wall_below.is_none()),
    (&MOUNT, |facts| facts.mount.is_none()),
    (&DRAW, |facts| facts.draw.is_none()),
    (&CONTROL, |facts| facts.control.is_none()),
];

/// The same where the value taken is shown on the blind, so that it is one only if there is a blind.
const BLANK_ON_A_BLIND: [(&Column, IsBlank); 2] =
    [(&PRODUCT, |facts| facts.product.is_none()), (&COLOR, |facts| facts.color.is_none())];

fn assumptions_are_counted(run: &Run<'_>) -> Vec<String> {
    let mut faults = Vec::new();
    let mut counted: BTreeMap<&str, u64> = BTreeMap::new();
    let mut listed = BTreeSet::new();
    for row in run.rows("assumptions") {
        let column = text(&row["column"]);
        *counted.entry(column).or_default() += count(&row["openings"]);
        if !listed.insert((column, text(&row["value"]))) || text(&row["value"]).is_empty() {
            faults.push(format!("{column}: {} is listed twice, or says nothing", row["value"]));
        }
    }
    let mut agree = |column: &Column, openings: u64| {
        let counted = counted.get(column.name).copied().unwrap_or(0);
        if counted != openings {
            faults.push(format!("{}: {counted} assumptions for {openings} openings", column.name));
        }
    };
    // A value serves those that get a blind.
    for (column, is_blank) in BLANK.iter().chain(&BLANK_ON_A_BLIND) {
        agree(column, run.hung().filter(|hung| is_blank(hung.facts)).map(|hung| hung.quantity()).sum());
    }
    for assumption in &run.input.rules.assumptions {
        let column = assumption.column.name;
        if !listed.contains(&(column, assumption.value.as_str())) {
            faults.push(format!("{column}: taken as {} in silence", assumption.value));
        }
    }
    faults
}
