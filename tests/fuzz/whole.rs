//! Surveys that are in order, with rule sheets, stock, shared sizes, phases, options and days by chance: each is
//! worked out, and every invariant holds of it; and again after some of its blinds were ordered.

use std::cell::RefCell;

use sillbook::grid::{Row, Value};
use sillbook::schema::Column;
use sillbook::schema::blinds::{BLINDS, BlindState, DO, NOTE, ORDERED_ON, PAID_BY, STATE};

use super::cells::put;
use super::hold;
use super::surveys::Job;
use crate::invariants::surveys::by_chance;
use crate::support::chance::Chance;
use crate::support::remembered;

const ROUNDS: u64 = 5;
const ROUNDS_ORDERED: u64 = 5;

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

/// Openings by chance and how many, with rule sheets; and the rule sheets alone.
struct Written {
    seed: u64,
    rows: usize,
    project: String,
    rules: String,
}

impl Written {
    /// The survey, with so many openings.
    fn text(&self, rows: usize) -> String {
        format!("{}{}", by_chance(self.seed, rows, &self.project), self.rules)
    }
}

fn written(chance: &mut Chance) -> Written {
    let mut project = "Project | Quay House\n".to_owned();
    for (item, values) in ITEMS {
        if chance.of(2) == 0 {
            project += &format!("{item} | {}\n", values[chance.of(values.len())]);
        }
    }
    let (seed, rows, mut rules) = (chance.below(1 << 40), 4 + chance.of(20), String::new());
    let sheets = include_str!("rules.txt").split("\n[").skip(1);
    for sheet in sheets.filter(|sheet| !sheet.starts_with("Openings]")) {
        if chance.of(2) == 0 {
            rules += &format!("[{}\n", some_rows(sheet, chance));
        }
    }
    Written { seed, rows, project, rules }
}

fn survey(chance: &mut Chance) -> Job {
    let written = written(chance);
    Job::of(&written.text(written.rows))
}

/// What people may type beside a blind, by its column.
fn typed(chance: &mut Chance) -> Vec<(&'static Column, &'static str)> {
    let mut typed = Vec::new();
    if chance.of(2) == 0 {
        let states = BlindState::WORDS.own;
        typed.push((&STATE, states[chance.of(states.len())]));
        typed.push((&ORDERED_ON, "2026-03-02"));
        if chance.of(4) == 0 {
            typed.push((&DO, ["use as it is", "make again"][chance.of(2)]));
        }
        if chance.of(4) == 0 {
            typed.push((&PAID_BY, ["us", "maker", "client"][chance.of(3)]));
        }
    }
    if chance.of(6) == 0 {
        typed.push((&NOTE, "third box"));
    }
    typed
}

/// A survey after some of its blinds were ordered: as it was, or with a few openings more or fewer. What is
/// remembered stands on its own sheet `Blinds`, or in the fit-out that was written.
fn ordered(chance: &mut Chance) -> Job {
    let written = written(chance);
    let before = Job::of(&written.text(written.rows));
    let now = written.text((written.rows + chance.of(3)).saturating_sub(chance.of(3)).max(1));
    if chance.of(2) == 0 {
        let hand = RefCell::new(chance);
        let blinds = remembered::blinds(&before.document(), |row| {
            let typed = typed(&mut hand.borrow_mut());
            let is_there = row["what"] != "line gone";
            let typed = typed.into_iter().filter(|_| is_there);
            typed.map(|(column, value)| (column.key, value.to_owned())).collect()
        });
        return Job::of(&format!("{now}{blinds}"));
    }
    let mut earlier = before.fit_out();
    let sheet = earlier.sheets.iter_mut().find(|sheet| sheet.name == BLINDS.sheet).unwrap();
    let place = |row: &Row, column: &Column| {
        let is_it = |(_, value): &&(u16, Value)| matches!(value, Value::Text(text) if **text == *column.name);
        row.cells.iter().find(is_it).map(|(place, _)| *place)
    };
    let head = sheet.rows.iter().position(|row| place(row, &STATE).is_some()).unwrap();
    let (above, rows) = sheet.rows.split_at_mut(head + 1);
    for row in rows
        .iter_mut()
        .filter(|row| row.value(0).is_some_and(|value| *value != Value::Text("line gone".into())))
    {
        for (column, value) in typed(chance) {
            let is_date = column.key == ORDERED_ON.key;
            let value = if is_date { Value::Date(value.into()) } else { Value::Text(value.into()) };
            put(row, place(&above[head], column).unwrap(), value);
        }
    }
    Job { earlier: Some(earlier), ..Job::of(&now) }
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

#[test]
fn every_invariant_holds_of_whole_surveys_with_orders() {
    hold(ROUNDS_ORDERED, ordered, |job| job.fault_or_refusal());
}
