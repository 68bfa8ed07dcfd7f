//! `Fitting days`: every column of the visits and of the loads, with something typed beside some; and what
//! `Notices` says.

use std::sync::LazyLock;

use serde_json::{Value, json};

use super::Is::{Count, Day, Kilograms, Length, Text};
use super::table::{self, Table};
use super::{Figure, Run, figure, surveys};
use sillbook::pipeline;

const FIGURES: &[Figure] = &[
    figure("Day", Count, "day"),
    figure("Date", Day, "date"),
    figure("Phase", Text, "phase"),
    figure("Building", Text, "building"),
    figure("Floor", Text, "floor"),
    figure("Unit", Text, "unit"),
    figure("Visit", Text, "visit"),
    figure("Openings", Count, "openings"),
    figure("Blinds", Count, "blinds"),
    figure("Held", Count, "held"),
    figure("Minutes", Count, "minutes"),
    figure("Of these for two", Count, "for_two"),
    figure("Of these not charged", Count, "not_charged"),
    figure("Fitters", Count, "fitters"),
    figure("Days", Count, "days"),
    figure("Boxes", Count, "boxes"),
    figure("Longest box", Length, "longest_mm"),
    figure("Heaviest", Kilograms, "heaviest_kg"),
    figure("Fits the lift", Text, "fits_lift"),
    figure("Must have arrived", Day, "must_have_arrived"),
    figure("Arrives", Day, "arrives"),
    figure("Keep", Text, "kept"),
    figure("Told on", Day, "told_on"),
    figure("Done", Day, "done"),
];
const LOADS: &[Figure] = &[
    figure("Phase", Text, "phase"),
    figure("Building", Text, "building"),
    figure("Floor", Text, "floor"),
    figure("Boxes", Count, "boxes"),
    figure("Longest box", Length, "longest_mm"),
    figure("Heaviest", Kilograms, "heaviest_kg"),
    figure("All together", Kilograms, "weight_kg"),
    figure("Fits the lift", Text, "fits_lift"),
];
const NOTICE: &[Figure] = &[
    figure("Day", Day, "date"),
    figure("How long", Text, "how_long"),
    figure("Rooms", Text, "rooms"),
    figure("Blinds", Count, "blinds"),
];

const MORE: &str = "
[Phases]
Phase | Starts     | Fitters | Hours a day
one   | 2026-05-04 | 2       | 7
two   | 2026-06-01 | 1       | 6
[Fitting days]
Date       | Phase | Building | Floor | Unit  | Visit | Keep | Told on    | Done
2026-05-07 | one   | North    | 2     | '0201 | first | yes  | 2026-04-20 |
2026-05-01 | one   | North    | 9     | '0901 | first | no   |            | 2026-05-02
";

static RUN: LazyLock<Run> = LazyLock::new(|| {
    let lift = "Lift door width | 36\nLift height | 84\nLift depth | 60\n";
    // Its phases are those of this survey.
    let (project, rest) = surveys::INCHES.split_once("[Phases]").unwrap();
    let (_, openings) = rest.split_once("[Openings]").unwrap();
    let text = format!("{project}{lift}[Openings]{openings}{MORE}");
    let surveys = crate::support::surveys(&[("survey.xlsx", &text)]);
    Run::of("days", pipeline::understand(&surveys.grids, surveys.sheets, None).unwrap())
});

fn with(row: &Value, key: &str, value: Value) -> Value {
    let mut row = row.clone();
    row.as_object_mut().unwrap().insert(key.to_owned(), value);
    row
}

#[test]
fn every_column_of_fitting_days_shows_its_number() {
    let kept = |row: &Value| {
        with(
            row,
            "kept",
            row["keep"].as_bool().map_or(Value::Null, |keep| json!(if keep { "yes" } else { "no" })),
        )
    };
    let rows: Vec<Value> = RUN.list("fitting_days").iter().map(kept).collect();
    let shown: Vec<&str> = ["keep", "told_on", "done", "for_two", "arrives"]
        .into_iter()
        .filter(|key| rows.iter().all(|row| row[*key].is_null()))
        .collect();
    assert!(shown.is_empty(), "nothing stands under {shown:?}");
    table::check(FIGURES, &[Table::under(&RUN, "Fitting days", (0, "Day"), rows)]);
}

#[test]
fn every_column_of_the_loads_shows_its_number() {
    let table = Table::under(&RUN, "Fitting days", (3, "Boxes"), RUN.list("loads").to_vec());
    table::check(LOADS, &[table]);
}

#[test]
fn a_notice_says_its_day_rooms_and_hours() {
    let sheet = &RUN.package.sheets["Notices"];
    let notices = RUN.list("notices");
    let heads: Vec<u32> =
        sheet.cells.iter().filter(|(at, cell)| at.1 == 0 && cell.text == "Day").map(|(at, _)| at.0).collect();
    assert_eq!(heads.len(), notices.len());
    assert!(notices.len() > 3);
    for (notice, top) in notices.iter().zip(heads) {
        let rooms: Vec<&str> = notice["rooms"].as_array().unwrap().iter().filter_map(Value::as_str).collect();
        let row = with(notice, "rooms", json!(rooms.join(", ")));
        table::check(NOTICE, &[Table { run: &RUN, sheet, top, rows: vec![row] }]);
        // The unit stands above, in large letters.
        let above: Vec<&str> =
            sheet.cells.range((top.saturating_sub(6), 0)..(top, 1)).map(|(_, cell)| &*cell.text).collect();
        assert!(above.contains(&notice["unit"].as_str().unwrap()), "{above:?}");
    }
}
