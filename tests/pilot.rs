//! The units to fit first: against every choice of units there is, counted anew from the survey and the
//! openings of the result; and every figure of the sheet in its place.

use std::collections::{BTreeMap, BTreeSet};
use std::io::Cursor;

use serde_json::Value;
use sillbook::exchange::json as document;
use sillbook::pipeline::{self, Silent};
use sillbook::workbook::{Limits, write};

use crate::support::package::{Package, Sheet};
use crate::support::surveys;

/// A row of a survey that is known from outside.
struct Row {
    unit: String,
    id: String,
    own_type: &'static str,
    product: &'static str,
    mount: &'static str,
    substrate: &'static str,
    quantity: u64,
    measured: &'static str,
    state: &'static str,
    height: &'static str,
}

fn text(rows: &[Row]) -> String {
    let mut text = "[Project]\nProject | Quay House\nUnits | in\nFloors finished | yes\n[Openings]\n\
        Opening | Unit | Floor | Kind | Type | Product | Mount | Substrate | Quantity | Measured | Width | Height | Sill height | Recess depth | Handle\n"
        .to_owned();
    for Row { unit, id, own_type, product, mount, substrate, quantity, measured, height, .. } in rows {
        text += &format!(
            "{id} | {unit} | 1 | window | {own_type} | {product} | {mount} | {substrate} | {quantity} | {measured} | 40 | {height} | 30 | 6 | 0\n"
        );
    }
    let ordered: Vec<&Row> = rows.iter().filter(|row| !row.state.is_empty()).collect();
    if !ordered.is_empty() {
        text += "[Blinds]\nWhat | Line | Blind | Unit | Opening | Id | Kind | Source | Release | Product | Color | Width | Drop | Mount | Draw | Control | Reach | State\n";
    }
    for (line, row) in (1..).zip(ordered) {
        let (width, drop, reach) =
            if row.mount == "inside" { ("39.5", "49.5", "") } else { ("44", "58", "3") };
        text += &format!(
            "blind | {line} | 1 of 1 | {} | {} | {} | window | made | make | {} | white | {width} | {drop} | {} | left | wand | {reach} | {}\n",
            row.unit, row.id, row.id, row.product, row.mount, row.state
        );
    }
    text
}

fn worked(text: &str) -> Value {
    let run = surveys(&[("survey.xlsx", text)]);
    let input = pipeline::understand(&run.grids, run.sheets, None).unwrap();
    let report = pipeline::work(&input, &Silent).unwrap();
    let mut out = Vec::new();
    document::write(&report, &mut out).unwrap();
    serde_json::from_slice(&out).unwrap()
}

/// What each unit shows and how many blinds it takes, and what hangs already, by the survey's rows and the
/// state of their openings.
struct Cases {
    units: Vec<(String, Shown, u64)>,
    to_show: Shown,
}

/// Cases: what each is about, and which it is.
type Shown = BTreeSet<(&'static str, String)>;

fn cases(rows: &[Row], result: &Value) -> Cases {
    // In the order in which the survey first names them.
    let mut units: Vec<(String, Shown, u64)> = Vec::new();
    for row in rows {
        if units.iter().all(|(unit, ..)| *unit != row.unit) {
            units.push((row.unit.clone(), BTreeSet::new(), 0));
        }
    }
    let (mut hanging, mut can_be) = (BTreeSet::new(), BTreeSet::new());
    for (row, opening) in rows.iter().zip(result["openings"].as_array().unwrap()) {
        assert_eq!(opening["opening"], row.id.as_str());
        if opening["state"] == "held" {
            continue;
        }
        let mount = match opening["mount_on"].as_str().unwrap() {
            "recess" => "inside",
            "wall" => "outside, on the wall",
            other => panic!("{other}"),
        };
        let substrate = if row.substrate.is_empty() { "unknown" } else { row.substrate };
        let own: BTreeSet<(&str, String)> = [
            ("type", row.own_type.to_owned()),
            ("product", opening["product"].as_str().unwrap().to_owned()),
            ("mount", mount.to_owned()),
            ("substrate", substrate.to_owned()),
        ]
        .into_iter()
        .filter(|(_, what)| !what.is_empty())
        .collect();
        if row.state == "fitted" {
            hanging.extend(own);
        } else if opening["state"] == "sized" {
            let place = units.iter().position(|(unit, ..)| *unit == row.unit).unwrap();
            can_be.extend(own.iter().cloned());
            units[place].1.extend(own);
            units[place].2 += row.quantity;
        }
    }
    units.retain(|(_, _, blinds)| *blinds > 0);
    Cases { units, to_show: &can_be - &hanging }
}

/// What is wrong with a choice of units, looked at by itself.
fn faults(chosen: &[&str], cases: &Cases) -> Vec<String> {
    let mut faults = Vec::new();
    let mut shown = BTreeSet::new();
    for (place, name) in chosen.iter().enumerate() {
        if chosen[..place].contains(name) {
            faults.push(format!("{name} twice"));
        }
        match cases.units.iter().find(|(unit, ..)| unit == name) {
            Some((_, shows, _)) => shown.extend(shows.iter().cloned()),
            None => faults.push(format!("{name} has nothing to fit")),
        }
    }
    faults.extend((&cases.to_show - &shown).iter().map(|(of, what)| format!("{of} {what} is not shown")));
    let best = (0_u32..1 << cases.units.len()).filter_map(|subset| {
        let units: Vec<usize> = (0..cases.units.len()).filter(|unit| subset >> unit & 1 == 1).collect();
        let shown: BTreeSet<_> = units.iter().flat_map(|unit| &cases.units[*unit].1).cloned().collect();
        let blinds: u64 = units.iter().map(|unit| cases.units[*unit].2).sum();
        cases.to_show.is_subset(&shown).then_some((units.len(), blinds, units))
    });
    let best: Vec<&str> = best.min().unwrap().2.iter().map(|unit| cases.units[*unit].0.as_str()).collect();
    if best != chosen {
        faults.push(format!("{chosen:?} where {best:?} do"));
    }
    faults
}

fn by_chance(seed: u64) -> Vec<Row> {
    let mut state = seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1;
    // G. Marsaglia, Xorshift RNGs, Journal of Statistical Software 8, 2003.
    let mut below = |many: usize| {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        (state >> 11) as usize % many
    };
    (0..4 + below(12))
        .map(|number| {
            let state = ["", "", "", "fitted", "ordered"][below(5)];
            Row {
                unit: format!("{}", 1 + below(7)),
                id: format!("W{number}"),
                own_type: ["", "P1", "P2", "P3"][below(4)],
                product: ["louver-89", "louver-127"][below(2)],
                mount: ["inside", "outside"][below(2)],
                substrate: ["", "wood", "concrete", "masonry"][below(4)],
                quantity: if state.is_empty() { 1 + below(3) as u64 } else { 1 },
                measured: if state.is_empty() { ["", "", "", "drawing"][below(4)] } else { "" },
                state,
                height: if state.is_empty() && below(8) == 0 { "x" } else { "50" },
            }
        })
        .collect()
}

fn chosen(result: &Value) -> Option<Vec<&str>> {
    let units = result["pilot"].get("units")?.as_array().unwrap();
    Some(units.iter().map(|unit| unit["unit"].as_str().unwrap()).collect())
}

#[test]
fn no_choice_of_units_is_better() {
    let mut with_pilot = 0;
    for seed in 1..=120 {
        let rows = by_chance(seed);
        let result = worked(&text(&rows));
        let cases = cases(&rows, &result);
        let best =
            |cases: &Cases| faults(&[], cases).into_iter().filter(|fault| fault.contains("where")).count();
        match chosen(&result) {
            Some(units) => {
                with_pilot += 1;
                assert_eq!(result["pilot"]["proven"], true);
                assert_eq!(faults(&units, &cases), Vec::<String>::new(), "job {seed}");
                assert!(units.len() < cases.units.len());
            }
            // All of them, or none: there is nothing to choose.
            None => assert!(
                cases.to_show.is_empty() && best(&cases) == 0
                    || faults(&cases.units.iter().map(|unit| unit.0.as_str()).collect::<Vec<_>>(), &cases)
                        .is_empty(),
                "job {seed}"
            ),
        }
    }
    assert!(with_pilot > 60, "{with_pilot}");
}

#[test]
fn a_wrong_choice_is_found() {
    let (rows, result) = (1..)
        .map(by_chance)
        .map(|rows| {
            let result = worked(&text(&rows));
            (rows, result)
        })
        .find(|(_, result)| chosen(result).is_some_and(|units| units.len() > 1))
        .unwrap();
    let cases = cases(&rows, &result);
    let right = chosen(&result).unwrap();
    assert!(faults(&right, &cases).is_empty());
    let other = cases.units.iter().map(|unit| unit.0.as_str()).find(|unit| !right.contains(unit)).unwrap();
    let planted: [(&str, Vec<&str>); 4] = [
        ("a unit too many", right.iter().copied().chain([other]).collect()),
        ("a unit too few", right[1..].to_vec()),
        ("a unit twice", right.iter().copied().chain([right[0]]).collect()),
        ("a unit that is not there", right.iter().copied().chain(["99"]).collect()),
    ];
    for (what, units) in planted {
        assert!(!faults(&units, &cases).is_empty(), "{what}");
    }
}

#[test]
fn every_figure_of_the_pilot_stands_in_its_place() {
    let rows = (1..)
        .map(by_chance)
        .find(|rows| chosen(&worked(&text(rows))).is_some_and(|units| units.len() > 1))
        .unwrap();
    let survey = text(&rows);
    let run = surveys(&[("survey.xlsx", &survey)]);
    let input = pipeline::understand(&run.grids, run.sheets, None).unwrap();
    let report = pipeline::work(&input, &Silent).unwrap();
    let mut bytes = Cursor::new(Vec::new());
    write(&report, Limits::SPREADSHEET, &mut bytes).unwrap();
    let package = Package::of(bytes.into_inner());
    let sheet = &package.sheets["Pilot"];
    let result = worked(&survey);
    let pilot = &result["pilot"];

    let list = |value: &Value| {
        let texts: Vec<&str> = value.as_array().unwrap().iter().map(|text| text.as_str().unwrap()).collect();
        texts.join("; ")
    };
    let expected = pilot["units"].as_array().unwrap().iter().map(|unit| {
        BTreeMap::from([
            ("Unit", unit["unit"].as_str().unwrap().to_owned()),
            ("Floor", unit["floor"].as_str().unwrap().to_owned()),
            ("Openings", unit["openings"].as_array().unwrap().len().to_string()),
            ("Blinds", unit["blinds"].to_string()),
            ("Shows", list(&unit["shows"])),
            ("Shows again", list(&unit["again"])),
        ])
    });
    assert_eq!(rows_under(sheet, "Floor"), expected.collect::<Vec<_>>());
    let expected = pilot["cases"].as_array().unwrap().iter().map(|case| {
        let text = |key: &str, or: &str| case[key].as_str().unwrap_or(or).to_owned();
        BTreeMap::from([
            ("Case", text("of", "")),
            ("Which", text("what", "")),
            ("Openings", case["openings"].to_string()),
            ("Look at unit", text("unit", "none yet: measure first")),
            ("Look at opening", text("opening", "")),
            ("Hangs already", if case["fitted"] == true { "yes" } else { "no" }.to_owned()),
        ])
    });
    assert_eq!(rows_under(sheet, "Case"), expected.collect::<Vec<_>>());
    let said = sheet.cells.values().any(|cell| {
        cell.text.starts_with(&format!(
            "{} of {} units: ",
            pilot["units"].as_array().unwrap().len(),
            pilot["of_units"]
        ))
    });
    assert!(said);
}

/// The rows of the table whose first heading is this, each by its headings; blanks are empty.
fn rows_under<'s>(sheet: &'s Sheet, first: &str) -> Vec<BTreeMap<&'s str, String>> {
    let (&(top, _), _) =
        sheet.cells.iter().find(|((_, column), cell)| *column == 0 && cell.text == first).unwrap();
    let headings: Vec<(u32, &str)> = sheet
        .cells
        .range((top, 0)..(top + 1, 0))
        .filter(|(_, cell)| !cell.text.is_empty())
        .map(|((_, column), cell)| (*column, cell.text.as_str()))
        .collect();
    let row = |row: u32| -> BTreeMap<&str, String> {
        let cell = |column| sheet.cells.get(&(row, column)).map_or(String::new(), |cell| cell.text.clone());
        headings.iter().map(|(column, heading)| (*heading, cell(*column))).collect()
    };
    (top + 1..)
        .map(row)
        .take_while(|row| {
            row.values().any(|text| !text.is_empty())
                && row.len() > 1
                && row.values().filter(|text| !text.is_empty()).count() > 1
        })
        .collect()
}
