//! `Blinds`: every column, of first runs and of one that goes on from another, in which each column that
//! people type in says something. What a row says of its blind is what its line and its opening say.

use std::sync::LazyLock;

use serde_json::{Value, json};

use super::Is::{Count, Day, Kilograms, Length, Text};
use super::table::{self, Table};
use super::{Figure, RUNS, Run, figure, surveys};
use crate::stories;
use crate::support::files::Folder;
use crate::support::{Surveys, surveys as surveys_of};
use sillbook::grid;
use sillbook::pipeline;
use sillbook::workbook::{Limits, write};

const FIGURES: &[Figure] = &[
    figure("What", Text, "what"),
    figure("Line", Count, "line"),
    figure("Blind", Text, "blind"),
    figure("Building", Text, "building"),
    figure("Floor", Text, "floor"),
    figure("Unit", Text, "unit"),
    figure("Room", Text, "room"),
    figure("Opening", Text, "opening"),
    figure("Id", Text, "id"),
    figure("Phase", Text, "phase"),
    figure("Source", Text, "source"),
    figure("Release", Text, "release"),
    figure("Product", Text, "product"),
    figure("Color", Text, "color"),
    figure("Width", Length, "width_mm"),
    figure("Drop", Length, "drop_mm"),
    figure("Mount", Text, "mount"),
    figure("Draw", Text, "draw"),
    figure("Control", Text, "control"),
    figure("Control side", Text, "control_side"),
    figure("Wand", Length, "wand_mm"),
    figure("Louvers", Count, "louver_count"),
    figure("Louver length", Length, "louver_length_mm"),
    figure("Headrail", Length, "headrail_mm"),
    figure("Rod", Length, "rod_mm"),
    figure("Bracket", Text, "bracket"),
    figure("Reach", Length, "reach_mm"),
    figure("Brackets each", Count, "bracket_count"),
    figure("Clips", Count, "clips"),
    figure("Valance front", Length, "valance_mm"),
    figure("Return left", Length, "return_left_mm"),
    figure("Return right", Length, "return_right_mm"),
    figure("Weight", Kilograms, "weight_kg"),
    figure("Revision", Text, "revision"),
    figure("Survey", Text, "survey"),
    figure("Price each", Count, "price"),
    figure("Remake of", Text, "remake_of"),
    figure("State", Text, "typed_state"),
    figure("Order number", Text, "order_number"),
    figure("Ordered on", Day, "ordered_on"),
    figure("Delivered on", Day, "delivered_on"),
    figure("Fitted on", Day, "fitted_on"),
    figure("Reason", Text, "reason"),
    figure("Paid by", Text, "paid_by"),
    figure("Do", Text, "do"),
    figure("Goes to", Text, "goes_to"),
    figure("Left", Count, "left"),
    figure("Note", Text, "note"),
    figure("Kind", Text, "kind"),
    figure("Stock width", Length, "stock_width_mm"),
    figure("Stock drop", Length, "stock_drop_mm"),
    figure("Cord device", Text, "cord_device"),
    figure("Cord height", Length, "cord_height_mm"),
    figure("Louver width", Length, "louver_width_mm"),
    figure("Louver spacing", Length, "pitch_mm"),
    figure("Louver material", Text, "louver_material"),
    figure("Spacer links", Count, "spacer_links"),
    figure("Used for", Text, "used_for"),
    figure("People", Count, "people"),
];

/// What is typed beside blinds of the survey in inches: by line and number, or by opening.
const TYPED: &str = "\
0304/D1 | State | remake
0304/D1 | Reason | wrong hand
0304/D1 | Paid by | carrier
0201/D1 | State | fitted
0201/D1 | Ordered on | 2026-03-04
0201/D1 | Delivered on | 2026-04-05
0201/D1 | Fitted on | 2026-04-07
0201/D1 | Order number | A-17
0201/D1 | Do | use as it is
W1 | State | made
W1 | Ordered on | 2026-03-09
W7 | Note | ask the neighbor
W8 | State | delivered
W8 | Do | move
W8 | Goes to | store
";

/// A run that goes on from one beside whose blinds something was typed.
pub(super) static AFTER: LazyLock<Run> = LazyLock::new(|| {
    let folder = Folder::new();
    let path = folder.path().join("first.xlsx");
    let run = &RUNS[0];
    let mut file = std::fs::File::create(&path).unwrap();
    write(run.report, Limits::SPREADSHEET.without_drawings(), &mut file).unwrap();
    let Surveys { grids, mut sheets } = surveys_of(&[("survey.xlsx", surveys::INCHES)]);
    let mut earlier = grid::read_earlier(&path, &mut sheets, &sillbook::earlier::is_read).unwrap();
    let spares = run.list("spare_louvers")[0]["line"].as_u64().unwrap();
    let typed = format!("{TYPED}line {spares} | State | ordered\nline {spares} | Left | 5\n");
    stories::type_in(&mut earlier, &typed);
    Run::of("after", pipeline::understand_after(Some(&earlier), &grids, sheets, None).unwrap())
});

fn runs() -> impl Iterator<Item = &'static Run> {
    RUNS.iter().chain([&*AFTER])
}

/// The rows of the document, as the columns take them.
fn rows(run: &Run) -> Vec<Value> {
    let row = |row: &Value| {
        let mut row = row.clone();
        let price = row["price_each"].as_str().map(|price| price.parse::<f64>().unwrap());
        let state = row["state"].take();
        let object = row.as_object_mut().unwrap();
        object.insert("price".to_owned(), json!(price));
        // A state of a blind is none of an opening.
        object.insert("typed_state".to_owned(), state);
        object.remove("state");
        row
    };
    run.list("blinds").iter().map(row).collect()
}

#[test]
fn every_column_of_blinds_shows_its_number() {
    let tables: Vec<Table<'_>> =
        runs().map(|run| Table::under(run, "Blinds", (0, "What"), rows(run))).collect();
    table::check(FIGURES, &tables);
}

/// Keys that a blind shares with its line.
const OF_LINE: [&str; 30] = [
    "line",
    "phase",
    "source",
    "release",
    "product",
    "color",
    "width_mm",
    "drop_mm",
    "mount",
    "draw",
    "control",
    "control_side",
    "wand_mm",
    "louver_count",
    "louver_length_mm",
    "headrail_mm",
    "rod_mm",
    "bracket",
    "reach_mm",
    "bracket_count",
    "clips",
    "valance_mm",
    "return_left_mm",
    "return_right_mm",
    "weight_kg",
    "cord_device",
    "cord_height_mm",
    "louver_width_mm",
    "pitch_mm",
    "spacer_links",
];

#[test]
fn a_blind_is_what_its_line_and_its_opening_say() {
    let mut seen = 0;
    for run in runs() {
        for row in run.list("blinds").iter().filter(|row| row["what"] == "blind") {
            seen += 1;
            let line = run.list("order").iter().find(|line| line["line"] == row["line"]).unwrap();
            for key in OF_LINE {
                assert_eq!(row[key], line[key], "{}: {key} of {row}", run.name);
            }
            let opening = run.opening(&row["opening"]);
            for (key, of) in [
                ("building", "building"),
                ("floor", "floor"),
                ("unit", "unit"),
                ("room", "room"),
                ("id", "opening"),
            ] {
                assert_eq!(row[key], opening[of], "{}: {key} of {row}", run.name);
            }
            assert_eq!(row["kind"], opening["kind"], "{}: {row}", run.name);
            if row["state"] != "remake" && row["goes_to"] == "" {
                assert_eq!(row["people"], opening["people"], "{}: {row}", run.name);
                let lines = opening["lines"].as_array().unwrap();
                assert!(lines.contains(&row["line"]), "{}: {row}", run.name);
            }
        }
        // Its labels stand in the same numbers.
        let labels: u64 = run
            .list("labels")
            .iter()
            .map(|row| row["last"].as_u64().unwrap() + 1 - row["first"].as_u64().unwrap())
            .sum();
        assert_eq!(labels, run.list("blinds").iter().filter(|row| row["what"] == "blind").count() as u64);
    }
    assert!(seen > 500, "{seen}");
}
