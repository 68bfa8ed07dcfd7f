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

mod agree;
mod lines;
mod rows;

use std::collections::{BTreeMap, HashMap};

use crate::grid::{Grid, Value};
use crate::length::Unit;
use crate::name::{self, folded};
use crate::place::{CellRef, Sheets};
use crate::query::{Answer, OpeningIndex, Query, Taken, did_you_mean};
use crate::rules::columns::project::PROJECT;
use crate::schema::answers::accepts;
use crate::schema::openings::{OPENING, OPENINGS, ROOM};
use crate::schema::{Column, Table};
use crate::tables::{self, Datum, Entry, Fault, TableRow, Unread};

use agree::{Candidate, Says, agreed};
pub(super) use lines::{Line, answers_on, is_of_headings, lines};

use super::Identity;
use super::as_read::{self, Own};
use super::queries::AnswerQuery;
use super::table::Table as ReadTable;
use rows::Rows;

/// Unknown openings for which the nearest name is sought: each search looks at every opening.
const NEAREST_SOUGHT: usize = 100;

/// A row of a survey, by its first cell: no two rows share one, side by side or not.
pub(super) type RowKey = CellRef;

/// Every row of the tables of openings, whatever it is, with its table.
pub(super) type EveryRow<'s> = BTreeMap<RowKey, (&'s ReadTable, &'s TableRow)>;

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
    pub grids: &'s [Grid],
    /// The names of their sheets.
    pub sheets: &'s Sheets,
    pub every: &'s EveryRow<'s>,
    /// Each opening, named, with its row.
    pub openings: &'s [(RowKey, Identity)],
    /// What a row says in a column.
    pub own: &'s dyn Fn(RowKey, &Column) -> Own<'s>,
    /// What became of answers that say what a heading means, by their cell.
    pub of_headings: &'s BTreeMap<CellRef, Taken>,
    /// The unit of a length that names none.
    pub bare: Unit,
}

/// What the answers make of each row.
#[derive(Default)]
pub(super) struct Applied {
    cells: BTreeMap<RowKey, Vec<(&'static Column, Entry)>>,
    answers: Vec<(Answer, Option<RowKey>)>,
    /// What is asked about answers, with the row that it is about.
    asked: Vec<(Query, Option<RowKey>)>,
}

/// Finds the row and the column of each answer, and what it says there.
pub(super) fn settle<'s>(lines: &[Line<'_>], standing: &'s Standing<'s>) -> Applied {
    let mut settling = Settling {
        rows: Rows::new(standing.grids, standing.every, standing.openings),
        columns: ColumnsNamed::default(),
        sought: 0,
        standing,
        candidates: BTreeMap::new(),
        asked: Vec::new(),
    };
    let mut answers: Vec<(Answer, Option<RowKey>)> = Vec::with_capacity(lines.len());
    for line in lines {
        let Some((at, value)) = line.value else { continue };
        let mut answer = line.answered(at);
        let row = settling.read(line, (at, value), answers.len(), &mut answer);
        answers.push((answer, row));
    }
    let Settling { candidates, mut asked, .. } = settling;
    let mut cells: BTreeMap<RowKey, Vec<(&'static Column, Entry)>> = BTreeMap::new();
    for ((row, _), candidates) in candidates {
        let mut raised = Vec::new();
        cells.entry(row).or_default().extend(agreed(candidates, &mut answers, standing.sheets, &mut raised));
        asked.extend(raised.into_iter().map(|query| (query, Some(row))));
    }
    Applied { cells, answers, asked }
}

/// What answers are settled with.
struct Settling<'s> {
    rows: Rows<'s>,
    columns: ColumnsNamed,
    sought: usize,
    standing: &'s Standing<'s>,
    /// What is said of each cell, by its row and the column's slot.
    candidates: BTreeMap<(RowKey, usize), Vec<Candidate>>,
    asked: Vec<(Query, Option<RowKey>)>,
}

impl Settling<'_> {
    fn ask(&mut self, query: AnswerQuery, at: CellRef, detail: String) {
        self.asked.push((doubt(query, at, detail), None));
    }

    /// Reads the answer of a line, the one at `position`, and enters what it says of a cell. Back
    /// comes the row that it is for; `answer` is told what became of it.
    fn read(
        &mut self,
        line: &Line<'_>,
        (at, value): (CellRef, &Value),
        position: usize,
        answer: &mut Answer,
    ) -> Option<RowKey> {
        let Some(written) = &line.column else {
            match accepts(&answer.answer, None) {
                true => answer.taken = Taken::Accepted,
                false => self.ask(AnswerQuery::OnlyAccepted, at, answer.answer.clone()),
            }
            return line.opening.as_ref().and_then(|opening| self.rows.find(&opening.text, line.grid).ok());
        };
        if is_of_headings(written) {
            answer.taken = self.standing.of_headings.get(&at).copied().unwrap_or(Taken::NotUsed);
            return None;
        }
        let (column, named_unit) = match self.columns.known(&written.text) {
            Ok(known) => known,
            Err(query) => {
                let names = OPENINGS.columns.iter().flat_map(|column| column.names());
                let nearest = name::nearest(&written.text, names);
                self.ask(query, written.at, quoted(&written.text, nearest));
                return None;
            }
        };
        column.name.clone_into(&mut answer.column);
        let accepting = accepts(&answer.answer, Some(column));
        let opening = line.opening.as_ref()?;
        let row = match self.rows.find(&opening.text, line.grid) {
            Ok(row) => row,
            Err(AnswerQuery::SeveralOpenings) if !accepting => {
                // Whichever it is for, it must not be made without it.
                let query = AnswerQuery::ForOneOfSeveral { column };
                let unread = Unread::of(&query, Fault::Contradicted, quoted(&opening.text, None));
                for row in self.rows.named(&opening.text, line.grid) {
                    let datum = Err(Box::new(unread.clone()));
                    let says = Says::Outdated(Entry { at, datum });
                    let said = self.candidates.entry((row, column.slot)).or_default();
                    said.push(Candidate { at: position, column, says });
                }
                return None;
            }
            Err(query) => {
                self.sought += 1;
                let nearest =
                    (self.sought <= NEAREST_SOUGHT).then(|| self.rows.nearest(&opening.text)).flatten();
                self.ask(query, opening.at, quoted(&opening.text, nearest));
                return None;
            }
        };
        let says = self.says(line, (at, value), (row, column, named_unit), answer);
        self.candidates.entry((row, column.slot)).or_default().push(Candidate { at: position, column, says });
        Some(row)
    }

    /// What an answer says of the cell that it is for.
    fn says(
        &self,
        line: &Line<'_>,
        (at, value): (CellRef, &Value),
        (row, column, named_unit): (RowKey, &'static Column, Option<Unit>),
        answer: &mut Answer,
    ) -> Says {
        let bare = self.standing.bare;
        let (table, own_row) = self.standing.every[&row];
        let heading = table.unit_of(column);
        let own = (self.standing.own)(row, column);
        let accepting = accepts(&answer.answer, Some(column));
        let datum = match tables::read_value(value, column, named_unit.or(heading), bare) {
            _ if accepting => None,
            Ok(datum) => Some(datum),
            Err(unread) => {
                let detail = unread.in_words();
                return Says::Unreadable(doubt(AnswerQuery::Unreadable { column }, at, detail));
            }
        };
        if let Some(datum) = datum.as_ref().filter(|datum| own.datum() == Some(datum)) {
            return Says::Settled(datum.clone());
        }
        let now = own.shown(column, heading, bare);
        let is_another_row = || {
            // A running number goes over to another row when one is put in above it.
            let is_numbered = own_row.entry(&OPENING).is_none() && !line.room.is_empty();
            let room = match own_row.entry(&ROOM).map(|entry| &entry.datum) {
                Some(Ok(Datum::Text(room))) => room,
                _ => "",
            };
            is_numbered && !name::same_name(&line.room, room)
        };
        let both = if is_another_row() {
            format!("answered for {}", line.room)
        } else if !as_read::is_same(&answer.as_read, &own, column, heading, bare) {
            format!("{} then, {now} now", answer.as_read)
        } else {
            return match datum {
                None => Says::AsItIs,
                Some(datum) => Says::Value(Entry { at, datum: Ok(datum) }),
            };
        };
        if accepting {
            return Says::Unreadable(doubt(AnswerQuery::AcceptedChanged, at, both));
        }
        let written = format!("{both}, answer {}", answer.answer);
        let changed = AnswerQuery::Changed { column: column.name };
        Says::Outdated(Entry { at, datum: Err(Box::new(Unread::of(&changed, Fault::Contradicted, written))) })
    }
}

impl Applied {
    /// Puts the answers in the rows of a table that they are for.
    pub fn put_into(&self, rows: &mut [TableRow]) {
        for row in rows {
            for (column, entry) in self.cells.get(&row.at).into_iter().flatten() {
                row.answer(column, entry.clone());
            }
        }
    }

    /// Says which cells are taken from answers, and gives back every answer with what became of it.
    /// `openings` tells which row is which opening now.
    pub fn tell(self, openings: impl Iterator<Item = RowKey>, queries: &mut Vec<Query>) -> Vec<Answer> {
        if self.answers.is_empty() {
            return Vec::new();
        }
        let index: HashMap<RowKey, OpeningIndex> = openings.zip(0..).collect();
        let of = |row: Option<RowKey>| row.and_then(|row| index.get(&row).copied());
        for (query, row) in self.asked {
            queries.push(match of(row) {
                Some(opening) => query.about(opening),
                None => query,
            });
        }
        let answers = self.answers.into_iter().map(|(answer, row)| Answer { of: of(row), ..answer });
        answers.collect()
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

fn is_of_project(heading: &str) -> bool {
    let known = |table: &'static Table| tables::heading(heading, table).is_some();
    known(&PROJECT) && !known(&OPENINGS)
}

/// The columns that answers name, each text looked up once.
#[derive(Default)]
struct ColumnsNamed {
    known: HashMap<String, Result<(&'static Column, Option<Unit>), AnswerQuery>>,
}

impl ColumnsNamed {
    fn known(&mut self, written: &str) -> Result<(&'static Column, Option<Unit>), AnswerQuery> {
        let look_up = || match tables::heading(written, &OPENINGS) {
            Some(known) => Ok(known),
            None if is_of_project(written) => Err(AnswerQuery::OfProject),
            None => Err(AnswerQuery::UnknownColumn),
        };
        self.known.entry(written.to_owned()).or_insert_with(look_up).clone()
    }
}
