//! Reading a sheet's rows under its headings, or its items with their values.

use std::sync::LazyLock;

use super::bands::bands;
use super::found::{Found, entry};
use super::lines::Lines;
use super::meanings::Meanings;
use super::names::{Known, Names};
use super::queries::SheetQuery;
use super::{Entry, ReadTable, TableRow};
use crate::grid::{Sheet, Value};
use crate::length::Unit;
use crate::name::fold;
use crate::place::CellRef;
use crate::query::Query;
use crate::schema::openings::OPENINGS;
use crate::schema::{Column, Form, Table};

/// Every table on a sheet that has headings, from the top, then from the left, whatever the sheet is
/// called. One of which the schema knows no heading is found below or beside another one, so that
/// its rows are not taken for rows of that.
pub fn found_on<'s>(sheet: &'s Sheet, table: &'static Table, meanings: &Meanings) -> Vec<Found<'s>> {
    let names = Names::with(table, meanings.on(sheet));
    let mut lines = Lines::new(sheet, &names);
    let bands = bands(&mut lines);
    bands.into_iter().map(|band| Found::under(band, &lines, table)).collect()
}

/// The one table of a sheet that is made for it: under the band of headings that names most
/// columns, the first of equals, with every row below.
fn only_on<'s>(sheet: &'s Sheet, table: &'static Table) -> Option<Found<'s>> {
    let names = Names::of(table);
    let mut lines = Lines::new(sheet, &names);
    let bands = bands(&mut lines);
    let most = bands.iter().map(|band| band.known()).max()?;
    let band = bands.into_iter().find(|band| band.known() == most)?;
    Some(Found::under(band.alone(sheet), &lines, table))
}

/// Reads a sheet under the table's columns; a length that names no unit is in `bare`.
pub fn read(sheet: &Sheet, table: &'static Table, bare: Unit) -> ReadTable {
    match table.form {
        Form::Rows => match only_on(sheet, table) {
            Some(found) => found.read(bare),
            None => ReadTable { queries: no_headings(sheet, table), ..ReadTable::default() },
        },
        Form::ItemAndValue => {
            let mut queries = Vec::new();
            let items = items(sheet, table, &mut queries);
            let at = items.first().map_or(sheet.at(0, 0), |item| item.at);
            let mut entries: Vec<(usize, Entry)> = items
                .iter()
                .map(|item| (item.known.column.slot, entry(item.at, item.value, item.known, bare)))
                .collect();
            entries.sort_by_key(|(slot, _)| *slot);
            let row = TableRow::of(at, entries);
            ReadTable { rows: vec![row], queries, ..ReadTable::default() }
        }
    }
}

/// A sheet with cells and no headings is asked about; an empty one is not.
fn no_headings(sheet: &Sheet, table: &'static Table) -> Vec<Query> {
    let query = || Query::new(&SheetQuery::no_headings(table), Some(sheet.at(0, 0)));
    sheet.rows.first().map(|_| query()).into_iter().collect()
}

/// An item of an item-and-value sheet that has a value.
struct Item<'s> {
    known: Known,
    at: CellRef,
    value: &'s Value,
}

/// The items in the sheet's first used column that have a value in the next, from the top. A text
/// without a value is a title or an item left blank, and `Item`, `Value` are headings.
fn items<'s>(sheet: &'s Sheet, table: &'static Table, queries: &mut Vec<Query>) -> Vec<Item<'s>> {
    let names = Names::of(table);
    let first = sheet.rows.iter().filter_map(|row| row.cells.first()).map(|cell| cell.0).min().unwrap_or(0);
    let mut items: Vec<(&str, Item)> = Vec::new();
    for row in &sheet.rows {
        let (Some(Value::Text(written)), Some(value)) = (row.value(first), row.value(first + 1)) else {
            continue;
        };
        let at = Some(sheet.at(row.row, first));
        let Some(known) = names.known(written) else {
            if fold(written) != "item" {
                let nearest = names.nearest(written).map(str::to_owned);
                let asked =
                    SheetQuery::UnknownItem { written: written.to_string(), table: table.sheet, nearest };
                queries.push(Query::new(&asked, at));
            }
            continue;
        };
        let doubled = items.iter().find(|(_, item)| item.known.column.slot == known.column.slot);
        if let Some((first, _)) = doubled {
            let (first, second) = (first.to_string(), written.to_string());
            let asked = SheetQuery::Doubled { first, second, name: known.column.name };
            queries.push(Query::new(&asked, at));
            continue;
        }
        items.push((written, Item { known, at: sheet.at(row.row, first + 1), value }));
    }
    items.into_iter().map(|(_, item)| item).collect()
}

/// What a table makes of a heading: its column, and the unit of length that the heading names.
pub fn heading(written: &str, table: &'static Table) -> Option<(&'static Column, Option<Unit>)> {
    /// Asked for again and again, by every answer and every row that says what a heading means.
    static OF_OPENINGS: LazyLock<Names> = LazyLock::new(|| Names::of(&OPENINGS));
    let known = match table.sheet == OPENINGS.sheet {
        true => OF_OPENINGS.known(written),
        false => Names::of(table).known(written),
    };
    known.map(|known| (known.column, known.unit))
}
