//! Surveys that are in order, with rule sheets, stock, shared sizes, phases, options and days by chance: each is
//! worked out, and every invariant holds of it.

use super::hold;
use super::surveys::Job;
use crate::invariants::surveys::by_chance;
use crate::support::chance::Chance;

const ROUNDS: u64 = 20;

/// Items of `Project`, each with what it may be; any may be left out.
const ITEMS: [(&str, &[&str]); 18] = [
    ("Cost basis", &["make", "buy"]),
    ("Currency", &["USD", "JPY", "EUR"]),
    ("Merge sizes", &["no", "1/8", "1/2", "1"]),
    ("Stock sizes", &["yes", "no"]),
    ("Accept less cover", &["1/2", "1", "4"]),
    ("Order date", &["2026-03-02"]),
    ("Need by", &["2026-03-10", "2026-04-20"]),
    ("Cut by phase", &["yes", "no"]),
    ("Spare louvers %", &["0", "3", "50"]),
    ("Spare parts %", &["0", "2"]),
    ("Overhead %", &["0", "8", "12.5"]),
    ("Profit %", &["7.5"]),
    ("Contingency %", &["3"]),
    ("Tax %", &["8.25%", "20"]),
    ("Tax on", &["all", "materials"]),
    ("Ceiling height", &["96", "120"]),
    ("Work days", &["Mon-Fri", "Mon, Wed"]),
    ("Floors finished", &["yes", "no"]),
];

fn survey(chance: &mut Chance) -> Job {
    let mut project = String::new();
    for (item, values) in ITEMS {
        if chance.of(2) == 0 {
            project += &format!("{item} | {}\n", values[chance.of(values.len())]);
        }
    }
    let mut text = by_chance(chance.below(1 << 40), 4 + chance.of(20), &project);
    let sheets = include_str!("rules.txt").split("\n[").skip(1);
    for sheet in sheets.filter(|sheet| !sheet.starts_with("Openings]")) {
        if chance.of(2) == 0 {
            text += &format!("[{}\n", some_rows(sheet, chance));
        }
    }
    Job::of(&text)
}

/// A sheet with its headings and most of its rows.
fn some_rows(sheet: &str, chance: &mut Chance) -> String {
    let kept = sheet.lines().enumerate().filter(|(row, _)| *row < 2 || chance.of(5) > 0);
    kept.map(|(_, line)| line).collect::<Vec<_>>().join("\n")
}

#[test]
fn every_invariant_holds_of_whole_surveys() {
    hold(ROUNDS, survey, |job| job.fault_or_refusal());
}
