//! `Queries`: what a person must answer or look at, a row for each cause, with room to answer.

use rust_xlsxwriter::Workbook;

use super::cell::Cell;
use super::layout::fixed;
use super::look::Tone;
use super::pages::{Column, Form, Frozen, Pages, span};
use super::sheet::{Keeping, Lie};
use super::{Press, WorkbookError};
use crate::query::{GatheredQuery, QueryPlace, Severity};

/// A cause names this many of its places; the rest have a row each below.
const LISTED: usize = 12;

pub(super) fn write(workbook: &mut Workbook, press: &Press<'_>) -> Result<(), WorkbookError> {
    let form = Form {
        name: fixed::QUERIES,
        title: "Queries",
        remarks: vec![
            "stop: the opening is held back until it is answered. check: sized all the same, but look. note: worth knowing.".into(),
            "Answer by mending the survey and running it again; the column Answer is for notes and is not read.".into(),
        ],
        keeping: Keeping::Disk,
        lie: Lie::Landscape,
        frozen: Frozen::Headings,
    };
    let mut pages = Pages::open(workbook, press, form)?;
    let columns = columns(press);
    pages.table(&columns, press.report.queries.iter().map(Row::Cause), Row::tone)?;
    if press.report.queries.is_empty() {
        pages.remark("No queries.")?;
    }
    let long = press.report.queries.iter().filter(|query| query.places.len() > LISTED);
    let rows = long.flat_map(|query| query.places.iter().map(move |place| Row::Place(query, place)));
    let mut rows = rows.peekable();
    if rows.peek().is_some() {
        pages.section("Every place of the causes that were too many to list", span(&columns))?;
        pages.rows(&columns, rows, |_| Tone::Body)?;
    }
    pages.finish()
}

/// A cause, or one place of a cause that has too many to list in a cell.
#[derive(Clone, Copy)]
enum Row<'p> {
    Cause(&'p GatheredQuery),
    Place(&'p GatheredQuery, &'p QueryPlace),
}

impl<'p> Row<'p> {
    fn query(self) -> &'p GatheredQuery {
        match self {
            Row::Cause(query) | Row::Place(query, _) => query,
        }
    }

    fn places(self) -> &'p [QueryPlace] {
        match self {
            Row::Cause(query) => &query.places,
            Row::Place(_, place) => std::slice::from_ref(place),
        }
    }

    fn tone(self) -> Tone {
        match self.query().severity {
            Severity::Stop => Tone::Held,
            Severity::Check | Severity::Note => Tone::Body,
        }
    }

    /// What `of` says of the places, as a list, with a count of those it leaves out.
    fn list(self, of: impl Fn(&'p QueryPlace) -> Option<String>) -> String {
        let mut listed: Vec<String> = self.places().iter().take(LISTED).filter_map(of).collect();
        listed.dedup();
        let left_out = self.places().len().saturating_sub(LISTED);
        if left_out > 0 && !listed.is_empty() {
            listed.push(format!("and {left_out} more, listed below"));
        }
        listed.join(", ")
    }
}

fn columns<'p>(press: &'p Press<'p>) -> Vec<Column<'p, Row<'p>>> {
    vec![
        Column::new("Severity", |row: Row<'p>| row.query().severity.to_string()).strong(),
        Column::new("Count", |row: Row<'p>| row.places().len()),
        Column::new("What is wrong", |row: Row<'p>| &*row.query().message).strong().wide(36),
        Column::new("What to do", |row: Row<'p>| &*row.query().hint).wide(36),
        Column::new("Where", |row: Row<'p>| row.list(|place| place.at.map(|at| press.cell(at)))).wide(24),
        Column::new("Openings", |row: Row<'p>| {
            row.list(|place| place.opening.map(|opening| press.name(opening).to_owned()))
        })
        .wide(24),
        Column::new("Details", |row: Row<'p>| {
            row.list(|place| match (place.detail.as_str(), place.opening) {
                ("", _) => None,
                (detail, Some(opening)) => Some(format!("{}: {detail}", press.name(opening))),
                (detail, None) => Some(detail.to_owned()),
            })
        })
        .wide(28),
        Column::new("Page", |row: Row<'p>| {
            let first = row.places().iter().find_map(|place| place.opening);
            first.map(|opening| Cell::Link(press.layout.page_of(opening), press.name(opening).into()))
        }),
        Column::new("Answer", |_: Row<'p>| Cell::Blank).written_in(28),
    ]
}
