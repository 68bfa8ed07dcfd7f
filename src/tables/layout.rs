//! Reading a sheet's rows under its headings, or its items with their values.

use super::blocks::Blocks;
use super::cell::{read_value, shown, unit_in};
use super::headings::{HEADING_ROWS, Headings, Known, Names, holds_lengths};
use super::queries::SheetQuery;
use super::words::{fold, nearest};
use super::{Entry, ReadTable, TableRow};
use crate::grid::{Row, Sheet, Value};
use crate::length::{Unit, Units};
use crate::place::CellRef;
use crate::query::{Query, Severity};
use crate::schema::{Column, Form, Merged, Table};

/// The table's columns that a sheet has headings for, from the left, whatever the sheet is called.
pub fn known_columns(sheet: &Sheet, table: &'static Table) -> Vec<&'static Column> {
    let headings = Headings::find(sheet, &Names::of(table));
    let columns = headings.into_iter().flat_map(|headings| headings.columns);
    columns.filter_map(|heading| heading.known).map(|known| known.column).collect()
}

/// Reads a sheet under the table's columns; `units` are those of a length that names none.
pub fn read(sheet: &Sheet, table: &'static Table, units: Units) -> ReadTable {
    let mut queries = Vec::new();
    match table.form {
        Form::Rows => {
            let Some(layout) = Layout::of(sheet, table, &mut queries) else {
                return ReadTable { rows: Vec::new(), carried: Vec::new(), queries };
            };
            let rows = layout.body().map(|row| layout.row(row, units)).collect();
            let carried = layout
                .carried
                .iter()
                .map(|(text, column)| (text.clone(), sheet.at(layout.headings.row, *column)));
            ReadTable { rows, carried: carried.collect(), queries }
        }
        Form::ItemAndValue => {
            let items = items(sheet, table, &mut queries);
            let at = items.first().map_or(sheet.at(0, 0), |item| item.at);
            let mut entries: Vec<(usize, Entry)> = items
                .iter()
                .map(|item| (item.known.column.slot, entry(item.at, item.value, item.known, units)))
                .collect();
            entries.sort_by_key(|(slot, _)| *slot);
            let row = TableRow { at, entries, carried: Vec::new() };
            ReadTable { rows: vec![row], carried: Vec::new(), queries }
        }
    }
}

/// Each unit of length that the sheet's headings and length cells name, once, where it is first
/// named: headings before cells, then from the top.
pub fn units_named(sheet: &Sheet, table: &'static Table) -> Vec<(CellRef, Unit)> {
    let mut named: Vec<(CellRef, Unit)> = Vec::new();
    let mut note = |at: CellRef, unit: Option<Unit>| {
        if let Some(unit) = unit.filter(|unit| named.iter().all(|(_, known)| known != unit)) {
            named.push((at, unit));
        }
    };
    match table.form {
        Form::Rows => {
            let Some(layout) = Layout::of(sheet, table, &mut Vec::new()) else { return named };
            for place in &layout.places {
                note(sheet.at(layout.headings.row, place.column), place.known.unit);
            }
            for row in layout.body() {
                for place in layout.places.iter().filter(|place| holds_lengths(place.known.column)) {
                    let value = row.value(place.column);
                    note(sheet.at(row.row, place.column), value.and_then(unit_in));
                }
            }
        }
        Form::ItemAndValue => {
            for item in items(sheet, table, &mut Vec::new()) {
                let own = if holds_lengths(item.known.column) { unit_in(item.value) } else { None };
                note(item.at, own.or(item.known.unit));
            }
        }
    }
    named
}

/// A cell's entry under a heading.
fn entry(at: CellRef, value: &Value, known: Known, units: Units) -> Entry {
    Entry { at, datum: read_value(value, known.column, known.unit, units).map_err(Box::new) }
}

/// Where each of a table's columns stands in a sheet.
struct Layout<'s> {
    sheet: &'s Sheet,
    headings: Headings,
    /// Columns that the table knows, by slot.
    places: Vec<Place<'s>>,
    /// Heading and column of each of the others, from the left.
    carried: Vec<(String, u16)>,
}

/// One known column of a sheet.
struct Place<'s> {
    column: u16,
    known: Known,
    /// Its merged blocks, if they speak for every row they cover.
    blocks: Option<Blocks<'s>>,
}

impl<'s> Layout<'s> {
    /// Finds the headings, raising what is odd about them.
    fn of(sheet: &'s Sheet, table: &'static Table, queries: &mut Vec<Query>) -> Option<Layout<'s>> {
        let Some(headings) = Headings::find(sheet, &Names::of(table)) else {
            if !sheet.rows.is_empty() {
                let wording = SheetQuery::NoHeadings { table: table.sheet, rows: HEADING_ROWS };
                queries.push(Query::new(Severity::Check, &wording, Some(sheet.at(0, 0))));
            }
            return None;
        };
        let mut places: Vec<(&str, Place)> = Vec::new();
        let mut carried = Vec::new();
        for heading in &headings.columns {
            let at = Some(sheet.at(headings.row, heading.column));
            let Some(known) = heading.known else {
                if let Some(nearest) = nearest_name(&heading.text, table) {
                    let wording = SheetQuery::UnknownHeading { written: &heading.text, nearest };
                    queries.push(Query::new(Severity::Check, &wording, at));
                }
                carried.push((heading.text.clone(), heading.column));
                continue;
            };
            if let Some((first, _)) =
                places.iter().find(|(_, place)| place.known.column.slot == known.column.slot)
            {
                let wording = SheetQuery::Doubled { first, second: &heading.text, name: known.column.name };
                queries.push(Query::new(Severity::Check, &wording, at));
                continue;
            }
            let blocks = match known.column.merged {
                Merged::EveryRow => Some(Blocks::of(sheet, heading.column)),
                Merged::FirstRow => None,
            };
            places.push((&heading.text, Place { column: heading.column, known, blocks }));
        }
        let mut places: Vec<Place> = places.into_iter().map(|(_, place)| place).collect();
        places.sort_by_key(|place| place.known.column.slot);
        Some(Layout { sheet, headings, places, carried })
    }

    /// The rows below the headings, without those that repeat them.
    fn body(&self) -> impl Iterator<Item = &'s Row> + '_ {
        let below = self.sheet.rows.iter().filter(|row| row.row > self.headings.row);
        below.filter(|row| !self.headings.repeated_in(row))
    }

    fn row(&self, row: &'s Row, units: Units) -> TableRow {
        let first = row.cells.first().map_or(0, |cell| cell.0);
        let mut entries = Vec::with_capacity(self.places.len());
        for place in &self.places {
            let here = row.value(place.column).map(|value| (self.sheet.at(row.row, place.column), value));
            let above = || place.blocks.as_ref()?.over(row.row);
            if let Some((at, value)) = here.or_else(above) {
                entries.push((place.known.column.slot, entry(at, value, place.known, units)));
            }
        }
        let carried = self
            .carried
            .iter()
            .map(|(_, column)| row.value(*column).map_or_else(Box::default, |value| shown(value).into()));
        TableRow { at: self.sheet.at(row.row, first), entries, carried: carried.collect() }
    }
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
                let nearest = nearest_name(written, table);
                let wording = SheetQuery::UnknownItem { written, table: table.sheet, nearest };
                queries.push(Query::new(Severity::Check, &wording, at));
            }
            continue;
        };
        let doubled = items.iter().find(|(_, item)| item.known.column.slot == known.column.slot);
        if let Some((first, _)) = doubled {
            let wording = SheetQuery::Doubled { first, second: written, name: known.column.name };
            queries.push(Query::new(Severity::Check, &wording, at));
            continue;
        }
        items.push((written, Item { known, at: sheet.at(row.row, first + 1), value }));
    }
    items.into_iter().map(|(_, item)| item).collect()
}

/// The table's name, if any, that a heading or item was probably meant to be.
fn nearest_name(written: &str, table: &'static Table) -> Option<&'static str> {
    nearest(written, table.columns.iter().flat_map(|column| column.names()))
}
