//! Headings of openings: in every mess that a survey comes in, and with a unit in every way to write one.

use super::cells::{odd_cells, spoil};
use super::surveys::{Job, of_messes};
use super::units::{FORMS, in_unit};
use super::{hold, texts};
use crate::support::chance::Chance;
use sillbook::grid::{Grid, Value};
use sillbook::length::Length;
use sillbook::schema::Column;
use sillbook::schema::openings::{HANDLE, HEIGHT, RECESS_DEPTH, SILL_HEIGHT, WIDTH};

const ROUNDS: u64 = 30;
const ROUNDS_OF_UNITS: u64 = 100;

#[test]
fn any_headings_are_taken_or_asked_about() {
    let (sound, odd) = (of_messes(), odd_cells());
    let made = move |chance: &mut Chance| {
        let mut job = sound[chance.of(sound.len())].clone();
        let at = chance.of(job.grids.len());
        for _ in 0..1 + chance.of(3) {
            spoil_heading(&mut job.grids[at], chance);
        }
        if chance.of(3) == 0 {
            spoil(&mut job.grids[at], |_| true, &odd, chance);
        }
        job
    };
    hold(ROUNDS, made, |job| job.fault());
}

/// Spoils a text in the first rows of a sheet.
fn spoil_heading(grid: &mut Grid, chance: &mut Chance) {
    let at = chance.of(grid.sheets.len());
    let Some(sheet) = grid.sheets.get_mut(at) else { return };
    let row = chance.of(sheet.rows.len().min(3));
    let Some(row) = sheet.rows.get_mut(row) else { return };
    let cell = chance.of(row.cells.len());
    if let (_, Value::Text(text)) = &mut row.cells[cell] {
        *text = texts::spoilt(text, chance).into();
    }
}

/// What is measured, and how it is in millimeters: a length that every unit writes without an end.
const MEASURED: [(&Column, &str); 5] = [
    (&WIDTH, "1524"),
    (&HEIGHT, "1828.8"),
    (&RECESS_DEPTH, "152.4"),
    (&SILL_HEIGHT, "762"),
    (&HANDLE, "76.2"),
];

/// A name of a column as people write headings: in other letters, with odd spaces, and with a unit.
fn heading(column: &Column, unit: &str, chance: &mut Chance) -> String {
    let names: Vec<&str> = column.names().filter(|name| name.is_ascii()).collect();
    let name = if chance.of(2) == 0 { column.name } else { names[chance.of(names.len())] };
    let name = match chance.of(4) {
        0 => name.to_uppercase(),
        1 => name.to_lowercase(),
        _ => name.to_owned(),
    };
    let name = name.replace(' ', ["  ", "\u{a0}", " ", "\n", " "][chance.of(5)]);
    let space = ["", " ", "  ", "\u{a0}", "\n"][chance.of(5)];
    let (open, close) = [("(", ")"), ("[", "]"), ("( ", " )"), ("(", ")"), ("(in ", ")")][chance.of(5)];
    format!("{name}{space}{open}{unit}{close}{}", ["", " ", "\u{a0}"][chance.of(3)])
}

/// A survey of one opening, its lengths in units that its headings name.
fn with_units(chance: &mut Chance) -> Job {
    let mut job = Job::of("[Openings]\nOpening | Mount\nW1 | inside\nW2 | inside");
    let of_all = chance.of(FORMS.len());
    for (place, (column, mm)) in (2..).zip(MEASURED) {
        let (unit, words) = FORMS[if chance.of(4) > 0 { of_all } else { chance.of(FORMS.len()) }];
        let heading = heading(column, words[chance.of(words.len())], chance);
        let rows = &mut job.grids[0].sheets[0].rows;
        rows[0].cells.push((place, Value::Text(heading.into())));
        for row in &mut rows[1..] {
            let number = in_unit(mm, unit);
            let is_text = chance.of(4) == 0;
            let value = if is_text { Value::Text(number.to_string().into()) } else { Value::Number(number) };
            row.cells.push((place, value));
        }
    }
    job
}

/// What was measured of an opening, in the order of [`MEASURED`].
fn lengths_of(facts: &sillbook::survey::Facts) -> [Option<Length>; 5] {
    let given = |given: Option<sillbook::place::Given<Length>>| given.map(|given| given.value);
    [
        Some(facts.width.least().value),
        Some(facts.height.least().value),
        given(facts.recess_depth),
        given(facts.sill),
        given(facts.handle),
    ]
}

#[test]
fn a_unit_in_a_heading_is_that_of_its_column() {
    hold(ROUNDS_OF_UNITS, with_units, |job| {
        let Ok(input) = job.read() else { return None };
        let sheet = &job.grids[0].sheets[0];
        for opening in &input.survey.openings {
            let Some(facts) = opening.facts.as_deref() else { continue };
            for ((place, (column, mm)), found) in (2..).zip(MEASURED).zip(lengths_of(facts)) {
                let asked = |at: sillbook::place::CellRef| {
                    at.column == place && (at.row == 0 || at.row == opening.who.at.row)
                };
                let is_asked = input.queries.iter().any(|query| query.at.is_some_and(asked));
                let is_carried =
                    input.survey.columns.iter().any(|read| read.at.column == place && read.taken.is_none());
                let meant = Length::from_nm(
                    (in_unit(mm, "mm") * rust_decimal::Decimal::from(1_000_000)).try_into().unwrap(),
                );
                if found != Some(meant) && !is_asked && !is_carried {
                    let heading = sheet.rows[0].value(place);
                    return Some(format!("reads {} under {heading:?} as {found:?}", column.name));
                }
            }
        }
        None
    });
}

#[test]
fn most_units_in_headings_are_read() {
    let mut chance = Chance::new(1);
    let is_read = |job: Job| {
        let read = job.read().ok();
        read.is_some_and(|input| {
            input.survey.openings.iter().all(|opening| {
                opening.facts.as_deref().is_some_and(|facts| lengths_of(facts).iter().all(Option::is_some))
            })
        })
    };
    let read = (0..100).filter(|_| is_read(with_units(&mut chance))).count();
    assert!(read >= 30, "{read} of 100");
}
