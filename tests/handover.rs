//! What is handed over with a unit: the sheet read back.

use std::io::Cursor;

use serde_json::Value;
use sillbook::exchange::json;
use sillbook::pipeline::{self, Input, Silent};
use sillbook::workbook::{Limits, write};

use crate::support::package::{Package, Sheet};
use crate::support::remembered;

const HEAD: &str = "[Project]
Project | Quay House
Site | 4 Harbour Lane
Revision | B
Order number | PO-7
Units | mm
";
const OPENINGS: &str = "[Openings]
Opening | Building | Floor | Unit | Room | Width | Height | Mount | Recess depth | Color | Control | Motor side | Cord device | Cord height | Sill height | Substrate | Quantity
W1 | North | 3 | '0304 | Lounge | 1000 | 1500 | inside | 100 | white | wand | | | | 900 | wood |
W2 | North | 3 | '0304 | Study | 1200 | 1400 | inside | 100 | cream | wand | | | | 900 | wood |
W3 | North | 3 | '0304 | Hall | 1100 | | inside | 100 | white | wand | | | | 900 | wood |
W4 | North | 3 | '0305 | Lounge | 1000 | 1500 | inside | 100 | white | wand | | | | 900 | wood |
W5 | North | 4 | '0401 | Lounge | 1300 | 1500 | inside | 100 | white | motor | left | | | 900 | wood | 2
";

type Typed = (&'static str, &'static str);

fn understood(text: &str) -> Input {
    let surveys = crate::support::surveys(&[("survey.xlsx", text)]);
    pipeline::understand(&surveys.grids, surveys.sheets, None).unwrap()
}

fn document(text: &str) -> Value {
    let input = understood(text);
    let mut out = Vec::new();
    json::write(&pipeline::work(&input, &Silent).unwrap(), &mut out).unwrap();
    serde_json::from_slice(&out).unwrap()
}

/// The fit-out of a survey after a run beside whose blinds this was typed: by opening and number, or by
/// color for spare louvers.
fn fit_out(survey: &str, typed: impl Fn(&str, &str) -> Vec<Typed>, limits: Limits) -> Package {
    let text = |value: &Value| value.as_str().unwrap_or_default().to_owned();
    let first = document(survey);
    let blinds = remembered::blinds(&first, |row| {
        let of = match text(&row["what"]).as_str() {
            "blind" => typed(&text(&row["opening"]), &text(&row["blind"])),
            what => typed(what, &text(&row["color"])),
        };
        of.into_iter().map(|(key, written)| (key, written.to_owned())).collect()
    });
    let input = understood(&format!("{survey}{blinds}"));
    let mut file = Cursor::new(Vec::new());
    write(&pipeline::work(&input, &Silent).unwrap(), limits, &mut file).unwrap();
    Package::of(file.into_inner())
}

/// Every text of a sheet, row by row: what is wrapped reads on.
fn text(sheet: &Sheet) -> String {
    sheet.cells.values().map(|cell| cell.text.as_str()).collect::<Vec<_>>().join(" ")
}

/// The row of a text in the first column.
fn row_of(sheet: &Sheet, words: &str) -> u32 {
    let found = sheet.cells.iter().find(|(at, cell)| at.1 == 0 && cell.text == words);
    found.unwrap_or_else(|| panic!("no {words}")).0.0
}

/// The cells of a row, from the left.
fn cells(sheet: &Sheet, row: u32) -> Vec<&str> {
    sheet.cells.range((row, 0)..(row + 1, 0)).map(|(_, cell)| cell.text.as_str()).collect()
}

fn w1_fitted(opening: &str, _: &str) -> Vec<Typed> {
    match opening {
        "W1" => vec![("state", "fitted"), ("fitted_on", "2026-05-04")],
        "W2" => vec![("state", "delivered")],
        _ => Vec::new(),
    }
}

#[test]
fn a_unit_with_a_fitted_blind_has_a_page_with_all_its_openings() {
    let survey = format!("{HEAD}{OPENINGS}");
    let package = fit_out(&survey, w1_fitted, Limits::SPREADSHEET);
    let place = |name: &str| package.order.iter().position(|sheet| sheet == name).unwrap();
    assert_eq!(place("Handover") + 1, place("Cost summary"));
    assert_eq!(place("Handover"), place("0401") + 1);
    let sheet = &package.sheets["Handover"];
    let top = row_of(sheet, "0304");
    assert_eq!(cells(sheet, top + 1), ["Quay House, 4 Harbour Lane, North, floor 3"]);
    let headings = row_of(sheet, "Opening");
    assert_eq!(
        cells(sheet, headings),
        [
            "Opening",
            "Room",
            "Blinds",
            "Product",
            "Color",
            "Width (mm)",
            "Drop (mm)",
            "Control",
            "Line and blind",
            "Fitted on"
        ]
    );
    // W1 and W4 are one line. 46146 is 2026-05-04 as spreadsheets count days.
    let w1 = ["W1", "Lounge", "1", "louver-89", "white", "987", "1487", "wand", "1, 1 of 2", "46146"];
    assert_eq!(cells(sheet, headings + 1), w1);
    let w2 =
        ["W2", "Study", "1", "louver-89", "cream", "1187", "1387", "wand", "2, 1 of 1", "not fitted yet"];
    assert_eq!(cells(sheet, headings + 2), w2);
    // Held: nothing is known of its blind.
    let w3: Vec<&str> = cells(sheet, headings + 3).into_iter().filter(|text| !text.is_empty()).collect();
    assert_eq!(w3, ["W3", "Hall", "1", "not fitted yet"]);
    let text = text(sheet);
    for absent in ["W4", "W5", "0305", "0401", "Motor:", "Cord:", "fitted, no date"] {
        assert!(!text.contains(absent), "{absent}");
    }
    for there in [
        "Dust the louvers",
        "do not overload",
        "Keep beds, cribs",
        "Wand:",
        "Give project Quay House, order PO-7, revision B, and from the list above line and blind",
        "Name",
        "Signature",
        "Date",
    ] {
        assert!(text.contains(there), "{there} in {text}");
    }
    assert!(
        package.names.iter().all(|(name, of, _)| name != "_xlnm._FilterDatabase" || *of != place("Handover"))
    );
}

#[test]
fn without_a_fitted_blind_there_is_no_page() {
    let survey = format!("{HEAD}{OPENINGS}");
    for state in ["ordered", "made", "delivered", "remake", "cancelled"] {
        let typed = |opening: &str, _: &str| match opening {
            "W1" => vec![("state", state)],
            _ => Vec::new(),
        };
        let package = fit_out(&survey, typed, Limits::SPREADSHEET);
        assert!(!package.order.contains(&"Handover".to_owned()), "{state}");
        assert!(!text(&package.sheets["Summary"]).contains("Handover"), "{state}");
    }
}

#[test]
fn each_unit_begins_a_page_and_where_breaks_run_out_a_sheet() {
    let survey = format!("{HEAD}{OPENINGS}");
    let typed = |opening: &str, number: &str| match (opening, number) {
        ("W1" | "W4", _) | ("W5", "2 of 2") => vec![("state", "fitted")],
        _ => Vec::new(),
    };
    let package = fit_out(&survey, typed, Limits::SPREADSHEET);
    let sheet = &package.sheets["Handover"];
    assert!(!sheet.breaks.contains(&row_of(sheet, "0304")));
    for unit in ["0305", "0401"] {
        assert!(sheet.breaks.contains(&row_of(sheet, unit)), "{unit} in {:?}", sheet.breaks);
    }
    assert!(text(&package.sheets["Summary"]).contains("Handover"));
    // Of two blinds in one opening the one that hangs comes first.
    let two: Vec<Vec<&str>> =
        sheet.cells.iter().filter(|(_, cell)| cell.text == "W5").map(|(at, _)| cells(sheet, at.0)).collect();
    let last: Vec<&str> = two.iter().filter_map(|row| row.last().copied()).collect();
    assert_eq!(last, ["fitted, no date", "not fitted yet"]);
    assert!(text(sheet).contains("Motor:"));
    let tight = Limits { breaks: 0, ..Limits::SPREADSHEET };
    let package = fit_out(&survey, typed, tight);
    let on: Vec<(&str, u32)> = ["0304", "0305", "0401"]
        .into_iter()
        .zip(package.going_on("Handover"))
        .map(|(unit, (name, sheet))| (name, row_of(sheet, unit)))
        .collect();
    assert_eq!(
        on.iter().map(|(name, _)| *name).collect::<Vec<_>>(),
        ["Handover", "Handover 2", "Handover 3"]
    );
}

#[test]
fn spare_louvers_that_are_left_are_on_every_page_by_color_and_width() {
    let survey = format!("{HEAD}{OPENINGS}");
    let typed = |what: &str, color: &str| match (what, color) {
        ("W1" | "W4", _) => vec![("state", "fitted")],
        ("spare louvers", "white") => vec![("state", "delivered"), ("left", "3")],
        ("spare louvers", "cream") => vec![("state", "delivered")],
        _ => Vec::new(),
    };
    let package = fit_out(&survey, typed, Limits::SPREADSHEET);
    let sheet = &package.sheets["Handover"];
    let rows = |color: &str| -> Vec<Vec<&str>> {
        let found = sheet.cells.iter().filter(|(at, cell)| at.1 == 0 && cell.text == color);
        found.map(|(at, _)| cells(sheet, at.0)).collect()
    };
    // Louvers of 3 1/2 in; the longest is of a drop of 1487 less 1 3/4 in in white, of 1387 in cream.
    assert_eq!(rows("white"), [["white", "88.9", "1442.55", "3"], ["white", "88.9", "1442.55", "3"]]);
    assert_eq!(rows("cream"), [["cream", "88.9", "1342.55", "not counted"]; 2]);
    // What is not ordered yet cannot be left.
    let package = fit_out(&survey, w1_fitted, Limits::SPREADSHEET);
    assert!(!text(&package.sheets["Handover"]).contains("Spare louvers left"));
}

#[test]
fn cords_stand_with_their_device_and_the_rules_of_the_jurisdiction() {
    let survey = format!("{HEAD}Jurisdiction | AU\n{OPENINGS}").replace(
        "inside | 100 | white | wand | | | | 900 | wood |\nW2",
        "inside | 100 | white | cord | | cleat | 1700 | 900 | wood |\nW2",
    );
    let survey = survey.replace("Units | mm\n", "Units | mm\nFloors finished | yes\n");
    let package = fit_out(&survey, w1_fitted, Limits::SPREADSHEET);
    let text = text(&package.sheets["Handover"]);
    for there in [
        "Cord: a child can strangle in it.",
        "W1: cleat, lowest point 1700 mm above the floor as measured.",
        "AU: Competition and Consumer (Corded Internal Window Coverings) Safety Standard 2014, Safety Standard 2014, section 6.",
    ] {
        assert!(text.contains(there), "{there} in {text}");
    }
    for absent in ["Wand:", "EU:", "UK:", "SOR/2019-97"] {
        assert!(!text.contains(absent), "{absent}");
    }
}
