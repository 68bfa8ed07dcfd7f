//! Lists of types: columns written once for many openings.

use std::collections::BTreeMap;

use crate::name::{self, folded};
use crate::query::Query;
use crate::schema::openings::TYPE;
use crate::tables::{Datum, Entry, TableRow};

use super::queries::SurveyQuery;
use super::table::Table;

/// The types of one survey, by their folded name.
pub(super) struct Types<'t> {
    rows: BTreeMap<String, Vec<TypeRow<'t>>>,
}

/// A row of a list of types.
#[derive(Clone, Copy)]
pub(super) struct TypeRow<'t> {
    /// The list that it is in.
    pub table: &'t Table,
    /// Its cells.
    pub row: &'t TableRow,
}

/// What a row's `Type` cell leads to.
pub(super) enum Lookup<'t> {
    /// The cell is blank.
    None,
    /// The one row of that type.
    Row(TypeRow<'t>),
    /// No row has that type.
    Unknown {
        /// The type that is most like it, as written.
        nearest: Option<&'t str>,
    },
    /// Nothing lists types: the cell may be a label alone.
    Unlisted,
    /// Several rows have that type.
    Several,
    /// The cell could not be read.
    Unreadable,
}

impl<'t> Lookup<'t> {
    /// The row that fills blanks, if there is just one.
    pub fn row(&self) -> Option<TypeRow<'t>> {
        match self {
            Lookup::Row(row) => Some(*row),
            _ => None,
        }
    }

    /// Whether a type is written that leads to no row.
    pub fn is_lost(&self) -> bool {
        match self {
            Lookup::None | Lookup::Row(_) => false,
            Lookup::Unknown { .. } | Lookup::Unlisted | Lookup::Several | Lookup::Unreadable => true,
        }
    }
}

impl<'t> Types<'t> {
    /// The rows by type. A row without a type is a query.
    pub fn new(tables: &'t [Table], queries: &mut Vec<Query>) -> Types<'t> {
        let mut rows: BTreeMap<String, Vec<TypeRow>> = BTreeMap::new();
        let listed = tables.iter().flat_map(|table| table.read.rows.iter().map(move |row| (table, row)));
        for (table, row) in listed {
            match row.entry(&TYPE).and_then(name) {
                Some(name) => rows.entry(folded(name)).or_default().push(TypeRow { table, row }),
                None => queries.push(Query::new(&SurveyQuery::TypeWithoutName, Some(row.at))),
            }
        }
        Types { rows }
    }

    /// What a row of `Openings` takes its blanks from.
    pub fn of(&self, row: &TableRow) -> Lookup<'t> {
        let Some(entry) = row.entry(&TYPE) else { return Lookup::None };
        let Some(wanted) = name(entry) else { return Lookup::Unreadable };
        match self.rows.get(&folded(wanted)).map(Vec::as_slice) {
            Some([row]) => Lookup::Row(*row),
            Some(_) => Lookup::Several,
            None if self.rows.is_empty() => Lookup::Unlisted,
            None => Lookup::Unknown { nearest: self.nearest(wanted) },
        }
    }

    fn nearest(&self, wanted: &str) -> Option<&'t str> {
        let known = self.rows.values().filter_map(|rows| name(rows.first()?.row.entry(&TYPE)?));
        name::nearest(wanted, known)
    }
}

fn name(entry: &Entry) -> Option<&str> {
    match &entry.datum {
        Ok(Datum::Text(text)) => Some(text),
        _ => None,
    }
}
