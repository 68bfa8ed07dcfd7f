//! What a fit-out holds that only a run which takes it up carries on.

use super::{inputs, is_or_continues, lacking, visit};
use crate::grid::{Grid, Sheet};
use crate::length::Unit;
use crate::place::Sheets;
use crate::schema::answers::{ANSWERS, BY, VALUE};
use crate::schema::blinds::{BLINDS, TYPED};
use crate::schema::cost_summary::COST_SUMMARY;
use crate::schema::fitting_days::{self, FITTING_DAYS};
use crate::schema::surveyed::AS_SURVEYED;
use crate::schema::{Column, Table};
use crate::tables;

/// The sheet of answers to come.
pub(super) const QUERIES: &str = "Queries";
/// A sheet that a fit-out has if it took up another.
pub(super) const CHANGES: &str = "Changes";

/// What would be lost with a fit-out, in words; empty if a new run makes it again as it is.
pub fn typed_in(grid: &Grid, sheets: &Sheets) -> Vec<String> {
    let on = |sheet: &str| format!("what is typed on {sheet}");
    let mut lost = Vec::new();
    // Its own sheets under other names, or with other headings, may hold anything.
    let is_whole =
        named(grid, AS_SURVEYED.sheet).next().is_none() || named(grid, BLINDS.sheet).next().is_some();
    if !is_whole || lacking(grid).is_some() || is_filled(grid, BLINDS.sheet, &BLINDS, &TYPED) {
        lost.push(on(BLINDS.sheet));
    }
    let days = || named(grid, FITTING_DAYS.sheet);
    if days().any(|sheet| visit::lacking(sheet).is_some())
        || is_filled(grid, FITTING_DAYS.sheet, &FITTING_DAYS, &fitting_days::TYPED)
    {
        lost.push(on(FITTING_DAYS.sheet));
    }
    if is_filled(grid, QUERIES, &ANSWERS, &[&VALUE, &BY]) {
        lost.push(on(QUERIES));
    }
    // What cannot be read there was typed by someone.
    if inputs::read(grid, sheets).map_or(true, |typed| !typed.is_empty()) {
        lost.push(on(COST_SUMMARY.sheet));
    }
    if named(grid, CHANGES).next().is_some() {
        lost.push("what it took up from an earlier fit-out".to_owned());
    }
    lost
}

/// Whether anything stands in one of these columns.
fn is_filled(grid: &Grid, name: &str, table: &'static Table, columns: &[&Column]) -> bool {
    named(grid, name).any(|sheet| {
        let rows = tables::read(sheet, table, Unit::Millimeter).rows;
        rows.iter().any(|row| columns.iter().any(|column| row.entry(column).is_some()))
    })
}

fn named<'g>(grid: &'g Grid, name: &str) -> impl Iterator<Item = &'g Sheet> {
    grid.sheets.iter().filter(move |sheet| is_or_continues(&sheet.name, name))
}
