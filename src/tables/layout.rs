//! Reading a sheet's rows under its headings, or its items with their values.

use super::blocks::Blocks;
use super::cell::{read_value, shown};
use super::headings::{HEADING_ROWS, Headings, Known, Names, holds_lengths};
use super::measure::unit_in;
use super::pair;
use super::queries::SheetQuery;
use super::words::{fold, nearest};
use super::{Entry, ReadTable, TableRow};
use crate::grid::{Row, Sheet, Value};
use crate::length::{Unit, Units};
use crate::place::CellRef;
use crate::query::{Query, Severity};
use crate::schema::{Column, Form, Kind, Merged, Table};

/// Every table on a sheet whose headings the schema knows, from the top, whatever the sheet is called.
pub fn found_on<'s>(sheet: &'s Sheet, table: &'static Table) -> Vec<Found<'s>> {
    Found::of(sheet, table).into_iter().collect()
}

/// Reads a sheet under the table's columns; `units` are those of a length that names none.
pub fn read(sheet: &Sheet, table: &'static Table, units: Units) -> ReadTable {
    match table.form {
        Form::Rows => match Found::of(sheet, table) {
            Some(found) => found.read(units),
            None => ReadTable { rows: Vec::new(), carried: Vec::new(), queries: no_headings(sheet, table) },
        },
        Form::ItemAndValue => {
            let mut queries = Vec::new();
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

/// Each unit of length that an item-and-value sheet names, once, where it is first named.
pub fn units_named(sheet: &Sheet, table: &'static Table) -> Vec<(CellRef, Unit)> {
    let mut named = UnitsNamed::default();
    for item in items(sheet, table, &mut Vec::new()) {
        let own = if holds_lengths(item.known.column) { unit_in(item.value) } else { None };
        named.note(item.at, own.or(item.known.unit));
    }
    named.units
}

/// Units of length, each once, where it is first named.
#[derive(Default)]
struct UnitsNamed {
    units: Vec<(CellRef, Unit)>,
}

impl UnitsNamed {
    fn note(&mut self, at: CellRef, unit: Option<Unit>) {
        if let Some(unit) = unit.filter(|unit| self.units.iter().all(|(_, known)| known != unit)) {
            self.units.push((at, unit));
        }
    }
}

/// A sheet with cells and no headings is asked about; an empty one is not.
fn no_headings(sheet: &Sheet, table: &'static Table) -> Vec<Query> {
    let wording = SheetQuery::NoHeadings { table: table.sheet, rows: HEADING_ROWS };
    let query = || Query::new(Severity::Check, &wording, Some(sheet.at(0, 0)));
    sheet.rows.first().map(|_| query()).into_iter().collect()
}

/// A cell's entry under a heading.
fn entry(at: CellRef, value: &Value, known: Known, units: Units) -> Entry {
    Entry { at, datum: read_value(value, known.column, known.unit, units).map_err(Box::new) }
}

/// A table found on a sheet: its headings, and where each of the schema's columns stands.
pub struct Found<'s> {
    sheet: &'s Sheet,
    headings: Headings,
    /// Columns that the table knows, by slot.
    places: Vec<Place<'s>>,
    /// Heading and column of each of the others, from the left.
    carried: Vec<(String, u16)>,
    /// What is odd about the headings.
    queries: Vec<Query>,
}

/// One known column of a sheet.
struct Place<'s> {
    column: u16,
    known: Known,
    /// Its merged blocks, if they speak for every row they cover.
    blocks: Option<Blocks<'s>>,
}

impl<'s> Found<'s> {
    /// Finds the headings.
    fn of(sheet: &'s Sheet, table: &'static Table) -> Option<Found<'s>> {
        let headings = Headings::find(sheet, &Names::of(table))?;
        let mut queries = Vec::new();
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
        Some(Found { sheet, headings, places, carried, queries })
    }

    /// The sheet that it is on.
    pub fn sheet(&self) -> &'s Sheet {
        self.sheet
    }

    /// Its first heading.
    pub fn at(&self) -> CellRef {
        self.sheet.at(self.headings.row, self.headings.columns.first().map_or(0, |heading| heading.column))
    }

    /// The schema's columns that it has headings for, in the schema's order.
    pub fn columns(&self) -> impl Iterator<Item = &'static Column> + '_ {
        self.places.iter().map(|place| place.known.column)
    }

    /// The headings of its other columns, from the left.
    pub fn carried(&self) -> impl Iterator<Item = &str> + '_ {
        self.carried.iter().map(|(heading, _)| heading.as_str())
    }

    /// The unit of length that the heading of a column names.
    pub fn unit_of(&self, column: &Column) -> Option<Unit> {
        let place = self.places.iter().find(|place| place.known.column.slot == column.slot)?;
        place.known.unit
    }

    /// Reads its rows; `units` are those of a length that names none.
    pub fn read(&self, units: Units) -> ReadTable {
        let rows = self.body().map(|row| self.row(row, units)).collect();
        let carried = self.carried.iter();
        let carried = carried.map(|(text, column)| (text.clone(), self.sheet.at(self.headings.row, *column)));
        ReadTable { rows, carried: carried.collect(), queries: self.queries.clone() }
    }

    /// Each unit of length that its headings and length cells name, once, where it is first named:
    /// headings before cells, then from the top.
    pub fn units_named(&self) -> Vec<(CellRef, Unit)> {
        let mut named = UnitsNamed::default();
        for place in &self.places {
            named.note(self.sheet.at(self.headings.row, place.column), place.known.unit);
        }
        for row in self.body() {
            for place in self.places.iter().filter(|place| holds_lengths(place.known.column)) {
                let value = row.value(place.column);
                named.note(self.sheet.at(row.row, place.column), value.and_then(unit_in));
            }
        }
        named.units
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
        for place in self.places.iter().filter(|place| matches!(place.known.column.kind, Kind::Pair(_))) {
            pair::spread(place.known.column, &mut entries);
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

/// What a table makes of a heading: its column, and the unit of length that the heading names.
pub fn heading(written: &str, table: &'static Table) -> Option<(&'static Column, Option<Unit>)> {
    Names::of(table).known(written).map(|known| (known.column, known.unit))
}

/// The table's name, if any, that a heading or item was probably meant to be.
fn nearest_name(written: &str, table: &'static Table) -> Option<&'static str> {
    nearest(written, table.columns.iter().flat_map(|column| column.names()))
}
