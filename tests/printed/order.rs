//! `Order`: its lines, its totals, and which opening each blind is for.

use std::collections::BTreeMap;

use serde_json::{Value, json};

use super::Is::{Count, Day, Kilograms, Length, Text};
use super::table::{self, Table};
use super::{Figure, RUNS, Run, figure, mm};
use sillbook::blinds::{HEADRAIL, TILT_ROD};
use sillbook::rules::{CostBasis, SizesGiven};
use sillbook::sourcing::Supply;

const LINES: &[Figure] = &[
    figure("Line", Count, "line"),
    figure("Quantity", Count, "quantity"),
    figure("Product", Text, "product"),
    figure("Color", Text, "color"),
    figure("Width", Length, "width_mm"),
    figure("Drop", Length, "drop_mm"),
    figure("Release", Text, "beside.release"),
    figure("Headrail cut", Length, "beside.rail_cut"),
    figure("Tilt rod cut", Length, "beside.rod_cut"),
    figure("Louvers per blind", Count, "louver_count"),
    figure("Louvers a side", Count, "beside.louvers_a_side"),
    figure("Louver width", Length, "beside.louver_width"),
    figure("Louver spacing", Length, "beside.pitch"),
    figure("Louver material", Text, "beside.louver_material"),
    figure("Louver length", Length, "louver_length_mm"),
    figure("Draw", Text, "draw"),
    figure("Control", Text, "beside.control"),
    figure("Control side", Text, "control_side"),
    figure("Wand length", Length, "wand_mm"),
    figure("Cord device", Text, "cord_device"),
    figure("Cord height above floor", Length, "cord_height_mm"),
    figure("Mount", Text, "mount"),
    figure("Bracket", Text, "bracket"),
    figure("Reach", Length, "reach_mm"),
    figure("Brackets per blind", Count, "beside.brackets_each"),
    figure("Valance front", Length, "valance_mm"),
    figure("Valance clips", Count, "beside.clips"),
    figure("Corner pieces", Count, "beside.corner_pieces"),
    figure("Spacer links", Count, "beside.spacer_links"),
    figure("Return left", Length, "beside.return_left").or("none"),
    figure("Return right", Length, "beside.return_right").or("none"),
    figure("Source", Text, "beside.source"),
    figure("Tolerance, +/-", Length, "beside.tolerance"),
    figure("Weight per blind", Kilograms, "beside.weight_kg"),
    figure("Phase", Text, "phase"),
    figure("Openings", Text, "beside.for"),
];

const TOTALS: &[Figure] = &[
    figure("Blinds", Count, "blinds"),
    figure("Product", Text, "product"),
    figure("Color", Text, "color"),
    figure("To make now", Count, "to_make"),
    figure("From stock", Count, "from_stock"),
    figure("Provisional", Count, "provisional"),
    figure("Louvers", Count, "louvers"),
];

const DELIVERIES: &[Figure] = &[
    figure("Boxes", Count, "boxes"),
    figure("Provisional", Count, "provisional"),
    figure("Longest box", Length, "longest_mm"),
    figure("Phase", Text, "phase"),
    figure("Building", Text, "building"),
    figure("Floor", Text, "floor"),
    figure("Order number", Text, "beside.order_number"),
    figure("Deliver to", Text, "beside.deliver_to"),
    figure("Order date", Day, "beside.order_date"),
    figure("Need by", Day, "beside.need_by"),
];

const SPARES: &[Figure] = &[
    figure("Line", Count, "line"),
    figure("Louvers", Count, "quantity"),
    figure("Material", Text, "material"),
    figure("Color", Text, "color"),
    figure("Louver width", Length, "width_mm"),
    figure("Louver length", Length, "length_mm"),
];

const OPENINGS: &[Figure] = &[
    figure("Line", Count, "line"),
    figure("Label", Text, "beside.label"),
    figure("Product", Text, "product"),
    figure("Color", Text, "color"),
    figure("Width", Length, "width_mm"),
    figure("Drop", Length, "drop_mm"),
    figure("Release", Text, "beside.release"),
    figure("Opening", Text, "opening.name"),
    figure("Room", Text, "opening.room"),
    figure("Unit", Text, "opening.unit"),
    figure("Opening size, width x height", Text, "beside.opening_size"),
    figure("Floor", Text, "opening.floor"),
    figure("Building", Text, "opening.building"),
];

/// A line of the document, and beside it what that does not hold.
fn line(run: &Run, place: usize) -> Value {
    let mut row = run.list("order")[place].clone();
    let line = &run.report.order.lines[place];
    let openings: Vec<&Value> =
        row["openings"].as_array().unwrap().iter().map(|name| run.opening(name)).collect();
    let present = |key: &str| row[key].as_f64().filter(|length| *length != 0.0);
    let rest = match openings.len() - 1 {
        0 => String::new(),
        more => format!(" and {more} more"),
    };
    let returns =
        ["return_left_mm", "return_right_mm"].into_iter().filter(|key| present(key).is_some()).count();
    let control =
        if row["control"] == "cord" { "cord: KEEP FROM CHILDREN" } else { row["control"].as_str().unwrap() };
    let beside = json!({
        "control": control,
        // What comes from stock is not cut.
        "rail_cut": line.cut(HEADRAIL).map(mm).filter(|_| row["source"] == "made"),
        "rod_cut": line.cut(TILT_ROD).map(mm).filter(|_| row["source"] == "made"),
        "louvers_a_side": (row["draw"] == "split").then(|| row["louver_count"].as_u64().unwrap() / 2),
        "louver_width": louver_width(&row),
        "pitch": if row["product"].as_str().unwrap().starts_with("louver-127") { 114.3 } else { 79.375 },
        "louver_material": line.key.parts.iter().find(|part| part.part.word() == "louver")
            .map(|part| &*part.material).filter(|_| row["source"] == "made"),
        // As many clips as brackets; a corner piece a return; links between louvers, top and bottom, but for
        // the two that meet in the middle.
        "clips": openings[0]["brackets"]["count"],
        "corner_pieces": returns,
        "spacer_links": 2 * (row["louver_count"].as_u64().unwrap() - if row["draw"] == "split" { 2 } else { 1 }),
        "brackets_each": openings[0]["brackets"]["count"],
        "return_left": present("return_left_mm"),
        "return_right": present("return_right_mm"),
        "source": source(run, line.openings()[0]),
        "release": release(&row),
        // Of both products, half a step of 1/8 in.
        "tolerance": 25.4 / 16.0,
        "weight_kg": openings[0]["weight_kg"],
        "for": format!("{}{rest}", openings[0]["name"].as_str().unwrap()),
    });
    row["beside"] = beside;
    row
}

/// What is from stock is not made.
fn release(line: &Value) -> &str {
    match (line["release"].as_str().unwrap(), line["source"].as_str().unwrap()) {
        ("make", "stock") => "FROM STOCK",
        (release, _) => release,
    }
}

/// 5 in of `louver-127`, 3 1/2 in of the others.
fn louver_width(line: &Value) -> f64 {
    if line["product"].as_str().unwrap().starts_with("louver-127") { 127.0 } else { 88.9 }
}

fn source(run: &Run, opening: usize) -> String {
    let blind = run.report.blinds[opening].as_ref().unwrap();
    let (size, cut_down) = match &blind.sourced.supply {
        Supply::Made | Supply::Unlisted => return "made".to_owned(),
        Supply::Stock(size) => (size, ""),
        Supply::CutFromStock(size) => (size, ", cut down"),
    };
    let units = run.units();
    let bracket = blind.sizing.hung.bracket();
    let apart = if size.brackets.contains(bracket) { "" } else { "; its brackets are bought apart" };
    format!("stock {} x {}{cut_down}{apart}", size.nominal_width.show(units), size.nominal_drop.show(units))
}

/// Each opening of each line, numbered within the line.
fn openings(run: &Run) -> Vec<Value> {
    let mut rows = Vec::new();
    for line in run.list("order") {
        let mut done = 0;
        for name in line["openings"].as_array().unwrap() {
            let mut row = line.clone();
            let opening = run.opening(name);
            let quantity = opening["quantity"].as_u64().unwrap();
            let (first, last) = (done + 1, done + quantity);
            let of = &line["quantity"];
            let label =
                if quantity == 1 { format!("{last} of {of}") } else { format!("{first} to {last} of {of}") };
            row["beside"] =
                json!({ "label": label, "opening_size": opening_size(run, name), "release": release(line) });
            row["opening"] = opening.clone();
            if opening["unit"] == "" {
                row["opening"]["unit"] = json!("No unit");
            }
            rows.push(row);
            done = last;
        }
    }
    rows
}

fn opening_size(run: &Run, name: &Value) -> String {
    if run.report.rules.project.sizes_given == SizesGiven::Finished {
        return "not given".to_owned();
    }
    let place = run.list("openings").iter().position(|row| row["name"] == *name).unwrap();
    let facts = run.report.survey.openings[place].facts.as_ref().unwrap();
    let units = run.units();
    format!("{} x {}", facts.width.least().value.show(units), facts.height.least().value.show(units))
}

/// Blinds and louvers by product and color, then all of them.
fn totals(run: &Run) -> Vec<Value> {
    let mut totals: BTreeMap<(&str, &str), [u64; 4]> = BTreeMap::new();
    let mut whole = [0; 4];
    for line in run.list("order") {
        let kind = (line["product"].as_str().unwrap(), line["color"].as_str().unwrap());
        let quantity = line["quantity"].as_u64().unwrap();
        let place = match (line["release"].as_str().unwrap(), line["source"].as_str().unwrap()) {
            ("provisional", _) => 2,
            (_, "stock") => 1,
            _ => 0,
        };
        for total in [totals.entry(kind).or_default(), &mut whole] {
            total[place] += quantity;
            total[3] += quantity * line["louver_count"].as_u64().unwrap();
        }
    }
    let row = |((product, color), [to_make, from_stock, provisional, louvers]): ((&str, &str), [u64; 4])| {
        json!({
            "product": product, "color": color, "blinds": to_make + from_stock + provisional,
            "to_make": to_make, "from_stock": from_stock, "provisional": provisional, "louvers": louvers,
        })
    };
    totals.into_iter().chain([(("all", ""), whole)]).map(row).collect()
}

fn check(figures: &[Figure], sheet: &str, found_by: (u32, &str), rows: impl Fn(&Run) -> Vec<Value>) {
    let tables: Vec<Table<'_>> =
        RUNS.iter().map(|run| Table::under(run, sheet, found_by, rows(run))).collect();
    table::check(figures, &tables);
}

#[test]
fn every_column_of_the_lines_shows_its_number() {
    check(LINES, "Order", (1, "Quantity"), |run| {
        (0..run.list("order").len()).map(|place| line(run, place)).collect()
    });
}

/// Where blinds are made, spare louvers are cut, and none are ordered.
#[test]
fn every_column_of_the_spare_louvers_shows_its_number() {
    let (bought, made): (Vec<&Run>, Vec<&Run>) =
        RUNS.iter().partition(|run| run.report.rules.project.cost_basis == CostBasis::Buy);
    let tables: Vec<Table<'_>> = bought
        .into_iter()
        .map(|run| Table::under(run, "Order", (1, "Louvers"), run.list("spare_louvers").to_vec()))
        .collect();
    table::check(SPARES, &tables);
    for run in made {
        assert!(run.list("spare_louvers").is_empty(), "{}", run.name);
        assert!(
            run.package.sheets["Order"].cells.values().all(|cell| !cell.text.starts_with("Spare louvers"))
        );
    }
}

#[test]
fn every_column_of_the_totals_shows_its_number() {
    check(TOTALS, "Order", (1, "Blinds"), totals);
}

/// What the survey's own rows say of a phase, and for the rest what its project does; nothing without a sheet.
fn terms(run: &Run, phase: &str) -> Value {
    let rules = run.report.rules;
    if rules.phases.is_empty() {
        return json!({ "order_number": "", "deliver_to": "", "order_date": null, "need_by": null });
    }
    let (own, project) = (rules.phases.iter().find(|row| row.name == phase), &rules.project);
    let text = |own: Option<&String>, project: &str| match own {
        Some(own) if !own.is_empty() => own.clone(),
        _ => project.to_owned(),
    };
    let order_date = own.and_then(|own| own.order_date).or(project.order_date).or(project.survey_date);
    let need_by = own.and_then(|own| own.need_by).or(project.need_by);
    json!({
        "order_number": text(own.map(|own| &own.order_number), &project.order_number),
        "deliver_to": text(own.map(|own| &own.deliver_to), &project.deliver_to),
        "order_date": order_date.map(|date| date.to_string()),
        "need_by": need_by.map(|date| date.to_string()),
    })
}

/// Every floor's boxes, of which the longest is as long as the longest piece of its blinds.
#[test]
fn every_column_of_the_deliveries_shows_its_number() {
    check(DELIVERIES, "Order", (1, "Boxes"), |run| {
        let mut rows = run.list("deliveries").to_vec();
        for row in &mut rows {
            let is_there = |opening: &&Value| {
                ["phase", "building", "floor"].iter().all(|key| opening[*key] == row[*key])
                    && opening["state"] != "held"
            };
            let there: Vec<&Value> = run.list("openings").iter().filter(is_there).collect();
            let blinds = |state: &str| -> u64 {
                let of_state = there.iter().filter(|opening| opening["state"] == state);
                of_state.map(|opening| opening["quantity"].as_u64().unwrap()).sum()
            };
            assert_eq!(row["boxes"], blinds("sized"), "{}: {row}", run.name);
            assert_eq!(row["provisional"], blinds("provisional"), "{}: {row}", run.name);
            let pieces = there.iter().flat_map(|opening| {
                [&opening["width_mm"], &opening["valance_mm"], &opening["louvers"]["length_mm"]]
            });
            let longest = pieces.filter_map(Value::as_f64).fold(0.0, f64::max);
            assert_eq!(row["longest_mm"].as_f64(), Some(longest), "{}: {row}", run.name);
            // Where phases have terms of their own, the sheet says them phase by phase.
            row["beside"] = terms(run, row["phase"].as_str().unwrap());
        }
        rows
    });
}

#[test]
fn every_column_of_the_lines_openings_shows_its_number() {
    check(OPENINGS, "Order's openings", (1, "Label"), openings);
}
