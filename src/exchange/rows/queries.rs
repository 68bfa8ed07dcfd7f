//! What was assumed, and what must be asked.

use super::names;
use crate::exchange::columns::row;
use crate::query::{GatheredQuery, Severity};
use crate::report::Report;

row! {
    /// A value taken because a cell was blank.
    AssumptionRow<'a> {
        /// The column or project item.
        column: &'a str,
        /// What was taken.
        value: &'a str,
        /// For how many openings; 0 for a project item.
        openings: u64,
    }
}

row! {
    /// One cause with all its places.
    QueryRow<'a> {
        /// What it holds back.
        severity: Severity,
        /// The cells, in survey order.
        at: Vec<String>,
        /// What is special to each of those cells; empty where there is nothing.
        details: Vec<&'a str>,
        /// The openings, each once.
        openings: Vec<&'a str>,
        /// What is wrong.
        message: &'a str,
        /// What to do.
        hint: &'a str,
        /// The column of the survey that an answer would fill, if there is just one.
        column: Option<&'a str>,
    }
}

impl<'a> AssumptionRow<'a> {
    /// Every assumption, stage by stage.
    pub fn all(report: &'a Report<'_>) -> impl Iterator<Item = AssumptionRow<'a>> {
        report.assumptions.iter().map(|assumption| AssumptionRow {
            column: assumption.column.name,
            value: &assumption.value,
            openings: assumption.openings,
        })
    }
}

impl<'a> QueryRow<'a> {
    /// Every query: stops, then checks, then notes.
    pub fn all(report: &'a Report<'_>) -> impl Iterator<Item = QueryRow<'a>> {
        report.queries.iter().map(|query| QueryRow::of(query, report))
    }

    fn of(query: &'a GatheredQuery, report: &'a Report<'_>) -> QueryRow<'a> {
        let cells =
            query.places.iter().filter_map(|place| Some((report.sheets.show(place.at?), &*place.detail)));
        let (at, details) = cells.unzip();
        // The places of one opening stand together, because every stage goes in survey order.
        let mut openings: Vec<_> = query.places.iter().filter_map(|place| place.opening).collect();
        openings.dedup();
        QueryRow {
            severity: query.severity,
            at,
            details,
            openings: names(report, &openings),
            message: &query.message,
            hint: &query.hint,
            column: query.fills(),
        }
    }
}
