//! The days of the job: every blind that does not hang is planned once, and no day is over its hours.

use std::collections::{BTreeMap, BTreeSet};

use rust_decimal::Decimal;
use serde_json::{Value, json};

use super::check::{Check, add, first};
use super::document::{Run, decimal, rows, text};

pub const CHECKS: &[Check] = &[
    Check {
        name: "an opening whose blinds do not all hang is in one visit, a held one waits in one, any other in none",
        faults: planned_once,
        plants: &[
            ("a unit left out", |document| {
                document["fitting_days"].as_array_mut().unwrap().remove(0);
            }),
            ("a unit planned twice", |document| {
                let visits = document["fitting_days"].as_array_mut().unwrap();
                visits.push(visits[0].clone());
            }),
            ("a fitted unit planned", |document| {
                let name = document["fitting_days"][0]["names"][0].clone();
                for blind in document["blinds"].as_array_mut().unwrap() {
                    if blind["opening"] == name {
                        blind["state"] = json!("fitted");
                    }
                }
            }),
            ("a held opening that nobody waits for", |document| {
                let visit = first(document, "/fitting_days", |row| !rows(&row["held_names"]).is_empty());
                visit["held_names"] = json!([]);
            }),
        ],
    },
    Check {
        name: "no day is over the hours of its fitters, unless a visit keeps it or is longer than a day",
        faults: over_hours,
        plants: &[
            ("a day over its hours", |document| {
                add(&mut first(document, "/fitting_days", |row| row["days"] == 1)["minutes"], 2_000.0);
            }),
            ("a day of nobody", |document| {
                first(document, "/fitting_days", |row| row["days"] == 1)["fitters"] = json!(0);
            }),
        ],
    },
    Check {
        name: "the minutes of all visits, minus those that are not charged, are the minutes of fitting that are charged",
        faults: minutes_charged,
        plants: &[
            ("a minute more", |document| {
                add(&mut first(document, "/fitting_days", |row| !row["minutes"].is_null())["minutes"], 1.0);
            }),
            ("a minute that is charged and not planned", |document| {
                add(&mut first(document, "/cost/lines", |row| row["section"] == "fitting")["quantity"], 1.0);
            }),
        ],
    },
];

fn planned_once(run: &Run<'_>) -> Vec<String> {
    let mut planned: BTreeMap<&str, u32> = BTreeMap::new();
    let mut waiting: BTreeMap<&str, u32> = BTreeMap::new();
    let mut visits: BTreeSet<[&str; 4]> = BTreeSet::new();
    let mut faults = Vec::new();
    for row in run.rows("fitting_days") {
        rows(&row["names"]).iter().for_each(|name| *planned.entry(text(name)).or_default() += 1);
        rows(&row["held_names"]).iter().for_each(|name| *waiting.entry(text(name)).or_default() += 1);
        if !visits.insert(["phase", "building", "unit", "visit"].map(|key| text(&row[key]))) {
            faults.push(format!("two such visits: {row}"));
        }
    }
    for row in run.rows("openings") {
        let blinds = || run.rows("blinds").iter().filter(|blind| blind["opening"] == row["name"]);
        let hangs = blinds().next().is_some() && blinds().all(|blind| blind["state"] == "fitted");
        let is_held = row["state"] == "held";
        let wanted = (u32::from(!is_held && !hangs), u32::from(is_held));
        let count = |of: &BTreeMap<&str, u32>| of.get(text(&row["name"])).copied().unwrap_or(0);
        if (count(&planned), count(&waiting)) != wanted {
            faults.push(format!("{} is planned {} times", row["name"], count(&planned)));
        }
    }
    faults
}

fn over_hours(run: &Run<'_>) -> Vec<String> {
    // Minutes, minutes there are, and whether the day is kept or a visit goes on.
    let mut days: BTreeMap<u64, (Decimal, Decimal, bool)> = BTreeMap::new();
    for row in run.rows("fitting_days") {
        let Some(day) = row["day"].as_u64() else { continue };
        let hours =
            run.input.rules.phase(text(&row["phase"])).map_or(Decimal::from(8), |phase| phase.hours_a_day);
        let fitters = Decimal::from(row["fitters"].as_u64().unwrap());
        let (minutes, has, excused) = days.entry(day).or_default();
        *minutes += decimal(&row["minutes"]).unwrap();
        *has = hours * fitters * Decimal::from(60);
        *excused |= row["keep"] == true || row["days"] != 1;
    }
    let over = days.into_iter().filter(|(_, (minutes, has, excused))| !excused && minutes > has);
    over.map(|(day, (minutes, has, _))| format!("day {day}: {minutes} of {has} minutes")).collect()
}

fn minutes_charged(run: &Run<'_>) -> Vec<String> {
    let unknown = |row: &&Value| row["minutes"].is_null() && !rows(&row["names"]).is_empty();
    let hangs = run.rows("blinds").iter().any(|blind| blind["state"] == "fitted");
    if hangs || run.rows("fitting_days").iter().any(|row| unknown(&row)) {
        return Vec::new();
    }
    let sum =
        |key: &str| -> Decimal { run.rows("fitting_days").iter().filter_map(|row| decimal(&row[key])).sum() };
    let fitting = rows(&run.document["cost"]["lines"]).iter().filter(|line| line["section"] == "fitting");
    let charged: Decimal = fitting.filter_map(|line| decimal(&line["quantity"])).sum();
    let planned = sum("minutes") - sum("not_charged");
    if planned == charged { Vec::new() } else { vec![format!("{planned} planned, {charged} charged")] }
}
