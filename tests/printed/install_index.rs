//! `Install index`, and what stands at the head of each unit's page: what is to be brought.

use serde_json::{Value, json};

use super::Is::{Count, Kilograms, Text};
use super::table::{self, Table};
use super::{Figure, RUNS, Run, figure};

const FIGURES: &[Figure] = &[
    figure("Unit", Text, "title"),
    figure("Building", Text, "building"),
    figure("Floor", Text, "floor"),
    figure("Openings", Count, "openings"),
    figure("Boxes to bring", Count, "boxes"),
    figure("Provisional", Count, "provisional"),
    figure("Held", Count, "held"),
    figure("Heaviest blind", Kilograms, "heaviest"),
    figure("People needed", Count, "people"),
    figure("Openings in the unit", Text, "names"),
    // A box to tick.
    figure("Done", Text, "nothing"),
];

/// The units in the order in which the survey first names them, worked from the document. What is
/// brought is what is released to be made: no provisional blind is in the boxes, nor is it the
/// heaviest.
pub(super) fn units(run: &Run) -> Vec<Value> {
    let mut units: Vec<(&Value, &Value, Vec<&Value>)> = Vec::new();
    for row in run.list("openings") {
        match units.iter_mut().find(|unit| (unit.0, unit.1) == (&row["building"], &row["unit"])) {
            Some(unit) => unit.2.push(row),
            None => units.push((&row["building"], &row["unit"], vec![row])),
        }
    }
    let recurs = |name: &Value| units.iter().filter(|unit| unit.1 == name).count() > 1;
    let text = |value: &Value| value.as_str().unwrap().to_owned();
    let of = |(building, name, rows): &(&Value, &Value, Vec<&Value>)| {
        let count = |state: &str| -> u64 {
            let rows = rows.iter().filter(|row| row["state"] == state);
            rows.map(|row| row["quantity"].as_u64().unwrap()).sum()
        };
        let brought = || rows.iter().filter(|row| row["state"] == "sized");
        let shown = if *name == "" { "No unit".to_owned() } else { text(name) };
        let parted = recurs(name) && *building != "";
        json!({
            "title": if parted { format!("{} {shown}", text(building)) } else { shown },
            "name": name,
            "building": building,
            "floor": rows[0]["floor"],
            "openings": count("sized") + count("provisional") + count("held"),
            "boxes": count("sized"),
            "provisional": count("provisional"),
            "held": count("held"),
            "heaviest": brought().map(|row| row["weight_kg"].as_f64().unwrap()).reduce(f64::max),
            "people": brought().map(|row| row["people"].as_u64().unwrap()).max(),
            "names": rows.iter().map(|row| text(&row["name"])).collect::<Vec<_>>().join(", "),
            "rows": rows,
        })
    };
    units.iter().map(of).collect()
}

#[test]
fn every_column_of_the_install_index_shows_its_number() {
    let table = |run| Table::under(run, "Install index", (3, "Openings"), units(run));
    let tables: Vec<Table<'_>> = RUNS.iter().map(table).collect();
    table::check(FIGURES, &tables);
}
