//! The survey's own rule sheets as raw rows. Several surveys must agree in what they write and in
//! what they leave out; a sheet that one of them has not is settled before (`left_out`).
//!
//! Surveys of one run: an item of `Project` that one leaves blank and another fills is a check at
//! both; who and when (site, client, date) may differ. A survey without that sheet takes the
//! other's, with a note.

use std::collections::hash_map::Entry;
use std::collections::{HashMap, HashSet};

use super::columns::options::OPTIONS;
use super::columns::phases::PHASES;
use super::columns::prices::PRICES;
use super::columns::project::{COLUMNS as PROJECT_ITEMS, PROJECT, WHO_AND_WHEN};
use super::columns::rates::RATES;
use super::left_out::{filled, first_cell};
use super::queries::{Findings, RuleQuery};
use super::raw::{NOTE, Origin, RawCell, RawRow};
use super::{price, rates};
use crate::grid::{Grid, Sheet, Value};
use crate::length::Unit;
use crate::name::{self, compared, same_name};
use crate::place::CellRef;
use crate::schema::{Column, Form, Table};
use crate::tables::{self, Datum, ReadTable, TableRow};

/// The rows of a sheet that goes field by field: one row for each item, in order of first mention.
pub(super) fn by_field(
    grids: &[Grid],
    table: &'static Table,
    bare: Unit,
    findings: &mut Findings,
) -> Vec<RawRow> {
    let mut merged: Vec<RawRow> = Vec::new();
    let mut known: HashMap<String, usize> = HashMap::new();
    let mut sheets = sheets(grids, table, bare, findings);
    for (_, rows) in &mut sheets {
        *rows = without_repeats(std::mem::take(rows), findings);
    }
    let named: Vec<Items> = sheets.iter().map(|(first, rows)| Items::of(*first, rows)).collect();
    for row in sheets.iter().flat_map(|(_, rows)| rows) {
        match known.entry(compared(&row.item)) {
            Entry::Occupied(place) => {
                let place = *place.get();
                merged[place] = agreed(&merged[place], row, findings);
            }
            Entry::Vacant(place) => {
                items_left_out(row, place.key(), &named, findings);
                place.insert(merged.len());
                merged.push(row.clone());
            }
        }
    }
    merged
}

/// The items that one survey's sheet has, as names are compared.
struct Items {
    first_cell: CellRef,
    names: HashSet<String>,
}

impl Items {
    fn of(first_cell: CellRef, rows: &[RawRow]) -> Items {
        Items { first_cell, names: rows.iter().map(|row| compared(&row.item)).collect() }
    }
}

/// A stop at an item, and at each survey's sheet that has it not.
fn items_left_out(row: &RawRow, name: &str, sheets: &[Items], findings: &mut Findings) {
    let mut lacking = sheets.iter().filter(|sheet| !sheet.names.contains(name)).peekable();
    if row.table.form != Form::Rows || is_of_phases(row.table) || lacking.peek().is_none() {
        return;
    }
    let asked = || RuleQuery::LeftOut { sheet: row.table.sheet };
    findings.raise(asked(), row.at, row.item.clone());
    for sheet in lacking {
        findings.raise(asked(), Some(sheet.first_cell), format!("no {}", row.item));
    }
}

/// The rows of a sheet that replaces the whole built-in list; `None` if no survey has it.
pub(super) fn whole_list(
    grids: &[Grid],
    table: &'static Table,
    bare: Unit,
    findings: &mut Findings,
) -> Option<Vec<RawRow>> {
    let mut lists = sheets(grids, table, bare, findings).into_iter().map(|(_, rows)| rows);
    let first = lists.next()?;
    for other in lists {
        if let Some((one, another)) = first_difference(&first, &other) {
            for at in [one, another].into_iter().flatten() {
                findings.raise(RuleQuery::ListDiffers { sheet: table.sheet }, Some(at), "");
            }
        }
    }
    Some(first)
}

/// One list of rows for each survey that has the sheet, with the sheet's first cell.
fn sheets(
    grids: &[Grid],
    table: &'static Table,
    bare: Unit,
    findings: &mut Findings,
) -> Vec<(CellRef, Vec<RawRow>)> {
    let found = grids.iter().filter_map(|grid| {
        let is_other = |sheet: &&Sheet| tables::is_named(sheet, table.sheet) && !sheet.rows.is_empty();
        for other in grid.sheets.iter().filter(is_other).skip(1) {
            findings.raise(RuleQuery::SheetTwice { sheet: table.sheet }, Some(other.at(0, 0)), &*other.name);
        }
        filled(grid, table)
    });
    let found: Vec<&Sheet> = found.collect();
    found.into_iter().map(|sheet| (sheet.at(0, 0), rows(sheet, table, bare, findings))).collect()
}

fn rows(sheet: &Sheet, table: &'static Table, bare: Unit, findings: &mut Findings) -> Vec<RawRow> {
    let ReadTable { rows, carried, queries, .. } = tables::read(sheet, table, bare);
    findings.queries.extend(queries);
    let names = || table.columns.iter().flat_map(|column| column.names());
    for (heading, at) in carried {
        let nearest = name::nearest(&heading, names()).map(str::to_owned);
        let asked = match table.sheet {
            sheet if sheet == OPTIONS.sheet => RuleQuery::OptionHeading { nearest },
            sheet => RuleQuery::Heading { sheet, nearest },
        };
        findings.raise(asked, Some(at), heading);
    }
    rows.iter().filter_map(|row| raw_row(row, sheet, table, bare, findings)).collect()
}

/// A row as written; none if it does not say what it is about.
fn raw_row(
    row: &TableRow,
    sheet: &Sheet,
    table: &'static Table,
    bare: Unit,
    findings: &mut Findings,
) -> Option<RawRow> {
    let cells: Vec<Option<RawCell>> = table
        .columns
        .iter()
        .map(|column| {
            let entry = row.entry(column)?;
            let from = Origin::Cell(entry.at);
            if let Ok(Datum::Text(text)) = &entry.datum
                && let Some(now) = name_now(table, text)
            {
                return Some(RawCell { datum: Ok(Datum::Text(now.into())), written: now.to_owned(), from });
            }
            let written = written(sheet, entry.at, entry.datum.as_ref().ok(), bare);
            Some(RawCell { datum: entry.datum.clone(), written, from })
        })
        .collect();
    let mut raw = RawRow { table, item: String::new(), at: Some(row.at), cells, example: false };
    let (Form::Rows, Some(name)) = (table.form, table.columns.first()) else { return Some(raw) };
    if is_of_phases(table) || raw.complete(&[name], findings) {
        raw.item = raw.written(name).trim().to_owned();
        Some(raw)
    } else {
        None
    }
}

/// Names of items and wordings of units, each with others that are read as it.
pub(super) type Renamed = &'static [(&'static str, &'static [&'static str])];

/// The name that stands for one of its others.
fn name_now(table: &Table, text: &str) -> Option<&'static str> {
    let renamed: Renamed = match table.sheet {
        sheet if sheet == RATES.sheet => rates::RENAMED,
        sheet if sheet == PRICES.sheet => price::RENAMED,
        _ => &[],
    };
    let known = renamed.iter().find(|(_, others)| others.iter().any(|other| same_name(other, text)));
    known.map(|(now, _)| *now)
}

/// What a cell says, as its reader wrote it; a bare number of a length gets its unit.
fn written(sheet: &Sheet, at: CellRef, datum: Option<&Datum>, bare: Unit) -> String {
    match (sheet.value(at.row, at.column), datum) {
        (Some(Value::Number(_)), Some(Datum::Length(length))) => length.show(bare.shown_in()),
        (Some(Value::Text(text) | Value::Date(text) | Value::Error(text)), _) => text.trim().to_owned(),
        (Some(Value::Number(number)), _) => number.to_string(),
        (Some(Value::Percent(number)), _) => format!("{number} %"),
        (Some(Value::Truth(truth)), _) => truth.to_string(),
        (Some(Value::NoResult) | None, _) => String::new(),
    }
}

/// One survey's rows without those that name an item a second time: which of them holds?
pub(super) fn without_repeats(rows: Vec<RawRow>, findings: &mut Findings) -> Vec<RawRow> {
    let mut known = HashSet::with_capacity(rows.len());
    let (kept, repeated): (Vec<_>, Vec<_>) =
        rows.into_iter().partition(|row| known.insert(compared(&row.item)));
    for row in repeated {
        findings.raise(RuleQuery::Twice { sheet: row.table.sheet }, row.at, row.item);
    }
    kept
}

/// Two surveys' rows of one item as one row; a stop at both cells where they differ.
fn agreed(one: &RawRow, other: &RawRow, findings: &mut Findings) -> RawRow {
    let columns = one.table.columns.iter().zip(one.cells.iter().zip(&other.cells));
    for (column, cells) in columns.filter(|(column, _)| column.key != NOTE) {
        let (a, b) = match cells {
            (Some(a), Some(b)) => (a, b),
            (Some(a), None) => {
                borrowed(column, a, other, findings);
                continue;
            }
            (None, Some(b)) => {
                borrowed(column, b, one, findings);
                continue;
            }
            (None, None) => continue,
        };
        if same_meaning(a, b) {
            continue;
        }
        for cell in [a, b] {
            if says_who(one.table, column) {
                let query = RuleQuery::FirstUsed { rule: column.name };
                findings.raise(query, cell.at(), cell.written.clone());
            } else {
                let query = RuleQuery::Differs { sheet: one.table.sheet, rule: column.name };
                findings.raise(query, cell.at(), cell.written.clone());
            }
        }
    }
    one.over(other)
}

/// Asks where one survey has an item blank that another fills: its prices in one currency must not
/// become those of another in silence. In a rule sheet that is a stop, for there a blank is the
/// built-in rule.
fn borrowed(column: &'static Column, filled: &RawCell, blank: &RawRow, findings: &mut Findings) {
    let is_project = blank.table.form == Form::ItemAndValue;
    if says_who(blank.table, column) || is_project && column.slot == PROJECT_ITEMS.units.slot {
        return;
    }
    let asked = || match is_project {
        true => RuleQuery::Borrowed,
        false => RuleQuery::LeftOut { sheet: blank.table.sheet },
    };
    findings.raise(asked(), filled.at(), format!("{}: {}", column.name, filled.written));
    findings.raise(asked(), blank.at, format!("no {}", column.name));
}

/// A note for each survey without a sheet `Project` where another survey has one.
pub(super) fn without_project(grids: &[Grid], findings: &mut Findings) {
    let has = |grid: &&Grid| filled(grid, &PROJECT).is_some();
    if grids.iter().any(|grid| has(&grid)) {
        for grid in grids.iter().filter(|grid| !has(grid)) {
            findings.raise(RuleQuery::NoProject, first_cell(grid), grid.survey.clone());
        }
    }
}

/// Whether a row is of a phase: one survey need not know those of another, and one phase has no name.
fn is_of_phases(table: &Table) -> bool {
    table.sheet == PHASES.sheet
}

/// Whether two surveys of one order may differ in an item.
fn says_who(table: &Table, column: &Column) -> bool {
    table.form == Form::ItemAndValue && WHO_AND_WHEN.contains(&column)
}

/// The first place where two lists part, in both.
fn first_difference(one: &[RawRow], other: &[RawRow]) -> Option<(Option<CellRef>, Option<CellRef>)> {
    for (a, b) in one.iter().zip(other) {
        for (column, cells) in a.table.columns.iter().zip(a.cells.iter().zip(&b.cells)) {
            let same = match cells {
                _ if column.key == NOTE => true,
                (Some(x), Some(y)) => same_meaning(x, y),
                (None, None) => true,
                _ => false,
            };
            if !same {
                return Some((a.at(column), b.at(column)));
            }
        }
    }
    let beyond = one.get(other.len()).or(other.get(one.len()))?;
    let shorter = if one.len() < other.len() { one } else { other };
    Some((beyond.at, shorter.last().and_then(|row| row.at)))
}

/// Whether two cells say the same: `1/4 in` and `0.25 in` do, and words in any case.
fn same_meaning(one: &RawCell, other: &RawCell) -> bool {
    match (&one.datum, &other.datum) {
        (Ok(Datum::Text(a)), Ok(Datum::Text(b))) => same_name(a, b),
        (Ok(a), Ok(b)) => a == b,
        _ => one.written == other.written,
    }
}

/// A name in the spelling of the known one that it means; as written if it means none of them.
pub(super) fn as_known<'n>(name: &'n str, known: impl IntoIterator<Item = &'n str>) -> &'n str {
    known.into_iter().find(|known| same_name(known, name)).unwrap_or(name)
}
