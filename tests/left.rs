//! From the bars of one job to the next: pieces that no bar gives, phases sawn by themselves, and
//! the offcuts that the next survey carries.
//!
//! A finished blind of 1900 x 2000 mm has a headrail of 1900 - 2 x 3.175 = 1893.65 mm, a rod of
//! 1900 - 25.4 = 1874.6, a valance of 1900 + 12.7 = 1912.7 with returns of 76.2 + 44.45 + 6.35 = 127,
//! and louvers cut at 2000 - 38.1 + 50.8 = 2012.7.

use std::collections::BTreeMap;

use crate::support::files::Folder;
use serde_json::{Value, json};
use sillbook::exchange::json as document;
use sillbook::grid;
use sillbook::length::Length;
use sillbook::pipeline::{self, Input, Silent};
use sillbook::workbook;

/// Length of each material's bar, in millimeters: all long enough.
const BARS: [(&str, &str); 4] =
    [("rail", "5800"), ("rod", "5800"), ("valance", "5800"), ("fabric-89", "100000")];

/// One blind of 1900 x 2000 mm, and the bars of its materials, one of them with other rows.
fn with_bars(material: &str, rows: &[&str]) -> String {
    let mut text = "
        [Project]
        Units           | mm
        Sizes given are | finished
        [Openings]
        Opening | Unit | Width | Height | Mount   | Substrate
        W1      | A    | 1900  | 2000   | outside | wood
        [Bars]
        Material | Length | End trim | Kerf\n"
        .to_owned();
    for (name, length) in BARS {
        let usual = [format!("{length} | 0 | 0")];
        let others: Vec<String> = rows.iter().map(|row| (*row).to_owned()).collect();
        for row in if name == material { &others[..] } else { &usual[..] } {
            text.push_str(&format!("{name} | {row}\n"));
        }
    }
    text
}

fn understood(text: &str) -> Input {
    let surveys = crate::support::surveys(&[("survey.xlsx", text)]);
    pipeline::understand(&surveys.grids, surveys.sheets, None).unwrap()
}

fn worked(input: &Input) -> Value {
    let mut out = Vec::new();
    document::write(&pipeline::work(input, &Silent).unwrap(), &mut out).unwrap();
    serde_json::from_slice(&out).unwrap()
}

/// The stops of a run, as `message (details)`.
fn stops(document: &Value) -> Vec<String> {
    let stops = document["queries"].as_array().unwrap().iter().filter(|query| query["severity"] == "stop");
    let told = |query: &Value| {
        let details: Vec<_> =
            query["details"].as_array().unwrap().iter().map(|one| one.as_str().unwrap()).collect();
        format!("{} ({})", query["message"].as_str().unwrap(), details.join(", "))
    };
    stops.map(told).collect()
}

#[test]
fn a_piece_longer_than_every_bar_is_a_stop_at_its_opening() {
    // A material, bars that are just too short and just long enough, and the stop. Both trims come
    // off a bar before the longest piece, no kerf.
    let cases: [(&str, &[&str], &[&str], &str); 6] = [
        (
            "rail",
            &["1893.6 | 0 | 3"],
            &["1893.65 | 0 | 3"],
            "a headrail is longer than any bar of rail allows (1893.6 mm) (1893.65 mm)",
        ),
        (
            "rail",
            &["1600 | 10 | 3", "1913.6 | 10 | 3"],
            &["1600 | 10 | 3", "1913.65 | 10 | 3"],
            "a headrail is longer than any bar of rail allows (1893.6 mm) (1893.65 mm)",
        ),
        (
            "rod",
            &["1874.5 | 0 | 0"],
            &["1874.6 | 0 | 0"],
            "a tilt rod is longer than any bar of rod allows (1874.5 mm) (1874.6 mm)",
        ),
        (
            "valance",
            &["1912.6 | 0 | 0"],
            &["1912.7 | 0 | 0"],
            "a valance front is longer than any bar of valance allows (1912.6 mm) (1912.7 mm)",
        ),
        (
            "fabric-89",
            &["2012.6 | 0 | 0"],
            &["2012.7 | 0 | 0"],
            "a louver is longer than any bar of fabric-89 allows (2012.6 mm) (2012.7 mm)",
        ),
        ("rod", &[], &["5800 | 0 | 0"], "no bar of rod is listed to cut a tilt rod from (1874.6 mm)"),
    ];
    for (material, short, long, stop) in cases {
        let held = worked(&understood(&with_bars(material, short)));
        assert_eq!(stops(&held), [stop], "{material} {short:?}");
        assert_eq!(held["openings"][0]["state"], "held");
        assert_eq!(held["cuts"], json!([]));
        let cut = worked(&understood(&with_bars(material, long)));
        assert_eq!(stops(&cut), Vec::<String>::new(), "{material} {long:?}");
        assert_eq!(cut["cuts"].as_array().unwrap().len(), 4);
    }
}

#[test]
fn a_return_and_a_louver_of_pvc_are_pieces_like_any_other() {
    // The front would fit 1912.7, the return of 3000 + 44.45 + 6.35 would not.
    let text = with_bars("valance", &["2000 | 0 | 0"])
        + "[Products]\nProduct | Bracket reaches | Bracket items | Minimum width\nlouver-89 | 3000 mm | bracket 3 in | 305 mm\n";
    let expected = "a valance return is longer than any bar of valance allows (2000 mm) (3050.8 mm)";
    assert_eq!(stops(&worked(&understood(&text))), [expected]);
    // PVC has no hem: 2000 - 38.1 = 1961.9.
    let pvc = |length: &str| {
        let text = with_bars("", &[])
            + &format!(
                "pvc-89 | {length} | 0 | 0\n[Products]\nProduct | Louver material | Hem allowance\nlouver-89 | pvc-89 | 0\n"
            );
        stops(&worked(&understood(&text)))
    };
    assert_eq!(pvc("1961.8"), ["a louver is longer than any bar of pvc-89 allows (1961.8 mm) (1961.9 mm)"]);
    assert_eq!(pvc("1961.9"), Vec::<String>::new());
}

#[test]
fn what_is_left_of_a_bar_is_kept_if_it_is_more_than_its_two_trims_and_long_enough() {
    // Left of a bar of 1926.65 mm: 1926.65 - 10 - 1893.65 - 3 = 20, its two trims and nothing between.
    let cases = [
        ("1926.65 | 10 | 3 | 5", None),
        ("1926.66 | 10 | 3 | 5", Some(20.01)),
        // Of 2506.65 mm 600 are left.
        ("2506.65 | 10 | 3 | 600", Some(600.0)),
        ("2506.65 | 10 | 3 | 600.01", None),
    ];
    for (bar, kept) in cases {
        let text = with_bars("rail", &[bar]).replace("Kerf\n", "Kerf | Shortest offcut to keep\n");
        let document = worked(&understood(&text));
        let offcuts = document["offcuts"].as_array().unwrap();
        let rail = offcuts.iter().find(|offcut| offcut["material"] == "rail");
        assert_eq!(rail.map(|offcut| offcut["length_mm"].as_f64().unwrap()), kept, "{bar}");
    }
}

/// Four blinds of phase A and two of phase B, then whatever the project says besides.
fn phases(items: &str) -> Value {
    worked(&understood(&format!(
        "[Project]
        Units           | mm
        Sizes given are | finished
        {items}
        [Openings]
        Opening | Unit | Width | Height | Mount   | Substrate | Quantity | Phase
        W1      | 1    | 1900  | 2000   | outside | wood    | 4        | A
        W2      | 2    | 1900  | 2000   | outside | wood    | 2        | B
        [Offcuts]
        Material | Color | Length | Quantity
        rod      |        | 1900   | 5"
    )))
}

/// `material phase: bars` of each plan.
fn bars(document: &Value) -> Vec<String> {
    let plans = document["cuts"].as_array().unwrap().iter();
    let told = |plan: &Value| {
        format!(
            "{} {}: {}",
            plan["material"].as_str().unwrap(),
            plan["phase"].as_str().unwrap_or("-"),
            plan["bars"]
        )
    };
    plans.map(told).collect()
}

#[test]
fn a_project_is_sawn_at_once_unless_it_says_otherwise() {
    // 5780 mm give three headrails (3 x 1893.65 + 2 x 3 = 5686.95), three fronts (5744.1), no
    // return beside three fronts; 99,980 mm give 49 louvers. Blinds have 24 louvers: 6 x 24 and 2 %
    // of them, rounded up, are 147. Five rods come off the offcuts, one off a bar.
    let at_once = ["fabric-89 -: 3", "rail -: 2", "rod -: 1", "valance -: 3"];
    for items in ["", "Cut by phase | no"] {
        let document = phases(items);
        assert_eq!(bars(&document), at_once);
        assert_eq!(document["by_phase"], json!([]));
    }
    let batches = phases("Cut by phase | yes\n        Cost basis | make");
    // A: 96 louvers with all three spares, four headrails, four fronts with eight returns; four of
    // the five offcuts. B: the rest, and the offcut that A left.
    let by_phase = [
        "fabric-89 A: 3",
        "fabric-89 B: 1",
        "rail A: 2",
        "rail B: 1",
        "rod A: 0",
        "rod B: 1",
        "valance A: 2",
        "valance B: 1",
    ];
    assert_eq!(bars(&batches), by_phase);
    let more: Vec<String> = batches["by_phase"]
        .as_array()
        .unwrap()
        .iter()
        .map(|row| format!("{}: {} {}", row["material"], row["more_bars"], row["more_cost"]))
        .collect();
    // A roll costs 95.00, a rail 26.00.
    let expected = [
        "\"fabric-89\": 1 \"95.00\"",
        "\"rail\": 1 \"26.00\"",
        "\"rod\": 0 \"0.00\"",
        "\"valance\": 0 \"0.00\"",
    ];
    assert_eq!(more, expected);
    // What is sawn is what is paid for.
    let lines = batches["cost"]["lines"].as_array().unwrap().iter();
    let rails: Vec<String> = lines
        .filter(|line| line["item"].as_str().unwrap().starts_with("rail"))
        .map(|line| format!("{} x {} = {}", line["item"], line["quantity"], line["amount"]))
        .collect();
    let expected = [
        "\"rail white, 5800 mm long, phase A\" x 2 = \"52.00\"",
        "\"rail white, 5800 mm long, phase B\" x 1 = \"26.00\"",
    ];
    assert_eq!(rails, expected);
}

/// Surveys whose offcuts are carried on: in inches and millimeters, with offcuts that were not
/// used, of another color and of a material that nothing is cut from, and with none at all.
const CARRIED: [&str; 3] = [
    "
    [Project]
    Units | in
    [Openings]
    Opening | Unit | Quantity | Width | Height | Recess depth | Substrate | Color
    W1      | 101  | 2        | 106   | 78     | 3            | wood    |
    W2      | 101  | 7        | 36 1/8 | 48    | 4            | wood    | cream
    [Offcuts]
    Material   | Color | Length     | Quantity
    rail       | Gray   | 700.1234 mm | 2
    rail       | cream  | 71 1/64    | 3
    rod        |        | 2 in       | 1
    fabric-127 | white  | 12345.678901 mm | 4
    ",
    "
    [Project]
    Units        | mm
    Cut by phase | yes
    [Openings]
    Opening | Unit | Quantity | Width | Height | Recess depth | Substrate | Phase
    W1      | 101  | 2        | 2700.1 | 1981  | 80           | wood    | 1
    W2      | 101  | 7        | 917    | 1219  | 100          | wood    | 2
    ",
    "
    [Project]
    Units | mm
    [Openings]
    Opening | Unit | Width | Height
    W1      | 101  | x     | 1981
    ",
];

/// Material, color and length of offcuts, and how many.
type OnHand = BTreeMap<(String, String, Length), u64>;

fn on_hand(input: &Input) -> OnHand {
    let mut on_hand = OnHand::new();
    for offcut in &input.rules.offcuts {
        let kind = (offcut.material.to_string(), offcut.color.to_string(), offcut.length);
        *on_hand.entry(kind).or_default() += u64::from(offcut.quantity);
    }
    on_hand
}

#[test]
fn the_next_survey_carries_the_offcuts_of_this_one() {
    for text in CARRIED {
        let input = understood(text);
        let report = pipeline::work(&input, &Silent).unwrap();
        let mut left = OnHand::new();
        for offcut in &report.cuts.offcuts {
            let kind = (offcut.material.to_string(), offcut.color.to_string(), offcut.length);
            *left.entry(kind).or_default() += offcut.quantity;
        }
        let folder = Folder::new();
        let path = folder.path().join("fit-out.xlsx");
        workbook::write(&report, workbook::Limits::SPREADSHEET, &mut std::fs::File::create(&path).unwrap())
            .unwrap();

        // The sheet as it is, in a survey of the other unit.
        let next = "
            [Project]
            Units | mm
            [Openings]
            Opening | Unit | Width | Height | Recess depth | Substrate | Sill height
            N1      | 1    | 900   | 1200   | 120          | wood    | 900
        ";
        for units in ["mm", "in"] {
            let next = next
                .replace("| mm", &format!("| {units}"))
                .replace("900 ", "36 ")
                .replace("1200", "48")
                .replace("120 ", "5 ");
            let mut surveys = crate::support::surveys(&[("next.xlsx", &next)]);
            let mut fit_out = grid::read(&path, &mut surveys.sheets).unwrap();
            let sheet = fit_out.sheets.iter().position(|sheet| sheet.name == "Offcuts").unwrap();
            surveys.grids[0].sheets.push(fit_out.sheets.remove(sheet));
            let carried = pipeline::understand(&surveys.grids, surveys.sheets, None).unwrap();
            let about_it = carried
                .queries
                .iter()
                .filter(|query| query.at.is_some_and(|at| carried.sheets.show(at).contains("Offcuts")));
            assert_eq!(about_it.map(|query| &query.message).collect::<Vec<_>>(), Vec::<&String>::new());
            assert_eq!(on_hand(&carried), left, "{units}");
        }
    }
    // The first has what was not used and what was kept; the last has nothing.
    let kept = |text| worked(&understood(text))["offcuts"].as_array().unwrap().len();
    assert!(kept(CARRIED[0]) > 3 && kept(CARRIED[1]) > 1);
    assert_eq!(kept(CARRIED[2]), 0);
}
