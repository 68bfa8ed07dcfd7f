//! `Queries`: what a person must answer or look at, a row for each cause, then a row for each place
//! that may want an answer of its own. Copied whole into a survey, it is read.
//!
//! A note has one row on `Queries`, with its count; stops and checks are listed one by one,
//! whatever their number, but for a heading's, which one answer settles.

use super::cell::Cell;
use super::layout::fixed;
use super::look::Tone;
use super::pages::{Column, Form, Frozen, Pages, span};
use super::paper::Lie;
use super::{Press, Written};
use crate::query::{GatheredQuery, QueryPlace, Severity};
use crate::schema::answers::{self, ANSWERS};
use crate::schema::headings::HEADINGS;
use crate::survey::every_one_of;

/// A cause names this many of its places; where there are more, each has a row below, unless it is
/// a note.
const LISTED: usize = 12;

pub(super) fn write(press: &Press<'_>) -> Written {
    let form = Form {
        name: fixed::QUERIES,
        title: "Queries",
        remarks: vec![
            "stop: the opening is held until you answer. check: sized anyway, but please check. note: for information.".into(),
            format!(
                "To answer: under Answer, write what the survey column should say, or ok to accept a check as it is. Copy this whole sheet into the survey, name the copy {} (the next {} 2), and run again.",
                ANSWERS.sheet, ANSWERS.sheet
            )
            .into(),
            "No box means that no single cell would settle it: correct the survey itself, as What to do says.".into(),
            "An answer for all openings of a query does not apply to those answered one by one below. A number without a unit is in the unit of the survey column.".into(),
        ],
        lie: Lie::Landscape,
        frozen: Frozen::Headings,
    };
    let mut pages = Pages::open(press, form)?;
    let columns = columns(press);
    pages.table(&columns, press.report.queries.iter().map(Row::Cause), Row::tone)?;
    if press.report.queries.is_empty() {
        pages.remark("No queries.")?;
    }
    let spread = press.report.queries.iter().filter(|query| goes_one_by_one(query));
    let rows = spread.flat_map(|query| query.places.iter().map(move |place| Row::Place(query, place)));
    let mut rows = rows.peekable();
    if rows.peek().is_some() {
        pages.section("One by one", span(&columns))?;
        pages.rows(&columns, rows, |_| Tone::Body)?;
    }
    pages.finish()
}

/// Whether each place of a cause has a row: any of them may be answered or accepted apart. A note
/// wants nothing: its count says how often it holds. A heading is answered once for all rows.
fn goes_one_by_one(query: &GatheredQuery) -> bool {
    query.places.len() > 1 && query.severity != Severity::Note && !is_of_a_heading(query)
}

/// Whether an answer would say what a heading means.
fn is_of_a_heading(query: &GatheredQuery) -> bool {
    query.fills == Some(HEADINGS.sheet)
}

/// A cause, or one place of a cause.
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

    /// Whether an answer may stand on this row: one that fills a cell, or accepts a check.
    fn takes_an_answer(self) -> bool {
        self.fills().is_some() || self.query().severity == Severity::Check
    }

    /// What the survey says in the one place that an answer on this row would fill.
    fn as_read(self, press: &'p Press<'p>) -> &'p str {
        match self.places() {
            [place] => press.report.as_read(place),
            [place, ..] if is_of_a_heading(self.query()) => press.report.as_read(place),
            _ => "",
        }
    }

    /// The room of the one opening that an answer on this row would be for.
    fn room(self, press: &'p Press<'p>) -> &'p str {
        match self.places() {
            [QueryPlace { opening: Some(opening), .. }] => &press.report.survey.openings[*opening].who.room,
            _ => "",
        }
    }

    /// The column that an answer on this row would fill.
    fn fills(self) -> Option<&'static str> {
        match self {
            Row::Cause(query) => query.fills,
            Row::Place(_, place) => place.fills,
        }
    }

    /// What is said of the cause alone.
    fn of_cause<T>(self, of: impl Fn(&'p GatheredQuery) -> T) -> Option<T> {
        match self {
            Row::Cause(query) => Some(of(query)),
            Row::Place(..) => None,
        }
    }

    /// The openings that an answer on this row would be for, or else those that it is about.
    fn openings(self, press: &Press<'_>) -> String {
        match self.places() {
            places @ [_, _, ..] if goes_one_by_one(self.query()) => every_one_of(places.len()),
            _ => self.list(|place| named(press, place)),
        }
    }

    /// What is special to each place, with its opening's name where there are several.
    fn details(self, press: &Press<'_>) -> String {
        let answered = goes_one_by_one(self.query());
        let several = self.places().len() > 1;
        self.list(|place| match (place.detail.as_str(), named(press, place).filter(|_| several)) {
            ("", name) => name.filter(|_| answered),
            (detail, Some(name)) => Some(format!("{name}: {detail}")),
            (detail, None) => Some(detail.to_owned()),
        })
    }

    /// What `of` says of the places, as a list, with a count of those it leaves out.
    fn list(self, of: impl Fn(&'p QueryPlace) -> Option<String>) -> String {
        let mut listed: Vec<String> = self.places().iter().take(LISTED).filter_map(of).collect();
        listed.dedup();
        let left_out = self.places().len().saturating_sub(LISTED);
        if left_out > 0 && !listed.is_empty() {
            let where_else = if goes_one_by_one(self.query()) { ", listed below" } else { "" };
            listed.push(format!("and {left_out} more{where_else}"));
        }
        listed.join(", ")
    }
}

/// The opening that a place is about; without one, its cell.
fn named(press: &Press<'_>, place: &QueryPlace) -> Option<String> {
    let cell = || place.at.map(|at| press.cell(at));
    place.opening.map(|opening| press.name(opening).to_owned()).or_else(cell)
}

fn columns<'p>(press: &'p Press<'p>) -> Vec<Column<'p, Row<'p>>> {
    vec![
        Column::new(answers::CODE.name, |row: Row<'p>| row.query().code),
        Column::new("Severity", |row: Row<'p>| row.query().severity.to_string()).strong(),
        Column::new("Count", |row: Row<'p>| row.of_cause(|query| query.places.len())),
        Column::new(answers::QUERY.name, |row: Row<'p>| &*row.query().message).strong().wide(34),
        Column::new("What to do", |row: Row<'p>| row.of_cause(|query| &*query.hint)).wide(34),
        Column::new(answers::OPENING.name, |row: Row<'p>| row.openings(press)).wide(20),
        Column::new(answers::ROOM.name, |row: Row<'p>| row.room(press)).wide(14),
        Column::new(answers::COLUMN.name, |row: Row<'p>| row.fills().map(str::to_owned)).wide(14),
        Column::new(answers::AS_READ.name, |row: Row<'p>| row.as_read(press)).wide(14),
        Column::new(answers::VALUE.name, |_: Row<'p>| Cell::Blank).written_in_where(18, Row::takes_an_answer),
        Column::new(answers::BY.name, |_: Row<'p>| Cell::Blank).written_in_where(10, Row::takes_an_answer),
        Column::new(answers::ON.name, |_: Row<'p>| Cell::Blank).written_in_where(10, Row::takes_an_answer),
        Column::new("Where", |row: Row<'p>| row.list(|place| place.at.map(|at| press.cell(at)))).wide(22),
        Column::new(answers::DETAILS.name, |row: Row<'p>| row.details(press)).wide(30),
        Column::new("Page", |row: Row<'p>| {
            let first = row.places().iter().find_map(|place| place.opening);
            first.map(|opening| Cell::Link(press.layout.page_of(opening), press.name(opening).into()))
        }),
    ]
}
