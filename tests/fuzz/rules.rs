//! Rule sheets: Products, Materials, Fixings, Bars, Offcuts, Stock sizes, Prices, Rates, Phases, Options, Project.

use rust_decimal::Decimal;
use sillbook::grid::Value;
use sillbook::length::Unit;
use sillbook::rules::Rules;
use sillbook::rules::columns::RULE_SHEETS;
use sillbook::rules::columns::phases::PHASES;
use sillbook::schema::{Column, Kind, Table};
use sillbook::tables::{self, Datum};

use super::cells::{odd_cells, put, spoil};
use super::surveys::{Job, of_queries};
use super::units::{FORMS, in_unit};
use super::{hold, texts};
use crate::support::chance::Chance;

const ROUNDS: u64 = 25;
const ROUNDS_OF_UNITS: u64 = 60;

#[test]
fn any_rule_sheets_are_taken_or_refused() {
    // A survey with a row on every sheet, more often than each of the small ones.
    let every = Job::of(include_str!("rules.txt"));
    assert_eq!(every.fault_or_refusal(), None);
    let mut sound = of_queries(&["rules", "sourcing", "cost", "phases", "days", "fitting"]);
    sound.retain(|job| job.earlier.is_none());
    let odd = odd_cells();
    let made = move |chance: &mut Chance| {
        let mut job = if chance.of(4) > 0 { every.clone() } else { sound[chance.of(sound.len())].clone() };
        let at = chance.of(job.grids.len());
        for _ in 0..2 + chance.of(4) {
            type_rule(&mut job, at, &odd, chance);
        }
        if chance.of(3) == 0 {
            spoil(&mut job.grids[at], |name| name != "Openings", &odd, chance);
        }
        if chance.of(8) == 0 {
            spoil(&mut job.grids[at], |name| name == "Openings", &odd, chance);
        }
        job
    };
    hold(ROUNDS, made, |job| job.fault());
}

/// The sheets of rows whose rules are typed over.
fn rule_sheets() -> impl Iterator<Item = &'static Table> {
    RULE_SHEETS.into_iter().chain([&PHASES])
}

/// Types one rule: under a heading that its sheet has, or another of its columns, what may be meant there.
fn type_rule(job: &mut Job, grid: usize, odd: &[Value], chance: &mut Chance) {
    let sheets = &mut job.grids[grid].sheets;
    let at = chance.of(sheets.len());
    let Some(sheet) = sheets.get_mut(at) else { return };
    let Some(table) = rule_sheets().find(|table| tables::is_named(sheet, table.sheet)) else { return };
    if sheet.rows.len() < 2 {
        return;
    }
    let column = table.columns[chance.of(table.columns.len())];
    let is_under = |(_, value): &&(u16, Value)| matches!(value, Value::Text(text) if **text == *column.name);
    let place = sheet.rows[0].cells.iter().find(is_under).map(|(place, _)| *place);
    let place = place.unwrap_or_else(|| {
        let next = sheet.rows[0].cells.last().map_or(0, |(last, _)| last + 1);
        put(&mut sheet.rows[0], next, Value::Text(column.name.into()));
        next
    });
    let row = 1 + chance.of(sheet.rows.len() - 1);
    let value = if chance.of(4) == 0 { odd[chance.of(odd.len())].clone() } else { likely(column, chance) };
    put(&mut sheet.rows[row], place, value);
}

/// What may stand in a column, in a way of its own, or with something that does not belong.
fn likely(column: &Column, chance: &mut Chance) -> Value {
    const TAILS: [&str; 16] =
        ["", "", "", " ", "  ", " in", " mm", "cm", " lbf", " N", "%", " kg", "\"", " each", "?", "\u{a0}mm"];
    let words: &[&str] = match column.kind {
        Kind::Length { .. } | Kind::LengthOr { .. } => {
            &["1/8", "3/8", "2 1/2", "40", "60", "0", "5800", "0.19"]
        }
        Kind::Whole { .. } => &["0", "1", "2", "20", "1.5"],
        Kind::Number { .. } | Kind::Money | Kind::Percent { .. } => {
            &["0", "0.3", "8.25", "1,5", "1 450", "99"]
        }
        Kind::Date => &["2026-03-02", "3/4/26", "2 March 2026"],
        Kind::Choice(words) | Kind::Choices(words) => words.own,
        _ => &["white", "rail", "louver-89", "wide", "white, cream", "each", "1"],
    };
    let word = format!("{}{}", words[chance.of(words.len())], TAILS[chance.of(TAILS.len())]);
    match (word.parse::<Decimal>(), chance.of(6)) {
        (Ok(number), 0..=3) => Value::Number(number),
        (_, 4) => Value::Text(texts::spoilt(&word, chance).into()),
        _ => Value::Text(word.into()),
    }
}

/// The survey of every rule sheet, and the same with some of its lengths in other units.
fn in_other_units(chance: &mut Chance) -> Job {
    let mut job = Job::of(include_str!("rules.txt"));
    for sheet in &mut job.grids[0].sheets {
        let Some(table) = rule_sheets().find(|table| tables::is_named(sheet, table.sheet)) else { continue };
        let Some((head, rows)) = sheet.rows.split_first_mut() else { continue };
        for (place, heading) in &head.cells {
            let Value::Text(heading) = heading else { continue };
            let is_it =
                |column: &&&Column| column.name == &**heading && matches!(column.kind, Kind::Length { .. });
            let Some(column) = table.columns.iter().find(is_it) else { continue };
            for row in rows.iter_mut() {
                if chance.of(2) == 0 {
                    continue;
                }
                let Some(value) = row.value(*place) else { continue };
                let Ok(Datum::Length(length)) = tables::read_value(value, column, None, Unit::Inch) else {
                    continue;
                };
                let mm = Decimal::new(length.nm(), 6).to_string();
                let written = |number: Decimal| match number.scale() {
                    // Three digits behind a point may be thousands.
                    3 => format!("{number}0"),
                    _ => number.to_string(),
                };
                let (unit, words) = FORMS[1 + chance.of(3)];
                let word = words[chance.of(words.len())];
                let space = ["", " ", "\u{a0}", "  "][chance.of(4)];
                let number = written(in_unit(&mm, unit));
                put(row, *place, Value::Text(format!("{number}{space}{word}").into()));
            }
        }
    }
    job
}

/// All that a length says in them.
fn meant(rules: &Rules) -> String {
    let Rules { products, stock_sizes, materials, bars, offcuts, fixings, phases, .. } = rules;
    format!("{products:?}\n{stock_sizes:?}\n{materials:?}\n{bars:?}\n{offcuts:?}\n{fixings:?}\n{phases:?}")
}

#[test]
fn a_rule_in_another_unit_is_the_same_rule() {
    let sound = Job::of(include_str!("rules.txt")).read().unwrap();
    let as_typed = meant(&sound.rules);
    hold(ROUNDS_OF_UNITS, in_other_units, move |job| match job.read() {
        Ok(input) => (meant(&input.rules) != as_typed).then(|| {
            let now = meant(&input.rules);
            let differ = now.lines().zip(as_typed.lines()).find(|(now, then)| now != then);
            format!("has other rules: {differ:?}")
        }),
        Err(error) => Some(format!("is refused: {error}")),
    });
}
