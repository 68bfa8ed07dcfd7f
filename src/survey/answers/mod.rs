//! Answers to the queries of earlier runs: cells that stand in place of the survey's own.
//!
//! An answer takes the place of one cell of an opening's row, above its type, and keeps its own
//! address, so that queries and explanations cite it. It is read as that cell would be: a bare
//! number is in the unit that its `Column` names, else in that of the opening's own heading, else
//! in the survey's. It fills or replaces that cell and no other, so no measurement is lost: an answer
//! for `Width` beside three measured widths is one more of them.
//!
//! Nothing is worse than before an answer. One that accepts leaves the cell as it is; so does one
//! that cannot be read, with a check. One whose `As read` is no longer what the survey says holds the
//! opening, and both are shown. Of answers for one cell that differ the one with the latest date is
//! used, with a note; without dates they hold the opening. Items of `Project` are not answered here:
//! two sheets would say what holds for the whole survey.
//!
//! An answer beside `all 14`, or without an opening, is for each opening listed under the same
//! query and column that has none of its own.

mod lines;
mod rows;

use std::collections::{BTreeMap, HashMap};

use crate::grid::{Grid, Value};
use crate::length::Unit;
use crate::name::{self, folded};
use crate::place::{CellRef, SheetId};
use crate::query::{Answer, OpeningIndex, Query, Taken, did_you_mean};
use crate::rules::columns::project::PROJECT;
use crate::schema::answers::accepts;
use crate::schema::openings::OPENINGS;
use crate::schema::{Column, Table};
use crate::tables::{self, Entry, Fault, TableRow, Unread};

pub(super) use lines::{Line, answers_on, is_of_headings, lines};

use super::as_read::{self, Own};
use super::queries::AnswerQuery;
use super::{Identity, Layout};
use rows::Rows;

/// Unknown openings for which the nearest name is sought: each search looks at every opening.
const NEAREST_SOUGHT: usize = 100;

/// A row of a survey, by its sheet and its place there.
pub(super) type RowKey = (SheetId, u32);

/// The row that a cell stands in.
pub(super) const fn row_of(at: CellRef) -> RowKey {
    (at.sheet, at.row)
}

/// How the opening of an answer is written that is for every opening under its query: `all 14`.
pub fn every_one_of(count: usize) -> String {
    format!("{ALL} {count}")
}

/// Begins it.
const ALL: &str = "all";

fn is_every_one(opening: &str) -> bool {
    let rest = folded(opening);
    let count = rest.strip_prefix(ALL).map(str::trim);
    count.is_some_and(|count| count.bytes().all(|digit| digit.is_ascii_digit()))
}

/// The surveys as they stand, for answers to be held against.
pub(super) struct Standing<'s> {
    pub layouts: &'s [Layout<'s>],
    /// Each opening, named, with its row.
    pub openings: &'s [(RowKey, Identity)],
    /// What a row says in a column.
    pub own: &'s dyn Fn(RowKey, &Column) -> Own<'s>,
    /// The unit of a length that names none.
    pub bare: Unit,
}

/// What the answers make of each row.
#[derive(Default)]
pub(super) struct Applied {
    cells: BTreeMap<RowKey, Vec<(&'static Column, Entry)>>,
    answers: Vec<(Answer, Option<RowKey>)>,
}

/// An answer on its way to its cell.
struct Candidate {
    /// Its position among the answers.
    at: usize,
    column: &'static Column,
    /// What it says; `None` if the cell stands as it is.
    entry: Option<Entry>,
}

/// Finds the row and the column of each answer, and what it says there.
pub(super) fn settle<'s>(
    lines: &[Line<'_>],
    standing: &'s Standing<'s>,
    queries: &mut Vec<Query>,
) -> Applied {
    let mut settling = Settling {
        rows: Rows::new(standing.layouts, standing.openings),
        headings: Headings::default(),
        sought: 0,
        standing,
        queries,
    };
    let mut answers: Vec<(Answer, Option<RowKey>)> = Vec::with_capacity(lines.len());
    let mut candidates: BTreeMap<(RowKey, usize), Vec<Candidate>> = BTreeMap::new();
    for line in lines {
        let Some((at, value)) = line.value else { continue };
        let mut answer = answer_of(line, at);
        let position = answers.len();
        let (row, candidate) = settling.line(line, (at, value), &mut answer);
        if let (Some(row), Some((column, entry))) = (row, candidate) {
            let candidate = Candidate { at: position, column, entry };
            candidates.entry((row, column.slot)).or_default().push(candidate);
        }
        answers.push((answer, row));
    }
    let mut applied = Applied { cells: BTreeMap::new(), answers };
    for ((row, _), candidates) in candidates {
        applied.cells.entry(row).or_default().extend(agreed(candidates, &mut applied.answers, queries));
    }
    applied
}

/// What answers are settled with.
struct Settling<'s, 'q> {
    rows: Rows<'s>,
    headings: Headings,
    sought: usize,
    standing: &'s Standing<'s>,
    queries: &'q mut Vec<Query>,
}

/// What an answer says of a cell: its column, and what to put there unless it stands as it is.
type Said = Option<(&'static Column, Option<Entry>)>;

impl Settling<'_, '_> {
    /// The row that a line is for and what it says there; `answer` is told what became of it.
    fn line(
        &mut self,
        line: &Line<'_>,
        (at, value): (CellRef, &Value),
        answer: &mut Answer,
    ) -> (Option<RowKey>, Said) {
        let Some(written) = &line.column else {
            let row = line.opening.as_ref().and_then(|opening| self.rows.find(&opening.text, line.grid).ok());
            match accepts(&answer.answer, None) {
                true => answer.taken = Taken::Accepted,
                false => self.queries.push(doubt(AnswerQuery::OnlyAccepted, at, answer.answer.clone())),
            }
            return (row, None);
        };
        if is_of_headings(written) {
            answer.taken = if accepts(&answer.answer, None) { Taken::Accepted } else { Taken::Value };
            return (None, None);
        }
        let (column, named_unit) = match self.headings.known(&written.text) {
            Ok(known) => known,
            Err(query) => {
                let names = || OPENINGS.columns.iter().flat_map(|column| column.names());
                let nearest = name::nearest(&written.text, names());
                self.queries.push(doubt(query, written.at, quoted(&written.text, nearest)));
                return (None, None);
            }
        };
        let accepting = accepts(&answer.answer, Some(column));
        let Some(opening) = &line.opening else { return (None, None) };
        let row = match self.rows.find(&opening.text, line.grid) {
            Ok(row) => row,
            Err(query) => {
                self.sought += 1;
                let nearest =
                    (self.sought <= NEAREST_SOUGHT).then(|| self.rows.nearest(&opening.text)).flatten();
                self.queries.push(doubt(query, opening.at, quoted(&opening.text, nearest)));
                return (None, None);
            }
        };
        let own_unit = self.rows.heading_unit(row, column);
        let bare = self.standing.bare;
        let own = (self.standing.own)(row, column);
        let entry = match tables::read_value(value, column, named_unit.or(own_unit), bare) {
            _ if accepting => None,
            Ok(datum) => Some(Entry { at, datum: Ok(datum) }),
            Err(unread) => {
                let query = AnswerQuery::Unreadable { column: column.name };
                self.queries.push(doubt(query, at, format!("{}: {}", unread.written, unread.message)));
                return (Some(row), None);
            }
        };
        let is_settled =
            |entry: &Entry| own.datum(column, own_unit, bare) == entry.datum.as_ref().ok().cloned();
        if entry.as_ref().is_some_and(is_settled) {
            answer.taken = Taken::Settled;
            let detail = format!("{}: {}", column.name, answer.answer);
            self.queries.push(doubt(AnswerQuery::Settled, at, detail));
            return (Some(row), None);
        }
        if !as_read::is_same(&answer.as_read, &own, column, own_unit, bare) {
            let both = format!("{} then, {} now", answer.as_read, own.shown(column, own_unit, bare));
            if accepting {
                self.queries.push(doubt(AnswerQuery::AcceptedChanged, at, both));
                return (Some(row), None);
            }
            let changed = AnswerQuery::Changed { column: column.name };
            let written = format!("{both}, answer {}", answer.answer);
            let unread = Unread::of(&changed, Fault::Contradicted, written);
            return (Some(row), Some((column, Some(Entry { at, datum: Err(Box::new(unread)) }))));
        }
        answer.taken = if accepting { Taken::Accepted } else { Taken::Value };
        (Some(row), Some((column, entry)))
    }
}

/// An answer as it was written, before it is known what becomes of it.
fn answer_of(line: &Line<'_>, at: CellRef) -> Answer {
    let text =
        |words: &Option<lines::Words>| words.as_ref().map_or_else(String::new, |words| words.text.clone());
    Answer {
        code: line.code.clone(),
        query: line.query.clone(),
        opening: text(&line.opening),
        of: None,
        column: text(&line.column),
        as_read: line.as_read.clone(),
        answer: line.answer(),
        by: line.by.clone(),
        on: line.on,
        details: line.details.clone(),
        at,
        taken: Taken::NotUsed,
    }
}

/// What the answers for one cell come to: they are the same, or the latest is used; else they hold
/// the opening. A cell that stands as it is differs from a value only where the same query is answered.
fn agreed(
    candidates: Vec<Candidate>,
    answers: &mut [(Answer, Option<RowKey>)],
    queries: &mut Vec<Query>,
) -> Option<(&'static Column, Entry)> {
    let code = |candidate: &Candidate| answers[candidate.at].0.code.clone();
    let values: Vec<&Candidate> = candidates.iter().filter(|candidate| candidate.entry.is_some()).collect();
    let codes: Vec<String> = values.iter().map(|candidate| code(candidate)).collect();
    let one = values.first()?;
    let is_rival = |candidate: &&Candidate| candidate.entry.is_some() || codes.contains(&code(candidate));
    let rivals: Vec<&Candidate> = candidates.iter().filter(is_rival).collect();
    let said = |candidate: &Candidate| candidate.entry.as_ref().map(|entry| entry.datum.clone());
    let column = one.column;
    let differ = rivals.iter().any(|candidate| said(candidate) != said(one));
    if !differ {
        return one.entry.clone().map(|entry| (column, entry));
    }
    let dates: Option<Vec<_>> = rivals.iter().map(|candidate| answers[candidate.at].0.on).collect();
    let latest = dates.as_ref().and_then(|dates| dates.iter().max().copied());
    let winners: Vec<&&Candidate> =
        rivals.iter().filter(|candidate| latest.is_some() && answers[candidate.at].0.on == latest).collect();
    let winner = winners.first().filter(|first| winners.iter().all(|other| said(other) == said(first)));
    let Some(winner) = winner else {
        let query = AnswerQuery::Differ { column: column.name };
        let datum = Err(Box::new(Unread::of(&query, Fault::Contradicted, "")));
        let at = answers[one.at].0.at;
        for rival in &rivals {
            answers[rival.at].0.taken = Taken::NotUsed;
        }
        return Some((column, Entry { at, datum }));
    };
    for rival in rivals.iter().filter(|rival| said(rival) != said(winner)) {
        let answer = &mut answers[rival.at].0;
        answer.taken = Taken::Replaced;
        let detail = format!("{}: {}", column.name, answer.answer);
        queries.push(doubt(AnswerQuery::Replaced, answer.at, detail));
    }
    winner.entry.clone().map(|entry| (column, entry))
}

impl Applied {
    /// Puts the answers in the rows of a table that they are for.
    pub fn put_into(&self, rows: &mut [TableRow]) {
        for row in rows {
            for (column, entry) in self.cells.get(&row_of(row.at)).into_iter().flatten() {
                row.answer(column, entry.clone());
            }
        }
    }

    /// Says which cells are taken from answers, and gives back every answer with what became of it.
    /// `openings` tells which row is which opening now.
    pub fn tell(
        self,
        openings: impl Iterator<Item = RowKey>,
        grids: &[Grid],
        queries: &mut Vec<Query>,
    ) -> Vec<Answer> {
        if self.answers.is_empty() {
            return Vec::new();
        }
        let index: HashMap<RowKey, OpeningIndex> = openings.zip(0..).collect();
        for (row, cells) in &self.cells {
            for (column, entry) in cells.iter().filter(|(_, entry)| entry.datum.is_ok()) {
                let taken = Query::new(&AnswerQuery::Taken, Some(entry.at));
                let taken = taken.with_detail(format!("{}: {}", column.name, written(grids, entry.at)));
                queries.push(match index.get(row) {
                    Some(opening) => taken.about(*opening),
                    None => taken,
                });
            }
        }
        let of = |(answer, row): (Answer, Option<RowKey>)| Answer {
            of: row.and_then(|row| index.get(&row).copied()),
            ..answer
        };
        self.answers.into_iter().map(of).collect()
    }
}

/// What is said of an answer.
pub(super) fn doubt(query: AnswerQuery, at: CellRef, detail: String) -> Query {
    Query::new(&query, Some(at)).with_detail(detail)
}

pub(super) fn quoted(written: &str, nearest: Option<&str>) -> String {
    match nearest {
        Some(nearest) => format!("\"{written}\": {}", did_you_mean(nearest)),
        None => format!("\"{written}\""),
    }
}

/// What a cell says, as written.
fn written(grids: &[Grid], at: CellRef) -> String {
    let sheet = grids.iter().flat_map(|grid| &grid.sheets).find(|sheet| sheet.id == at.sheet);
    sheet.and_then(|sheet| sheet.value(at.row, at.column)).map_or_else(String::new, tables::as_written)
}

fn is_of_project(heading: &str) -> bool {
    let known = |table: &'static Table| tables::heading(heading, table).is_some();
    known(&PROJECT) && !known(&OPENINGS)
}

/// The columns that answers name, each text looked up once.
#[derive(Default)]
struct Headings {
    known: HashMap<String, Result<(&'static Column, Option<Unit>), AnswerQuery>>,
}

impl Headings {
    fn known(&mut self, written: &str) -> Result<(&'static Column, Option<Unit>), AnswerQuery> {
        let look_up = || match tables::heading(written, &OPENINGS) {
            Some(known) => Ok(known),
            None if is_of_project(written) => Err(AnswerQuery::OfProject),
            None => Err(AnswerQuery::UnknownColumn),
        };
        self.known.entry(written.to_owned()).or_insert_with(look_up).clone()
    }
}
