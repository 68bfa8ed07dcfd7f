//! The rows of every sheet that answers: those with the headings of `Queries` and something under
//! `Answer`, whatever the sheet is called, so that no round is lost.

use std::collections::HashMap;

use crate::date::Date;
use crate::grid::{Grid, Sheet, Value};
use crate::length::Unit;
use crate::name::{fold, folded};
use crate::place::CellRef;
use crate::query::{Answer, Query, Taken};
use crate::schema::Column;
use crate::schema::answers::{ANSWERS, AS_READ, BY, CODE, COLUMN, DETAILS, ON, OPENING, QUERY, ROOM, VALUE};
use crate::tables::{self, Datum, Entry, Found, Meanings, TableRow};

use super::{doubt, is_every_one, is_of_project};
use crate::survey::queries::AnswerQuery;

/// Rows of a sheet in which its headings are sought before it is read as answers.
const HEADING_ROWS: usize = 50;

/// One row that answers, or one opening of a row that answers for several.
#[derive(Clone)]
pub(in crate::survey) struct Line<'g> {
    pub grid: &'g Grid,
    pub code: String,
    pub query: String,
    pub opening: Option<Words>,
    pub column: Option<Words>,
    pub as_read: String,
    pub by: String,
    pub on: Option<Date>,
    pub details: String,
    /// The room of the opening.
    pub room: String,
    /// The answer, if there is one.
    pub value: Option<(CellRef, &'g Value)>,
}

/// What a line says, wherever it stands.
pub(in crate::survey) type Said = ([String; 5], [String; 3], Option<Date>);

/// What a cell says, and where.
#[derive(Clone)]
pub(in crate::survey) struct Words {
    pub text: String,
    pub at: CellRef,
}

impl Line<'_> {
    /// The answer's text; empty without one.
    pub fn answer(&self) -> String {
        self.value.map_or_else(String::new, |(_, value)| tables::shown(value).into_owned())
    }

    /// What is said, wherever it stands.
    pub fn said(&self) -> Said {
        let text =
            |words: &Option<Words>| words.as_ref().map_or_else(String::new, |words| words.text.clone());
        let asked = [&self.code, &self.query, &self.as_read, &self.by, &self.details].map(String::clone);
        (asked, [text(&self.opening), text(&self.column), self.answer()], self.on)
    }

    /// The answer as it was written, before it is known what becomes of it.
    pub fn answered(&self, at: CellRef) -> Answer {
        let text =
            |words: &Option<Words>| words.as_ref().map_or_else(String::new, |words| words.text.clone());
        Answer {
            code: self.code.clone(),
            query: self.query.clone(),
            opening: text(&self.opening),
            of: None,
            column: text(&self.column),
            as_read: self.as_read.clone(),
            answer: self.answer(),
            by: self.by.clone(),
            on: self.on,
            details: self.details.clone(),
            at,
            taken: Taken::NotUsed,
        }
    }
}

/// Whether a sheet answers queries: by its name, or by the headings of `Queries`.
pub(in crate::survey) fn answers_on(sheet: &Sheet) -> bool {
    let says = |value: &Value, wanted: &[&Column]| match value {
        Value::Text(text) => wanted.iter().any(|column| column.names().any(|name| fold(name) == fold(text))),
        _ => false,
    };
    let heads =
        |wanted: &[&Column], cells: &[(u16, Value)]| cells.iter().any(|(_, value)| says(value, wanted));
    tables::is_named(sheet, ANSWERS.sheet)
        || sheet.rows.iter().take(HEADING_ROWS).any(|row| {
            row.cells.len() > 3
                && [&VALUE, &COLUMN, &OPENING].into_iter().all(|column| heads(&[column], &row.cells))
                && heads(&[&QUERY, &CODE], &row.cells)
        })
}

/// Every line of a file that has an answer; a line for each opening where one answers for several.
pub(in crate::survey) fn lines<'g>(grid: &'g Grid, queries: &mut Vec<Query>) -> Vec<Line<'g>> {
    let mut lines = Vec::new();
    for sheet in grid.sheets.iter().filter(|sheet| answers_on(sheet)) {
        let tables = tables::found_on(sheet, &ANSWERS, &Meanings::default());
        let answering = |found: &&Found<'_>| {
            let has = |wanted: &Column| found.columns().any(|column| column == wanted);
            has(&COLUMN) && has(&VALUE)
        };
        let mut answering = tables.iter().filter(answering).peekable();
        if answering.peek().is_none() && !sheet.rows.is_empty() {
            queries.push(doubt(AnswerQuery::NoHeadings, sheet.at(0, 0), String::new()));
        }
        let mut listed = Vec::new();
        for found in answering {
            listed.extend(lines_of(grid, sheet, found, queries));
        }
        lines.extend(for_each_opening(listed, queries));
    }
    lines
}

/// The rows of a sheet that answer or are answered for. A blank `Query` is that of the row above.
fn lines_of<'g>(
    grid: &'g Grid,
    sheet: &'g Sheet,
    found: &Found<'g>,
    queries: &mut Vec<Query>,
) -> Vec<Line<'g>> {
    let (mut query, mut code) = (String::new(), String::new());
    let mut lines = Vec::new();
    // No column of answers holds a length: what they are read in makes no difference.
    for row in &found.read(Unit::Millimeter).rows {
        if let Some(asked) = words(row, &QUERY) {
            query = asked.text;
            code = String::new();
        }
        if let Some(named) = words(row, &CODE) {
            code = folded(&named.text);
        }
        let text = |column| words(row, column).map_or_else(String::new, |words| words.text);
        let value = row.entry(&VALUE).and_then(|entry| {
            let value = sheet.value(entry.at.row, entry.at.column)?;
            (!is_blank(entry, sheet)).then_some((entry.at, value))
        });
        lines.push(Line {
            grid,
            code: code.clone(),
            query: query.clone(),
            opening: words(row, &OPENING),
            column: words(row, &COLUMN),
            as_read: text(&AS_READ),
            by: text(&BY),
            on: row.entry(&ON).and_then(|entry| match &entry.datum {
                Ok(Datum::Date(date)) => Some(*date),
                _ if value.is_none() || is_blank(entry, sheet) => None,
                Ok(_) => None,
                Err(unread) => {
                    queries.push(doubt(AnswerQuery::DateUnread, entry.at, unread.written.clone()));
                    None
                }
            }),
            details: text(&DETAILS),
            room: text(&ROOM),
            value,
        });
    }
    lines
}

fn words(row: &TableRow, column: &Column) -> Option<Words> {
    let entry = row.entry(column)?;
    let text = match &entry.datum {
        Ok(Datum::Text(text)) => text.trim(),
        Ok(_) => "",
        Err(unread) => unread.written.as_str(),
    };
    (!text.is_empty()).then(|| Words { text: text.to_owned(), at: entry.at })
}

/// The lines that have an answer and, where one names no opening, a line for each opening that is
/// listed under the same query and column without an answer of its own.
fn for_each_opening<'g>(listed: Vec<Line<'g>>, queries: &mut Vec<Query>) -> Vec<Line<'g>> {
    let under = |line: &Line<'_>| {
        let asked = if line.code.is_empty() { folded(&line.query) } else { line.code.clone() };
        (asked, folded(&line.query), line.column.as_ref().map(|column| folded(&column.text)))
    };
    let names_one = |line: &Line<'_>| line.opening.as_ref().is_some_and(|words| !is_every_one(&words.text));
    let mut waiting: HashMap<_, Vec<Line<'g>>> = HashMap::new();
    let mut answered: HashMap<_, Vec<String>> = HashMap::new();
    for line in listed.iter().filter(|line| names_one(line)) {
        match line.value {
            None => waiting.entry(under(line)).or_default().push(line.clone()),
            Some(_) => answered.entry(under(line)).or_default().push(line.answer()),
        }
    }
    let mut lines = Vec::new();
    for line in listed {
        let Some((at, _)) = line.value else { continue };
        let is_for_several = line.opening.as_ref().is_some_and(|words| is_every_one(&words.text));
        if names_one(&line) || line.column.as_ref().is_some_and(is_of_headings) {
            lines.push(line);
            continue;
        }
        if line.opening.is_none() && line.column.as_ref().is_some_and(|column| is_of_project(&column.text)) {
            queries.push(doubt(AnswerQuery::OfProject, at, String::new()));
            continue;
        }
        let below = waiting.remove(&under(&line)).unwrap_or_default();
        if below.is_empty()
            && let Some(answered) = answered.get(&under(&line))
        {
            let says = line.answer();
            if answered.iter().any(|answer| *answer != says) {
                queries.push(doubt(AnswerQuery::ForNone, at, says));
            }
            continue;
        }
        if below.is_empty() && (line.column.is_some() || is_for_several) {
            queries.push(doubt(AnswerQuery::NoOpening, at, String::new()));
            continue;
        }
        if below.is_empty() {
            lines.push(line);
            continue;
        }
        lines.extend(below.into_iter().map(|of| Line {
            value: line.value,
            by: line.by.clone(),
            on: line.on,
            ..of
        }));
    }
    lines
}

/// Whether an answer says what a heading means.
pub(in crate::survey) fn is_of_headings(column: &Words) -> bool {
    folded(&column.text) == folded(crate::schema::headings::HEADINGS.sheet)
}

fn is_blank(entry: &Entry, sheet: &Sheet) -> bool {
    matches!(sheet.value(entry.at.row, entry.at.column), Some(Value::Text(text)) if text.trim().is_empty())
}
