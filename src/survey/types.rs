//! The sheet `Types`: columns written once for many openings.

use std::collections::BTreeMap;

use crate::query::{Query, Severity};
use crate::schema::openings::TYPE;
use crate::tables::{self, Datum, Entry, ReadTable, TableRow, folded};

use super::queries::SurveyQuery;

/// The types of one survey, by their folded name.
pub(super) struct Types<'t> {
    rows: BTreeMap<String, Vec<&'t TableRow>>,
}

/// What a row's `Type` cell leads to.
#[derive(Debug)]
pub(super) enum Lookup<'t> {
    /// The cell is blank.
    None,
    /// The one row of that type.
    Row(&'t TableRow),
    /// No row has that type.
    Unknown {
        /// The type that is most like it, as written.
        nearest: Option<&'t str>,
    },
    /// Several rows have that type.
    Several,
    /// The cell could not be read.
    Unreadable,
}

impl<'t> Lookup<'t> {
    /// The row that fills blanks, if there is just one.
    pub fn row(&self) -> Option<&'t TableRow> {
        match self {
            Lookup::Row(row) => Some(row),
            _ => None,
        }
    }

    /// Whether a type is written that leads to no row.
    pub fn is_lost(&self) -> bool {
        match self {
            Lookup::None | Lookup::Row(_) => false,
            Lookup::Unknown { .. } | Lookup::Several | Lookup::Unreadable => true,
        }
    }
}

impl<'t> Types<'t> {
    /// The rows by type. A row without a type is a query.
    pub fn new(table: Option<&'t ReadTable>, queries: &mut Vec<Query>) -> Types<'t> {
        let mut rows: BTreeMap<String, Vec<&TableRow>> = BTreeMap::new();
        for row in table.iter().flat_map(|table| &table.rows) {
            match row.entry(&TYPE).and_then(name) {
                Some(name) => rows.entry(folded(name)).or_default().push(row),
                None => {
                    queries.push(Query::new(Severity::Check, &SurveyQuery::TypeWithoutName, Some(row.at)))
                }
            }
        }
        Types { rows }
    }

    /// What a row of `Openings` takes its blanks from.
    pub fn of(&self, row: &TableRow) -> Lookup<'t> {
        let Some(entry) = row.entry(&TYPE) else { return Lookup::None };
        let Some(wanted) = name(entry) else { return Lookup::Unreadable };
        match self.rows.get(&folded(wanted)).map(Vec::as_slice) {
            Some([row]) => Lookup::Row(row),
            Some(_) => Lookup::Several,
            None => Lookup::Unknown { nearest: self.nearest(wanted) },
        }
    }

    fn nearest(&self, wanted: &str) -> Option<&'t str> {
        let known = self.rows.values().filter_map(|rows| name(rows.first()?.entry(&TYPE)?));
        tables::nearest(wanted, known)
    }
}

fn name(entry: &Entry) -> Option<&str> {
    match &entry.datum {
        Ok(Datum::Text(text)) => Some(text),
        _ => None,
    }
}
