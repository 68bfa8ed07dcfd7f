//! `Options compared`: how the stock sizes are used, and which of them would cover less.

use serde_json::{Value, json};

use super::Is::{Count, Degrees, Length, Text};
use super::table::{Table, check};
use super::{Figure, Run, figure};
use sillbook::pipeline;

const STOCK: &[Figure] = &[
    figure("Product", Text, "product"),
    figure("Nominal width", Length, "nominal_width_mm"),
    figure("Nominal drop", Length, "nominal_drop_mm"),
    figure("Colors", Text, "beside.colors"),
    figure("Price each", Count, "beside.price").or("unknown"),
    figure("On hand", Count, "on_hand"),
    figure("Ordered", Count, "ordered"),
    figure("Used", Count, "used"),
    figure("Wanted", Count, "wanted"),
    figure("Left", Count, "left"),
    figure("One more saves", Count, "beside.one_more").or("unknown"),
    figure("Last one saves", Count, "beside.last").or("unknown"),
    figure("Proven best", Text, "beside.proven"),
];

const LESS_COVER: &[Figure] = &[
    figure("Opening", Text, "opening"),
    figure("Building", Text, "building"),
    figure("Unit", Text, "unit"),
    figure("Room", Text, "room"),
    figure("Quantity", Count, "quantity"),
    figure("Stock size", Text, "what"),
    figure("Overlap left", Length, "overlap_left_mm"),
    figure("Overlap right", Length, "overlap_right_mm"),
    figure("See-past angle (deg)", Degrees, "see_past_deg").or("closed by walls"),
    figure("Price each", Count, "beside.price").or("unknown"),
    figure("Made, each", Count, "beside.made_price").or("unknown"),
    figure("Saves", Count, "beside.saves").or("unknown"),
    figure("Days sooner", Count, "days_sooner").or("unknown"),
    figure("Taken", Text, "beside.taken"),
    figure("Why not", Text, "why"),
];

/// Sizes of which there are too few, one of which there are enough, and openings that they cover less.
const SCARCE: &str = "
    [Project]
    Project           | Mill Court
    Units             | in
    Stock sizes       | yes
    Accept less cover | 2
    Order date        | 2026-03-02
    [Openings]
    Building | Floor | Unit | Opening | Room    | Kind       | Quantity | Width   | Height | Recess depth | Wall left | Left ends at | Wall right | Right ends at | Substrate
    North    | 1     | 101  | D1      | Lounge  | patio door | 1        | 62      | 78     | 0            |           |              |            |               | wood
    North    | 1     | 101  | D2      | Den     | patio door | 2        | 65 1/2  | 78     | 0            | 1/2       | wall         |            |               | wood
    North    | 1     | 102  | D3      | Study   | patio door | 1        | 66 1/4  | 78     | 0            |           |              | 1/4        | wall          | wood
    South    | 1     | 201  | D4      | Kitchen | patio door | 3        | 77      | 78     | 0            |           |              |            |               | masonry
    South    | 1     | 201  | D5      | Hall    | patio door | 1        | 77 1/2  | 78     | 0            | 1/4       | wall         | 1/4        | wall          | wood
    South    | 2     | 301  | D6      | Loft    | patio door | 1        | 101     | 78     | 0            |           |              |            |               | wood
    [Stock sizes]
    Product   | Nominal width | Nominal drop | Price | Lead days | On hand | Colors
    louver-89 | 66            | 84           | 36    | 3         | 2       | white
    louver-89 | 78            | 85           | 42.5  | 5         | 3       | white, cream
    louver-89 | 104           | 84           | 54    | 0         | 4       | white
";

fn run() -> Run {
    let surveys = crate::support::surveys(&[("survey.xlsx", SCARCE)]);
    Run::of("scarce", pipeline::understand(&surveys.grids, surveys.sheets, None).unwrap())
}

/// Money as a cell holds it.
fn money(value: &Value) -> Value {
    value.as_str().map_or(Value::Null, |amount| json!(amount.parse::<f64>().unwrap()))
}

fn yes(value: &Value) -> &str {
    if value == true { "yes" } else { "no" }
}

#[test]
fn the_use_of_stock_sizes_is_that_of_the_rows() {
    let run = run();
    let rows = run.list("stock_use").iter().map(|row| {
        let colors: Vec<&str> = row["colors"].as_array().unwrap().iter().map(|color| color.as_str().unwrap()).collect();
        let mut row = row.clone();
        row["beside"] = json!({
            "colors": colors.join(", "), "price": money(&row["price"]), "one_more": money(&row["one_more_saves"]),
            "last": money(&row["last_saves"]), "proven": yes(&row["proven"]),

        });
        row
    });
    let rows: Vec<Value> = rows.collect();
    assert_eq!(rows.len(), 3);
    check(STOCK, &[Table::under(&run, "Options compared", (0, "Product"), rows)]);
}

#[test]
fn what_covers_less_is_that_of_the_rows() {
    let run = run();
    let rows = run.list("less_cover").iter().map(|row| {
        let mut row = row.clone();
        row["beside"] = json!({
            "price": money(&row["price"]), "made_price": money(&row["made_price"]), "saves": money(&row["saves"]),
            "taken": yes(&row["taken"]),
        });
        row
    });
    let rows: Vec<Value> = rows.collect();
    assert!(rows.iter().any(|row| row["taken"] == true) && rows.iter().any(|row| row["taken"] == false));
    check(LESS_COVER, &[Table::under(&run, "Options compared", (0, "Opening"), rows)]);
}

#[test]
fn a_project_that_wants_no_stock_has_nothing_to_compare() {
    let surveys = crate::support::surveys(&[("survey.xlsx", &SCARCE.replace("| yes", "| no"))]);
    let run = Run::of("made", pipeline::understand(&surveys.grids, surveys.sheets, None).unwrap());
    assert!(!run.package.order.contains(&"Options compared".to_owned()));
    assert!(run.list("stock_use").is_empty() && run.list("less_cover").is_empty());
}
