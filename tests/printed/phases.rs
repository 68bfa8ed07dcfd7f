//! `Phases`: each phase's cells by their place, then what no phase takes, then all together.

use rust_decimal::Decimal;
use serde_json::{Value, json};
use sillbook::pipeline;

use super::Is::{Count, Day, Money, Text};
use super::table::{self, Table};
use super::{Figure, RUNS, Run, figure, surveys};
use crate::support::remembered;

const FIGURES: &[Figure] = &[
    figure("Phase", Text, "name"),
    figure("Order number", Text, "order_number"),
    figure("Deliver to", Text, "deliver_to"),
    figure("Openings", Count, "openings"),
    figure("Blinds", Count, "blinds"),
    figure("Held", Count, "held"),
    figure("Without a price", Count, "unpriced"),
    figure("Amounts are", Text, "beside.amounts"),
    figure("Direct cost", Money, "direct"),
    figure("Overhead, profit, contingency", Money, "overheads"),
    figure("Tax", Money, "tax"),
    figure("Whole share", Money, "whole"),
    figure("Committed", Money, "committed"),
    figure("Open", Money, "open"),
    figure("Remade", Money, "remade"),
    figure("Budget", Money, "budget"),
    figure("Against the budget", Text, "budget_in_words"),
    figure("Order date", Day, "order_date"),
    figure("Lead days at most", Count, "lead_days"),
    figure("Arrives", Day, "arrives"),
    figure("Need by", Day, "need_by"),
    figure("Against the need", Text, "arrival_in_words"),
];

/// The rows of the document, held to its openings, and below them their sums.
fn rows(run: &Run) -> Vec<Value> {
    let mut rows = run.list("phases").to_vec();
    let openings = run.list("openings");
    for row in &mut rows {
        let known = row["known_in_full"] == true;
        row["beside"] = json!({ "amounts": if known { "in full" } else { "KNOWN SO FAR" } });
        if row["phase"].is_null() {
            continue;
        }
        let of_phase = || openings.iter().filter(|opening| opening["phase"] == row["phase"]);
        let count = |held: Option<bool>| -> u64 {
            let wanted =
                of_phase().filter(|opening| held.is_none_or(|held| held == (opening["state"] == "held")));
            wanted.map(|opening| opening["quantity"].as_u64().unwrap()).sum()
        };
        let counts = [count(None), count(Some(false)), count(Some(true))].map(Some);
        assert_eq!(
            ["openings", "blinds", "held"].map(|key| row[key].as_u64()),
            counts,
            "{}: {row}",
            run.name
        );
    }
    let count = |key: &str| rows.iter().filter_map(|row| row[key].as_u64()).sum::<u64>();
    let sum = |key: &str| {
        let money = rows.iter().map(|row| row[key].as_str().unwrap().parse::<Decimal>().unwrap());
        money.sum::<Decimal>().to_string()
    };
    let cost = &run.document["cost"];
    let amounts = rows.last().map(|row| row["beside"].clone());
    let mut all = json!({ "name": "all together", "beside": amounts });
    ["openings", "blinds", "held", "unpriced"].iter().for_each(|key| all[*key] = count(key).into());
    ["direct", "overheads", "tax", "whole", "committed", "open", "remade"]
        .iter()
        .for_each(|key| all[*key] = sum(key).into());
    ["order_number", "deliver_to", "budget_in_words", "arrival_in_words"]
        .iter()
        .for_each(|key| all[*key] = "".into());
    assert_eq!(all["whole"], cost["known_total"], "{}", run.name);
    rows.push(all);
    rows
}

/// The survey in inches once a blind of it is ordered and another made again.
fn ordered() -> Run {
    let typed = |row: &Value| match row["opening"].as_str() {
        Some(name) if name.contains("D2") => vec![("state", "ordered".to_owned())],
        Some(name) if name.contains("W5") => vec![("state", "remake".to_owned())],
        _ => Vec::new(),
    };
    let text = format!("{}{}", surveys::INCHES, remembered::blinds(&RUNS[0].document, typed));
    let surveys = crate::support::surveys(&[("survey.xlsx", &text)]);
    Run::of("ordered", pipeline::understand(&surveys.grids, surveys.sheets, None).unwrap())
}

#[test]
fn every_column_of_the_phases_shows_its_number() {
    let ordered = ordered();
    let of_phases = RUNS.iter().chain([&ordered]).filter(|run| !run.list("phases").is_empty());
    let tables: Vec<Table<'_>> =
        of_phases.map(|run| Table::under(run, "Phases", (0, "Phase"), rows(run))).collect();
    assert!(!tables.is_empty());
    table::check(FIGURES, &tables);
}
