//! One survey file: its tables of openings, its types, and the rows that are openings.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::ptr;
use std::sync::Arc;

use rayon::prelude::*;

use crate::grid::Sheet;
use crate::length::Unit;
use crate::place::{CellRef, SheetId};
use crate::query::Query;
use crate::schema::Column;
use crate::schema::openings::{BUILDING, CATEGORY, FLOOR, NOTE, PHASE, QUANTITY, ROOM, TYPE, UNIT};
use crate::tables::{ColumnRead, Datum, Entry, TableRow, shown};

use super::answers::RowKey;
use super::as_read::{AsRead, Own, Taken};
use super::carried::Carried;
use super::joined::Joined;
use super::layout::Layout;
use super::named_sizes::told;
use super::other_unit::{Headed, OtherUnit};
use super::queries::SurveyQuery;
use super::standing::{Standing, standing};
use super::subject::thing_of;
use super::table::{Table, category};
use super::texts::Texts;
use super::types::{Lookup, TypeRow, Types};
use super::{BareUnit, Identity, SurveyError};

/// One survey file, its cells read.
pub(super) struct File {
    survey: Arc<str>,
    openings: Vec<Table>,
    types: Vec<Table>,
    /// What is odd about its tables.
    queries: Vec<Query>,
}

/// What the rows of a file are.
#[derive(Default)]
pub(super) struct FileRows<'f> {
    /// The openings, in order.
    pub openings: Vec<Row<'f>>,
    /// How many rows have a size but no name: read, but no opening.
    pub nameless: usize,
}

/// A row that is an opening.
pub(super) struct Row<'f> {
    file: &'f File,
    table: &'f Table,
    /// Its cells, with its type's behind them.
    pub joined: Joined<'f>,
    /// What its `Type` cell leads to.
    pub lookup: Lookup<'f>,
}

impl File {
    /// Reads the tables of a survey, and doubts the unit of its sizes.
    pub fn read(layout: &Layout<'_>, bare: BareUnit, carried: &mut Carried) -> File {
        let mut file = File::with(layout, bare.unit, None, carried);
        let Some(doubt) = file.doubt(layout, bare) else { return file };
        if let Some(unit) = doubt.passed_over(bare) {
            return File::with(layout, bare.unit, Some(unit), carried);
        }
        let tables = file.openings.iter_mut().chain(&mut file.types);
        tables.flat_map(|table| &mut table.read.rows).for_each(|row| doubt.hold(row, layout.grid()));
        file
    }

    fn with(layout: &Layout<'_>, bare: Unit, passed_over: Option<Unit>, carried: &mut Carried) -> File {
        let mut tables = |rows: Vec<_>| rows.into_iter().map(|rows| Table::new(rows, carried)).collect();
        File {
            survey: Arc::from(layout.grid().survey.as_str()),
            openings: tables(layout.openings(bare, passed_over)),
            types: tables(layout.types(bare, passed_over)),
            queries: layout.queries().to_vec(),
        }
    }

    /// What the headings of its tables were taken as.
    pub fn columns_read(&self) -> impl Iterator<Item = &ColumnRead> {
        self.openings.iter().chain(&self.types).flat_map(|table| &table.read.columns)
    }

    fn doubt(&self, layout: &Layout<'_>, bare: BareUnit) -> Option<OtherUnit> {
        // A type without a name is asked about when the rows are told apart.
        let types = Types::new(&self.types, &mut Vec::new());
        let headed = self.every_row().filter_map(|(table, row)| {
            let lookup = types.of(row);
            let of_type = lookup.row();
            let joined = Joined { row, of_type: of_type.map(|of_type| of_type.row) };
            (standing(&table.read, joined, &lookup) == Standing::Opening).then_some(Headed {
                joined,
                own: &table.size_units,
                of_type: of_type.map(|of_type| &of_type.table.size_units),
            })
        });
        OtherUnit::of(headed, layout, bare)
    }

    /// Every row of its tables of openings, whatever it is.
    pub fn every_row(&self) -> impl Iterator<Item = (&Table, &TableRow)> {
        self.openings.iter().flat_map(|table| table.read.rows.iter().map(move |row| (table, row)))
    }

    /// The rows of each table of openings, for answers to be put in.
    pub fn opening_rows(&mut self) -> impl Iterator<Item = &mut [TableRow]> {
        self.openings.iter_mut().map(|table| table.read.rows.as_mut_slice())
    }

    /// The rows that are openings; what is odd about the others, and about the tables, is a query.
    /// A file must have a row with a size at least.
    pub fn rows(&self, bare: Unit, queries: &mut Vec<Query>) -> Result<FileRows<'_>, SurveyError> {
        queries.extend(self.queries.iter().cloned());
        for table in self.openings.iter().chain(&self.types) {
            // The first stop about a heading is raised by every row that it holds.
            let others = table.read.holding.iter().skip(1);
            queries.extend(table.read.queries.iter().chain(others).cloned());
        }
        let types = Types::new(&self.types, queries);
        let mut rows = FileRows::default();
        for table in &self.openings {
            let mut others: Vec<&TableRow> = Vec::new();
            let knows_categories = table.knows_categories();
            let look_up = |row| {
                let lookup = types.of(row);
                let joined = Joined { row, of_type: lookup.row().map(|of_type| of_type.row) };
                (standing(&table.read, joined, &lookup), joined, lookup)
            };
            let looked_up: Vec<(Standing, Joined, Lookup)> =
                table.read.rows.par_iter().map(look_up).collect();
            for (standing, joined, lookup) in looked_up {
                let row = joined.row;
                let mut detail = String::new();
                let asked = match standing {
                    _ if table.all_openings && standing == Standing::Sizeless => {
                        rows.openings.push(Row { file: self, table, joined, lookup });
                        continue;
                    }
                    Standing::Opening => {
                        if let (true, None, Some(entry)) =
                            (knows_categories, category(row), row.entry(&CATEGORY))
                        {
                            queries.push(Query::new(&SurveyQuery::UnknownCategory, Some(entry.at)));
                        }
                        if table.is_doubtful
                            && let Some((at, text)) = thing_of(row, &table.read)
                        {
                            let query = Query::new(&SurveyQuery::OtherThing, Some(at));
                            queries.push(query.with_detail(format!("\"{text}\"")));
                        }
                        rows.openings.push(Row { file: self, table, joined, lookup });
                        continue;
                    }
                    Standing::Nameless => {
                        rows.nameless += 1;
                        SurveyQuery::Nameless
                    }
                    Standing::Sizeless => {
                        detail = told(row, bare);
                        SurveyQuery::Sizeless
                    }
                    Standing::Total => SurveyQuery::Total,
                    Standing::Example => SurveyQuery::Example,
                    Standing::OtherCategory => {
                        others.push(row);
                        continue;
                    }
                    Standing::Other => continue,
                };
                queries.push(Query::new(&asked, Some(row.at)).with_detail(detail));
            }
            queries.extend(of_other_categories(&others));
        }
        if rows.openings.is_empty() && rows.nameless == 0 {
            let sheets = self.openings.iter().map(|table| table.sheet.to_string()).collect();
            return Err(SurveyError::NoRows { survey: self.survey.to_string(), sheets });
        }
        Ok(rows)
    }
}

/// One note for all rows of a table that are neither doors nor windows: a model may list thousands.
fn of_other_categories(rows: &[&TableRow]) -> Option<Query> {
    let first = rows.first()?;
    let at = first.entry(&CATEGORY).map_or(first.at, |entry| entry.at);
    let query = Query::new(&SurveyQuery::OtherCategory, Some(at));
    Some(query.with_detail(format!("{} in this table", rows.len())))
}

impl<'f> Row<'f> {
    /// The cell that stands for the row: its id, or its first cell if that is blank or answered
    /// elsewhere.
    pub fn at(&self) -> CellRef {
        let row = self.joined.row;
        let id = row.entry(self.table.id).map(|entry| entry.at);
        id.filter(|at| at.sheet == row.at.sheet).unwrap_or(row.at)
    }

    /// The first stop about the headings of its table, and of its type's.
    pub fn holding(&self) -> impl Iterator<Item = &Query> {
        let of_type = self.lookup.row().and_then(|row| row.table.read.holding.first());
        self.table.read.holding.first().into_iter().chain(of_type)
    }

    /// What the survey itself says in a column, whatever was answered.
    pub fn own(&self, column: &Column, cells: &BTreeMap<SheetId, &'f Sheet>) -> Own<'f> {
        if let Some(entry) = self.joined.row.own_entry(column) {
            return own_cell(entry, cells);
        }
        let of_type = self.joined.of_type.filter(|of_type| of_type.entry(column).is_some());
        let name = of_type.and(self.joined.row.entry(&TYPE)).map(|entry| &entry.datum);
        match name {
            Some(Ok(Datum::Text(name))) => Own::OfType(name.to_string()),
            _ => Own::Blank,
        }
    }

    /// The same for every column that says something, and what is taken where that is anything else.
    pub fn as_read(&self, cells: &BTreeMap<SheetId, &'f Sheet>, bare: Unit, texts: &mut Texts) -> AsRead {
        let (mut said, mut taken) = (Vec::new(), Vec::new());
        for column in self.joined.columns() {
            let Ok(slot) = u16::try_from(column.slot) else { continue };
            let own = match self.own(column, cells) {
                Own::Blank => None,
                own => Some(own.shown(column, self.table.unit_of(column), bare)),
            };
            let entry = self.joined.taken(column);
            let text = match entry {
                Some(entry) => self.taken_otherwise(column, entry, cells, bare),
                None => Some(Cow::Borrowed("")),
            };
            if let Some(text) = text.filter(|text| *text != own.as_deref().unwrap_or_default()) {
                let answered = entry.is_some_and(|entry| self.is_answer(column, entry));
                taken.push(Taken { slot, answered, text: texts.shared(&text) });
            }
            said.extend(own.map(|own| (slot, own)));
        }
        AsRead::new(&said, taken)
    }

    /// What is taken from a cell, if that may be anything else than what the row says there. A length stays
    /// in its own words, and so does what cannot be read.
    fn taken_otherwise(
        &self,
        column: &Column,
        entry: &'f Entry,
        cells: &BTreeMap<SheetId, &'f Sheet>,
        bare: Unit,
    ) -> Option<Cow<'f, str>> {
        let is_own = self.joined.row.own_entry(column).is_some_and(|own| ptr::eq(own, entry));
        match (&entry.datum, own_cell(entry, cells)) {
            (Ok(Datum::Length(_)) | Err(_), Own::Cell(..)) if is_own => None,
            (Ok(datum), _) => Some(datum.in_full(bare.shown_in())),
            (Err(_), Own::Cell(value, _)) => Some(shown(value)),
            (Err(_), Own::Blank | Own::OfType(_)) => Some(Cow::Borrowed("")),
        }
    }

    /// Whether a cell under a column is an answer: one in place of what the row, or its type's, says.
    fn is_answer(&self, column: &Column, entry: &Entry) -> bool {
        let rows = [Some(self.joined.row), self.joined.of_type].into_iter().flatten();
        let mut from = rows.filter(|row| row.entry(column).is_some_and(|known| ptr::eq(known, entry)));
        from.any(|row| !row.own_entry(column).is_some_and(|own| ptr::eq(own, entry)))
    }

    /// Whether it stands for openings of a type: a row of a list of types with counts.
    pub fn is_of_a_type(&self) -> bool {
        self.table.id.slot == TYPE.slot
    }

    /// The table that it stands in.
    pub fn table(&self) -> &Table {
        self.table
    }

    /// The row itself.
    pub fn key(&self) -> RowKey {
        self.joined.row.at
    }

    /// Names and place, not yet named in the run. What cannot be read is empty here;
    /// [`Cells`](super::cells::Cells) raises it.
    pub fn identity(&self, carried: &Carried, texts: &mut Texts) -> Identity {
        let of_type = self.lookup.row().map(|TypeRow { table, row }| (&table.carried, row));
        let sources = of_type.into_iter().chain([(&self.table.carried, self.joined.row)]);
        let carried = carried.texts(sources, texts);

        let mut text = |column: &Column| match self.joined.entry(column).map(|entry| &entry.datum) {
            Some(Ok(Datum::Text(text))) => texts.shared(text),
            _ => texts.shared(""),
        };
        let written = text(self.table.id);
        Identity {
            name: Arc::clone(&written),
            written,
            survey: Arc::clone(&self.file.survey),
            at: self.at(),
            building: text(&BUILDING),
            floor: self.table.floor.clone().unwrap_or_else(|| text(&FLOOR)),
            unit: text(&UNIT),
            room: text(&ROOM),
            phase: text(&PHASE),
            note: text(&NOTE),
            carried,
            quantity: match self.joined.entry(&QUANTITY).map(|entry| &entry.datum) {
                Some(Ok(Datum::Whole(quantity))) => *quantity,
                _ => 1,
            },
        }
    }
}

/// What stands in a cell of the survey, and what it says.
pub(super) fn own_cell<'f>(entry: &'f Entry, cells: &BTreeMap<SheetId, &'f Sheet>) -> Own<'f> {
    let value = cells.get(&entry.at.sheet).and_then(|sheet| sheet.value(entry.at.row, entry.at.column));
    value.map_or(Own::Blank, |value| Own::Cell(value, entry.datum.as_ref().ok()))
}
