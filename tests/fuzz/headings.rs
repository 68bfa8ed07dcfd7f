//! Headings of openings, in every mess that a survey comes in.

use super::cells::{odd_cells, spoil};
use super::surveys::of_messes;
use super::{hold, texts};
use crate::support::chance::Chance;
use sillbook::grid::{Grid, Value};

const ROUNDS: u64 = 100;

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
