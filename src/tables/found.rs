//! A table found on a sheet, and its rows read under its headings.

use std::collections::BTreeSet;

use rayon::prelude::*;

use super::bands::Band;
use super::blocks::{Blocks, is_ditto};
use super::cell::{read_value, shown};
use super::doubled::{self, Loser};
use super::headings::{Heading, headings};
use super::lines::{Lines, cells_in};
use super::measure::unit_in;
use super::names::Known;
use super::pair;
use super::untaken::{Judgement, LOOKED_AT, Untaken};
use super::{By, ColumnRead, Entry, ReadTable, Said, TableRow, hidden};
use crate::grid::{Row, Sheet, Value};
use crate::length::Unit;
use crate::name::same_name;
use crate::place::CellRef;
use crate::query::{Query, Severity};
use crate::schema::openings::{HEIGHTS, OPENINGS, PAIRS, WIDTHS};
use crate::schema::{Column, Kind, Merged, Table};

/// A table found on a sheet: its headings, and where each of the schema's columns stands.
pub struct Found<'s> {
    table: &'static Table,
    sheet: &'s Sheet,
    band: Band,
    /// Row of the headings' names, from 0.
    row: u32,
    headings: Vec<Heading>,
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
    /// Row of the cell that names its unit.
    unit_row: u32,
    /// The column of its inches beside its feet, or of its feet beside its inches.
    part: Option<(u16, Known)>,
    /// Its merged blocks and ditto marks, if they speak for other rows.
    blocks: Option<Blocks<'s>>,
}

/// Columns that give widths and heights.
static SIZES: [&[&Column]; 3] = [&WIDTHS, &HEIGHTS, &PAIRS];

/// A cell's entry under a heading.
pub(super) fn entry(at: CellRef, value: &Value, known: Known, bare: Unit) -> Entry {
    Entry { at, datum: read_value(value, known.column, known.unit, bare).map_err(Box::new) }
}

impl<'s> Found<'s> {
    /// What a band of headings makes of the rows below it.
    pub(super) fn under(band: Band, lines: &Lines<'s, '_>, table: &'static Table) -> Found<'s> {
        let sheet = lines.sheet;
        let row = lines.row(band.names).map_or(0, |row| row.row);
        let body = sheet.rows.get(band.body.clone()).unwrap_or(&[]);
        let headings = headings(lines, &band);
        let holds_data = |column| body.iter().any(|row| row.value(column).is_some());
        let mut queries = Vec::new();
        let losers = doubled::settle(&headings, holds_data, sheet, &mut queries);
        let lost = |at: usize| losers.iter().find(|(loser, _)| *loser == at).map(|(_, lost)| *lost);

        let mut places: Vec<Place> = Vec::new();
        let mut carried = Vec::new();
        let mut parts = Vec::new();
        for (at, heading) in headings.iter().enumerate() {
            match (heading.known, lost(at)) {
                (Some(known), None) => places.push(Place {
                    column: heading.column,
                    known,
                    unit_row: heading.unit_row,
                    part: None,
                    blocks: match known.column.merged {
                        Merged::EveryRow => Some(Blocks::of(sheet, body, heading.column)),
                        Merged::FirstRow => None,
                    },
                }),
                (_, Some(Loser::LeftOut)) => {}
                (Some(known), Some(Loser::PartOf(column))) => parts.push((column, (heading.column, known))),
                (None, Some(Loser::PartOf(_))) => {}
                (Some(_), Some(Loser::Carried)) | (None, _) => {
                    carried.push((heading.text.clone(), heading.column));
                }
            }
        }
        for (column, part) in parts {
            places
                .iter_mut()
                .filter(|place| place.column == column)
                .for_each(|place| place.part = Some(part));
        }
        queries.sort_by_key(|query| query.at.map(|at| at.column));
        queries.extend(hidden::notes(sheet, body, band.claims));
        places.sort_by_key(|place| place.known.column.slot);
        Found { table, sheet, band, row, headings, places, carried, queries }
    }

    /// The sheet that it is on.
    pub fn sheet(&self) -> &'s Sheet {
        self.sheet
    }

    /// Its first heading.
    pub fn at(&self) -> CellRef {
        self.sheet.at(self.row, self.headings.first().map_or(0, |heading| heading.column))
    }

    /// Whether a cell is one of its headings, the units below them included.
    pub fn heads(&self, at: CellRef) -> bool {
        let rows = self.sheet.rows.get(self.band.headings.clone()).unwrap_or(&[]);
        at.sheet == self.sheet.id && rows.iter().any(|row| row.row == at.row)
    }

    /// The schema's columns that it has headings for, in the schema's order.
    pub fn columns(&self) -> impl Iterator<Item = &'static Column> + '_ {
        self.places.iter().map(|place| place.known.column)
    }

    /// Every heading as written, from the left.
    pub fn headings(&self) -> impl Iterator<Item = &str> + '_ {
        self.headings.iter().map(|heading| heading.text.as_str())
    }

    /// The headings of the columns that the schema does not know, from the left.
    pub fn carried(&self) -> impl Iterator<Item = &str> + '_ {
        self.carried.iter().map(|(heading, _)| heading.as_str())
    }

    /// The unit of length that the heading of a column names.
    pub fn unit_of(&self, column: &Column) -> Option<Unit> {
        let place = self.places.iter().find(|place| place.known.column == column)?;
        place.known.unit
    }

    /// Whether it has a row in which no cell says this text.
    pub fn has_rows_without(&self, text: &str) -> bool {
        let says = |(_, value): &(u16, Value)| same_name(&shown(value), text);
        self.rows().any(|row| !row.cells.iter().any(says))
    }

    /// Reads its rows; a length that names no unit is in `bare`.
    pub fn read(&self, bare: Unit) -> ReadTable {
        self.read_passing_over(None, bare)
    }

    /// The same, where headings of widths and heights that name the unit passed over name none.
    pub fn read_passing_over(&self, passed_over: Option<Unit>, bare: Unit) -> ReadTable {
        let rows = self.body().par_iter().filter(|row| self.owns(row));
        let rows = rows.map(|row| self.read_row(row, passed_over, bare)).collect();
        let carried = self.carried.iter();
        let carried = carried.map(|(text, column)| (text.clone(), self.sheet.at(self.row, *column)));
        let (columns, asked): (_, Vec<Option<Query>>) = self.judged().into_iter().unzip();
        let asked = self.queries.iter().cloned().chain(asked.into_iter().flatten());
        let (holding, queries) = asked.partition(|query: &Query| query.severity == Severity::Stop);
        ReadTable { rows, carried: carried.collect(), queries, holding, columns }
    }

    /// What its headings were taken as, from the left.
    pub fn columns_read(&self) -> Vec<ColumnRead> {
        self.judged().into_iter().map(|(read, _)| read).collect()
    }

    /// The same, each with what is asked about it.
    fn judged(&self) -> Vec<(ColumnRead, Option<Query>)> {
        /// Cells under a heading that are shown.
        const SHOWN: usize = 3;
        let (filled, under) = self.cells_under();
        let carried: BTreeSet<u16> = self.carried.iter().map(|(_, column)| *column).collect();
        // Of the sheets of other schemas nothing is carried through.
        let is_ours = self.table.sheet == OPENINGS.sheet;
        let untaken = Untaken::new(self.columns().collect());
        let judge = |at: usize, heading: &Heading| {
            let is_open = heading.known.is_none() && heading.said.is_none() && !heading.set_aside;
            let judged = is_ours && is_open && carried.contains(&heading.column);
            judged.then(|| untaken.judge(&heading.text, heading.row.is_some(), &under[at]))
        };
        let read = |(at, heading): (usize, &Heading)| {
            let Judgement { nearest, asked } = judge(at, heading).unwrap_or_default();
            let place = self.sheet.at(heading.row.unwrap_or(self.row), heading.column);
            let asked = asked.map(|asked| Query::new(&asked, Some(place)).reading(heading.text.as_str()));
            let is_carried = carried.contains(&heading.column);
            let taken = heading.known.filter(|known| !is_carried && self.takes(heading, known.column));
            let of_said = |said| if said == Said::OnHeadings { By::Headings } else { By::Answer };
            let unit_from = heading.said.map_or("heading", |meaning| of_said(meaning.said).words());
            let read = ColumnRead {
                table: self.at(),
                at: place,
                heading: heading.text.clone(),
                taken: taken.map(|known| known.column),
                by: match (heading.said, taken) {
                    // What a person says is done: it is that column, or it is not needed.
                    (Some(meaning), taken) if meaning.column.is_none() || taken.is_some() => {
                        of_said(meaning.said)
                    }
                    (_, Some(known)) if known.rank == 0 => By::Name,
                    (_, Some(_)) => By::Synonym,
                    (None, None) if is_carried && is_ours && asked.is_none() => By::Carried,
                    (_, None) => By::NotRead,
                },
                unit: taken.and_then(|known| Some((known.unit?, unit_from))),
                filled: filled[at],
                first: under[at].iter().take(SHOWN).map(|value| shown(value).into_owned()).collect(),
                nearest,
                query: asked.as_ref().map(|asked| asked.code),
            };
            (read, asked)
        };
        self.headings.iter().enumerate().map(read).collect()
    }

    /// How many cells stand under each heading, and the first of them.
    fn cells_under(&self) -> (Vec<usize>, Vec<Vec<&'s Value>>) {
        let mut under: Vec<Vec<&Value>> = vec![Vec::new(); self.headings.len()];
        let mut filled = vec![0; self.headings.len()];
        let last = self.headings.last().map_or(0, |heading| usize::from(heading.column) + 1);
        let mut of_column: Vec<Option<usize>> = vec![None; last];
        for (at, heading) in self.headings.iter().enumerate() {
            of_column[usize::from(heading.column)] = Some(at);
        }
        for (column, value) in self.rows().flat_map(|row| cells_in(row, self.band.claims)) {
            let Some(at) = of_column.get(usize::from(*column)).copied().flatten() else { continue };
            filled[at] += 1;
            if under[at].len() < LOOKED_AT {
                under[at].push(value);
            }
        }
        (filled, under)
    }

    /// Whether a heading's cells are those of a column, or a part of them.
    fn takes(&self, heading: &Heading, column: &Column) -> bool {
        let own = |place: &Place<'_>| {
            place.column == heading.column || place.part.is_some_and(|(part, _)| part == heading.column)
        };
        self.places.iter().any(|place| place.known.column == column && own(place))
    }

    /// Each unit of length that its headings and length cells name, once, where it is first named:
    /// headings before cells, then from the top.
    pub fn units_named(&self) -> Vec<(CellRef, Unit)> {
        let mut named: Vec<(CellRef, Unit)> = Vec::new();
        let mut note = |row: u32, place: &Place<'_>, unit: Option<Unit>| {
            if let Some(unit) = unit.filter(|unit| named.iter().all(|(_, known)| known != unit)) {
                named.push((self.sheet.at(row, place.column), unit));
            }
        };
        for place in &self.places {
            note(place.unit_row, place, place.known.unit);
        }
        for row in self.rows() {
            for place in self.places.iter().filter(|place| place.known.column.holds_lengths()) {
                note(row.row, place, row.value(place.column).and_then(unit_in));
            }
        }
        named
    }

    /// The rows below the headings that hold anything of its own, without those that repeat the
    /// headings.
    fn rows(&self) -> impl Iterator<Item = &'s Row> + '_ {
        self.body().iter().filter(|row| self.owns(row))
    }

    fn body(&self) -> &'s [Row] {
        self.sheet.rows.get(self.band.body.clone()).unwrap_or(&[])
    }

    fn owns(&self, row: &Row) -> bool {
        !cells_in(row, self.band.claims).is_empty() && !self.band.repeated_in(self.sheet, row)
    }

    fn read_row(&self, row: &'s Row, passed_over: Option<Unit>, bare: Unit) -> TableRow {
        let first = cells_in(row, self.band.claims).first().map_or(0, |cell| cell.0);
        let mut entries = Vec::with_capacity(self.places.len());
        for place in &self.places {
            let here = row.value(place.column).map(|value| (self.sheet.at(row.row, place.column), value));
            let above = || place.blocks.as_ref()?.over(row.row);
            // A ditto mark with nothing above it is a text like any other.
            let repeated = here.filter(|(_, value)| is_ditto(value)).and_then(|_| above());
            let here = repeated.or(here);
            let part = place.part.and_then(|(column, known)| Some((column, known, row.value(column)?)));
            if let Some((column, known, part)) = part {
                let entry = match here {
                    Some((at, value)) => entry(at, &feet_and_inches(place.known, value, part), known, bare),
                    None => entry(self.sheet.at(row.row, column), part, known, bare),
                };
                entries.push((known.column.slot, entry));
            } else if let Some((at, value)) = here.or_else(above) {
                let is_size =
                    || SIZES.iter().flat_map(|sizes| sizes.iter()).any(|size| *size == place.known.column);
                let unit = place.known.unit.filter(|unit| Some(*unit) != passed_over || !is_size());
                entries
                    .push((place.known.column.slot, entry(at, value, Known { unit, ..place.known }, bare)));
            }
        }
        for place in self.places.iter().filter(|place| matches!(place.known.column.kind, Kind::Pair(_))) {
            pair::spread(place.known.column, &mut entries);
        }
        // Most sheets have columns that most rows leave blank.
        entries.shrink_to_fit();
        let carried = self
            .carried
            .iter()
            .map(|(_, column)| row.value(*column).map_or_else(Box::default, |value| shown(value).into()));
        TableRow { carried: carried.collect(), ..TableRow::of(self.sheet.at(row.row, first), entries) }
    }
}

/// A length whose feet and inches stand in two cells, as one would write it in one cell, so that it
/// is read, or refused, like any other.
fn feet_and_inches(known: Known, value: &Value, part: &Value) -> Value {
    let (feet, inches) = if known.unit == Some(Unit::Foot) { (value, part) } else { (part, value) };
    Value::Text(format!("{}' {}\"", shown(feet), shown(inches)).into())
}
