//! One survey file: its tables of openings, its types, and the rows that are openings.

use std::sync::Arc;

use crate::grid::{Grid, Sheet};
use crate::length::Units;
use crate::place::CellRef;
use crate::query::{Query, Severity};
use crate::schema::Column;
use crate::schema::openings::{BUILDING, FLOOR, NOTE, OPENING, OPENINGS, PHASE, QUANTITY, ROOM, UNIT};
use crate::tables::{self, Datum, ReadTable, TableRow};

use super::answers::{self, RowKey};
use super::carried::{Carried, Places};
use super::joined::Joined;
use super::queries::SurveyQuery;
use super::standing::{Standing, standing};
use super::texts::Texts;
use super::types::{Lookup, Types};
use super::{Identity, SurveyError, sheets};

/// One survey file, its cells read.
pub(super) struct File {
    survey: Arc<str>,
    openings: Vec<Table>,
    types: Option<Table>,
}

/// A table of openings or of types.
struct Table {
    sheet: String,
    read: ReadTable,
    carried: Places,
}

/// What the rows of a file are.
#[derive(Default)]
pub(super) struct Rows<'f> {
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

impl Table {
    fn read(sheet: &Sheet, units: Units, carried: &mut Carried) -> Table {
        let read = tables::read(sheet, &OPENINGS, units);
        Table { sheet: sheet.name.clone(), carried: carried.enter(&read), read }
    }
}

impl File {
    /// Reads the tables of a survey; without any it is an error.
    pub fn read(grid: &Grid, units: Units, carried: &mut Carried) -> Result<File, SurveyError> {
        let sheets = sheets::of_openings(grid)?;
        Ok(File {
            survey: Arc::from(grid.survey.as_str()),
            openings: sheets.into_iter().map(|sheet| Table::read(sheet, units, carried)).collect(),
            types: sheets::of_types(grid).map(|sheet| Table::read(sheet, units, carried)),
        })
    }

    /// The rows of each table of openings, for answers to be put in.
    pub fn opening_rows(&mut self) -> impl Iterator<Item = &mut [TableRow]> {
        self.openings.iter_mut().map(|table| table.read.rows.as_mut_slice())
    }

    /// The rows that are openings; what is odd about the others, and about the tables, is a query.
    /// A file must have a row with a size at least.
    pub fn rows(&self, queries: &mut Vec<Query>) -> Result<Rows<'_>, SurveyError> {
        for table in self.openings.iter().chain(&self.types) {
            queries.extend(table.read.queries.iter().cloned());
        }
        let types = Types::new(self.types.as_ref().map(|table| &table.read), queries);
        let mut rows = Rows::default();
        for table in &self.openings {
            for row in &table.read.rows {
                let lookup = types.of(row);
                let joined = Joined { row, of_type: lookup.row() };
                let (severity, query) = match standing(&table.read, joined, &lookup) {
                    Standing::Opening => {
                        rows.openings.push(Row { file: self, table, joined, lookup });
                        continue;
                    }
                    Standing::Nameless => {
                        rows.nameless += 1;
                        (Severity::Stop, SurveyQuery::Nameless)
                    }
                    Standing::Sizeless => (Severity::Note, SurveyQuery::Sizeless),
                    Standing::Total => (Severity::Note, SurveyQuery::Total),
                    Standing::Other => continue,
                };
                queries.push(Query::new(severity, &query, Some(row.at)));
            }
        }
        if rows.openings.is_empty() && rows.nameless == 0 {
            let sheets = self.openings.iter().map(|table| table.sheet.clone()).collect();
            return Err(SurveyError::NoRows { survey: self.survey.to_string(), sheets });
        }
        Ok(rows)
    }
}

impl Row<'_> {
    /// The cell that stands for the row: its id, or its first cell if that is blank or answered
    /// elsewhere.
    pub fn at(&self) -> CellRef {
        let row = self.joined.row;
        let id = row.entry(&OPENING).map(|entry| entry.at);
        id.filter(|at| at.sheet == row.at.sheet).unwrap_or(row.at)
    }

    /// The row itself.
    pub fn key(&self) -> RowKey {
        answers::row_of(self.joined.row.at)
    }

    /// Names and place, not yet named in the run. What cannot be read is empty here;
    /// [`Cells`](super::cells::Cells) raises it.
    pub fn identity(&self, carried: &Carried, texts: &mut Texts) -> Identity {
        let of_type = self.file.types.as_ref().zip(self.joined.of_type);
        let sources = of_type.map(|(types, row)| (&types.carried, row));
        let sources = sources.into_iter().chain([(&self.table.carried, self.joined.row)]);
        let carried = carried.texts(sources, texts);

        let mut text = |column: &Column| match self.joined.entry(column).map(|entry| &entry.datum) {
            Some(Ok(Datum::Text(text))) => texts.shared(text),
            _ => texts.shared(""),
        };
        Identity {
            written: text(&OPENING),
            name: text(&OPENING),
            survey: Arc::clone(&self.file.survey),
            at: self.at(),
            building: text(&BUILDING),
            floor: text(&FLOOR),
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
