//! `Options compared`: its tables, of surveys of their own.

use serde_json::{Value, json};
use sillbook::pipeline;

use super::Is::{Count, Length, Text};
use super::table::{self, Table};
use super::{Figure, Run, figure};

const SIZES: &[Figure] = &[
    figure("Adjusted by up to (in)", Text, "beside.by_in"),
    figure("Adjusted by up to (mm)", Text, "beside.by_mm"),
    figure("Sizes", Count, "sizes"),
    figure("Fewest possible", Count, "sizes_at_least"),
    figure("Adjusted in all", Length, "adjusted_mm"),
    figure("Proven", Text, "beside.proven"),
    figure("Cost", Count, "beside.cost").or("unknown"),
    figure("Sizes at minimum cost", Count, "cheapest_sizes"),
    figure("Adjusted then in all", Length, "cheapest_adjusted_mm"),
    figure("Minimum cost", Count, "beside.cheapest"),
    figure("Minimum proven", Text, "beside.cheapest_proven"),
];

/// With the set-up of a size; in phases, and with what nobody asks for: no merging.
const INCHES: &str = "
[Project]
Project | Mill House
Units   | in
[Openings]
Unit | Opening | Phase | Kind   | Width  | Height | Mount   | Recess depth | Handle | Quantity
1    | W1      | one   | window | 40     | 50     | inside  | 6            | 0      | 2
1    | W2      | one   | window | 40 1/4 | 50 1/8 | inside  | 6            | 0      | 1
1    | W3      | one   | window | 39 5/8 | 50     | inside  | 6            | 0      | 1
1    | W4      | two   | window | 60     | 50 1/8 | outside | 0            | 0      | 3
1    | W5      | two   | window | 61     | 50     | outside | 0            | 0      | 1
[Rates]
Item            | Rate | Unit
set-up per size | 20   | per size
";

/// Merged, with a set-up that nobody knows.
const MILLIMETERS: &str = "
[Project]
Project     | Quay House
Units       | mm
Merge sizes | 10
[Openings]
Unit | Opening | Kind   | Width | Height | Mount  | Recess depth | Handle
1    | W1      | window | 1000  | 1500   | inside | 150          | 0
1    | W2      | window | 1008  | 1503   | inside | 150          | 0
[Prices]
Item                  | Price | Per
made-to-measure blind |       | each
";

fn run(name: &'static str, text: &str) -> Run {
    let surveys = crate::support::surveys(&[("survey.xlsx", text)]);
    Run::of(name, pipeline::understand(&surveys.grids, surveys.sheets, None).unwrap())
}

/// A row of the document, and beside it what it says in words and in numbers.
fn beside(row: &Value, units: &str) -> Value {
    let mut row = row.clone();
    let by = match (&row["adjusted_by_mm"], units) {
        (Value::Null, _) => "whole window".to_owned(),
        (by, _) if by.as_f64() == Some(0.0) => "not at all".to_owned(),
        (by, "in") => {
            ["1/16", "1/8", "1/4", "1/2"][(by.as_f64().unwrap() / 1.5875).log2().round() as usize].to_owned()
        }
        (by, _) => by.to_string(),
    };
    let yes_or_no = |key: &str| row[key].as_bool().map(|truth| if truth { "yes" } else { "no" });
    let amount = |key: &str| row[key].as_str().map(|amount| amount.parse::<f64>().unwrap());
    row["beside"] = json!({
        "by_in": (units == "in").then_some(&by),
        "by_mm": (units == "mm").then_some(&by),
        "proven": yes_or_no("adjusted_proven"),
        "cheapest_proven": yes_or_no("cheapest_proven"),
        "cost": amount("cost"),
        "cheapest": amount("cheapest_cost"),
    });
    row
}

#[test]
fn every_column_of_sizes_against_money_shows_its_number() {
    let runs = [run("in inches", INCHES), run("in millimeters", MILLIMETERS)];
    let tables: Vec<Table<'_>> = runs
        .iter()
        .map(|run| {
            let units = run.document["project"]["units"].as_str().unwrap();
            let rows = run.list("sizes_curve").iter().map(|row| beside(row, units)).collect();
            Table::under(run, "Options compared", (1, "Sizes"), rows)
        })
        .collect();
    assert!(tables.iter().all(|table| table.rows.len() == 6));
    table::check(SIZES, &tables);
}

/// What a run costs is what the curve says of its limit: here none, and no set-up but these.
#[test]
fn the_cost_without_merging_is_that_of_the_cost_summary() {
    let run = run("in inches", INCHES);
    let lines = run.document["cost"]["lines"].as_array().unwrap();
    let amount = |value: &Value| value.as_str().unwrap().parse::<f64>().unwrap();
    let is_of_made = |line: &&Value| {
        let item = line["item"].as_str().unwrap();
        item.starts_with("line ") || item == "set-up per size"
    };
    let of_made = lines.iter().filter(is_of_made);
    let sum: f64 = of_made.map(|line| amount(&line["amount"])).sum();
    let curve = run.list("sizes_curve");
    assert!((amount(&curve[0]["cost"]) - sum).abs() < 0.001, "{sum}: {}", curve[0]);
    assert_eq!((&curve[0]["sizes"], &curve[5]["sizes"]), (&json!(5), &json!(3)));
    // Nobody asks where nothing is merged and no size costs a set-up.
    let plain = INCHES.replace("| 20 ", "| 0 ");
    let run = self::run("plain", &plain);
    assert!(run.list("sizes_curve").is_empty());
    assert!(!run.package.order.contains(&"Options compared".to_owned()));
}
