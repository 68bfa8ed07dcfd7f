//! What was assumed, and what must be asked.

use super::names;
use crate::assumptions::Assumption;
use crate::query::{GatheredQuery, OpeningIndex, Severity};
use crate::report::Report;
use crate::report::figure::row;

/// A value taken because a cell was blank.
#[derive(Clone, Copy)]
pub struct AssumptionRow<'r>(&'r Assumption);

row! {
    /// A value assumed because a cell was blank.
    AssumptionRow<'r>: row {
        /// The column or project item.
        column: &'r str = row.0.column.name;
        /// The value assumed.
        value: &'r str = &row.0.value;
        /// How many openings it applies to; 0 for a project item.
        openings: u64 = row.0.openings;
    }
}

impl<'r> AssumptionRow<'r> {
    /// Every assumption, stage by stage.
    pub fn all(report: &'r Report<'r>) -> impl Iterator<Item = AssumptionRow<'r>> {
        report.assumptions.iter().map(AssumptionRow)
    }
}

/// One cause with all its places.
#[derive(Clone, Copy)]
pub struct QueryRow<'r> {
    report: &'r Report<'r>,
    query: &'r GatheredQuery,
}

row! {
    /// One cause, with every place it applies to.
    QueryRow<'r>: row {
        /// Its short lasting name.
        code: &'static str = row.query.code;
        /// `stop`: the opening is held back; `check`: sized, but please check; `note`: for information.
        severity: Severity = row.query.severity;
        /// The cells, in survey order.
        at: Vec<String> = row.cells().map(|(at, _)| at).collect();
        /// The detail for each of those cells, in their order; empty where there is none.
        details: Vec<&'r str> = row.cells().map(|(_, detail)| detail).collect();
        /// Names of the openings it applies to, each once.
        openings: Vec<&'r str> = names(row.report, &row.openings_once());
        /// What is wrong.
        message: &'r str = &row.query.message;
        /// What to do.
        hint: &'r str = &row.query.hint;
        /// The survey column that an answer would fill; null unless there is exactly one.
        column: Option<&'r str> = row.query.fills;
        /// What the survey says there, for each of those cells; empty without such a column.
        as_read: Vec<&'r str> = row.texts_read();
    }
}

impl<'r> QueryRow<'r> {
    /// Every query: stops, then checks, then notes.
    pub fn all(report: &'r Report<'r>) -> impl Iterator<Item = QueryRow<'r>> {
        report.queries.iter().map(move |query| QueryRow { report, query })
    }

    fn cells(self) -> impl Iterator<Item = (String, &'r str)> {
        let places = self.query.places.iter();
        places.filter_map(move |place| Some((self.report.sheets.show(place.at?), &*place.detail)))
    }

    fn texts_read(self) -> Vec<&'r str> {
        let places = self.query.places.iter().filter(|place| place.at.is_some());
        let fills = self.query.fills.is_some();
        places.filter(|_| fills).map(|place| self.report.as_read(place)).collect()
    }

    /// The places of one opening stand together, because every stage goes in survey order.
    fn openings_once(self) -> Vec<OpeningIndex> {
        let mut openings: Vec<_> = self.query.places.iter().filter_map(|place| place.opening).collect();
        openings.dedup();
        openings
    }
}
