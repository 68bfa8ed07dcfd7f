//! The sheet `Answers`: cells that stand in place of the survey's own.
//!
//! An answer takes the place of one cell of an opening's row, above its type, and keeps its own
//! address, so that queries and explanations cite it. It is read as that cell would be: a bare
//! number is in the unit that its `Column` names, else in that of the opening's own heading, else
//! in the survey's. It fills a cell or replaces it, and never empties one.
//!
//! An answer to `Width` is all of the width; a place answered replaces that place. Answers for one
//! cell that differ hold the opening. `-` is read like any text. Items of `Project` are not
//! answered here: two sheets would say what holds for the whole survey.
//!
//! An answer beside `all 14`, or without an opening, is for each opening listed under the same
//! query and column that has none of its own.

use std::collections::{BTreeMap, HashMap};

use crate::grid::{Grid, Sheet, Value};
use crate::length::Unit;
use crate::name::{self, folded};
use crate::place::{CellRef, SheetId};
use crate::query::{OpeningIndex, Query, did_you_mean};
use crate::rules::columns::project::PROJECT;
use crate::schema::answers::{ANSWERS, COLUMN, OPENING, QUERY, VALUE};
use crate::schema::openings::OPENINGS;
use crate::schema::{Column, Table};
use crate::tables::{self, Datum, Entry, Fault, Found, ReadTable, TableRow, Unread};

use super::joined::{HEIGHTS, WIDTHS};
use super::queries::AnswerQuery;
use super::{Identity, Layout};

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

/// One row of the sheet `Answers`, or one opening of a row that answers for several.
struct Line<'g> {
    grid: &'g Grid,
    query: String,
    opening: Option<Words>,
    column: Option<Words>,
    /// The answer, if there is one.
    value: Option<(CellRef, &'g Value)>,
}

/// What a cell says, and where.
#[derive(Clone)]
struct Words {
    text: String,
    at: CellRef,
}

/// The answers of every survey of a run.
pub(super) struct Answers<'g> {
    layouts: &'g [Layout<'g>],
    lines: Vec<Line<'g>>,
}

/// What the answers make of each row.
#[derive(Default)]
pub(super) struct Applied {
    cells: BTreeMap<RowKey, Vec<(&'static Column, Entry)>>,
}

impl<'g> Answers<'g> {
    /// Reads the sheets `Answers`, if there are any; blank answers are left out.
    pub fn read(layouts: &'g [Layout<'g>], queries: &mut Vec<Query>) -> Answers<'g> {
        let mut lines = Vec::new();
        for grid in layouts.iter().map(Layout::grid) {
            let Some(sheet) = tables::find(grid, ANSWERS.sheet) else { continue };
            let tables = tables::found_on(sheet, &ANSWERS);
            let answering = |found: &&Found<'_>| {
                let has = |wanted: &Column| found.columns().any(|column| column == wanted);
                has(&COLUMN) && has(&VALUE)
            };
            let mut answering = tables.iter().filter(answering).peekable();
            if answering.peek().is_none() && !sheet.rows.is_empty() {
                let at = sheet.at(0, 0);
                queries.push(doubt(AnswerQuery::NoHeadings, at, String::new()));
            }
            for found in answering {
                let listed = lines_of(grid, sheet, &found.read(Unit::Millimeter));
                lines.extend(for_each_opening(listed, queries));
            }
        }
        Answers { layouts, lines }
    }

    /// Whether there is no answer at all.
    pub fn is_empty(&self) -> bool {
        self.lines.is_empty()
    }

    /// Finds the row and the column of each answer. `openings` are those of the surveys as they
    /// stand, each named, with its row.
    pub fn settle(self, openings: &[(RowKey, Identity)], bare: Unit, queries: &mut Vec<Query>) -> Applied {
        let rows = Rows::new(self.layouts, openings);
        let mut headings = Headings::default();
        let mut sought = 0;
        let mut cells: BTreeMap<(RowKey, usize), Vec<(&'static Column, Entry)>> = BTreeMap::new();
        for line in &self.lines {
            let (Some((at, value)), Some(opening)) = (line.value, &line.opening) else { continue };
            let Some(written) = &line.column else {
                queries.push(remark(at));
                continue;
            };
            let (column, named_unit) = match headings.known(&written.text) {
                Ok(known) => known,
                Err(query) => {
                    let names = || OPENINGS.columns.iter().flat_map(|column| column.names());
                    let nearest = name::nearest(&written.text, names());
                    queries.push(doubt(query, written.at, quoted(&written.text, nearest)));
                    continue;
                }
            };
            let row = match rows.find(&opening.text, line.grid) {
                Ok(row) => row,
                Err(query) => {
                    sought += 1;
                    let nearest = (sought <= NEAREST_SOUGHT).then(|| rows.nearest(&opening.text)).flatten();
                    queries.push(doubt(query, opening.at, quoted(&opening.text, nearest)));
                    continue;
                }
            };
            let unit = named_unit.or_else(|| rows.heading_unit(row, column));
            let datum = tables::read_value(value, column, unit, bare).map_err(Box::new);
            cells.entry((row, column.slot)).or_default().push((column, Entry { at, datum }));
        }
        let mut applied = Applied::default();
        for ((row, _), answers) in cells {
            applied.cells.entry(row).or_default().extend(agreed(answers));
        }
        applied
    }
}

impl Applied {
    /// Puts the answers in the rows of a table that they are for.
    pub fn put_into(&self, rows: &mut [TableRow]) {
        for row in rows {
            let Some(cells) = self.cells.get(&row_of(row.at)) else { continue };
            for size in [&WIDTHS, &HEIGHTS] {
                let answered = |column: &Column| cells.iter().any(|(known, _)| *known == column);
                for column in size.pushed_out(answered) {
                    row.leave_out(column);
                }
            }
            for (column, entry) in cells {
                row.put(column, entry.clone());
            }
        }
    }

    /// Says which cells are taken from answers. `openings` tells which row is which opening now.
    pub fn tell(
        &self,
        openings: impl Iterator<Item = RowKey>,
        layouts: &[Layout<'_>],
        queries: &mut Vec<Query>,
    ) {
        if self.cells.is_empty() {
            return;
        }
        let index: HashMap<RowKey, OpeningIndex> = openings.zip(0..).collect();
        for (row, cells) in &self.cells {
            for (column, entry) in cells.iter().filter(|(_, entry)| entry.datum.is_ok()) {
                let taken = Query::new(&AnswerQuery::Taken, Some(entry.at));
                let taken = taken.with_detail(format!("{}: {}", column.name, written(layouts, entry.at)));
                queries.push(match index.get(row) {
                    Some(opening) => taken.about(*opening),
                    None => taken,
                });
            }
        }
    }
}

/// An answer that cannot be used.
fn doubt(query: AnswerQuery, at: CellRef, detail: String) -> Query {
    Query::new(&query, Some(at)).with_detail(detail)
}

/// What stands beside a query that no column answers.
fn remark(at: CellRef) -> Query {
    Query::new(&AnswerQuery::NoColumn, Some(at))
}

fn quoted(written: &str, nearest: Option<&str>) -> String {
    match nearest {
        Some(nearest) => format!("\"{written}\": {}", did_you_mean(nearest)),
        None => format!("\"{written}\""),
    }
}

/// What a cell says, as written.
fn written(layouts: &[Layout<'_>], at: CellRef) -> String {
    let sheets = layouts.iter().flat_map(|layout| &layout.grid().sheets);
    let sheet = sheets.into_iter().find(|sheet| sheet.id == at.sheet);
    sheet.and_then(|sheet| sheet.value(at.row, at.column)).map_or_else(String::new, tables::as_written)
}

/// The one answer for a cell; answers that differ are none, and hold the opening.
fn agreed(answers: Vec<(&'static Column, Entry)>) -> Option<(&'static Column, Entry)> {
    let differ = answers.windows(2).any(|pair| pair[0].1.datum != pair[1].1.datum);
    let (column, mut entry) = answers.into_iter().next()?;
    if differ {
        let differ = AnswerQuery::Differ { column: column.name };
        entry.datum = Err(Box::new(Unread::of(&differ, Fault::Contradicted, "")));
    }
    Some((column, entry))
}

/// The rows of the sheet that answer or are answered for. A blank `Query` is that of the row above.
fn lines_of<'g>(grid: &'g Grid, sheet: &'g Sheet, table: &ReadTable) -> Vec<Line<'g>> {
    let mut query = String::new();
    let mut lines = Vec::new();
    for row in &table.rows {
        if let Some(asked) = words(row, &QUERY) {
            query = folded(&asked.text);
        }
        let value = row.entry(&VALUE).and_then(|entry| {
            let value = sheet.value(entry.at.row, entry.at.column)?;
            let is_blank = matches!(value, Value::Text(text) if text.trim().is_empty());
            (!is_blank).then_some((entry.at, value))
        });
        lines.push(Line {
            grid,
            query: query.clone(),
            opening: words(row, &OPENING).filter(|words| !is_every_one(&words.text)),
            column: words(row, &COLUMN),
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
    let under =
        |line: &Line<'_>| (line.query.clone(), line.column.as_ref().map(|column| folded(&column.text)));
    let mut waiting: HashMap<_, Vec<Words>> = HashMap::new();
    for line in listed.iter().filter(|line| line.value.is_none()) {
        if let Some(opening) = &line.opening {
            waiting.entry(under(line)).or_default().push(opening.clone());
        }
    }
    let mut lines = Vec::new();
    for line in listed {
        let Some((at, _)) = line.value else { continue };
        if line.opening.is_some() {
            lines.push(line);
            continue;
        }
        let Some(column) = &line.column else {
            queries.push(remark(at));
            continue;
        };
        if is_of_project(&column.text) {
            queries.push(doubt(AnswerQuery::OfProject, at, String::new()));
            continue;
        }
        let openings = waiting.remove(&under(&line)).unwrap_or_default();
        if openings.is_empty() {
            queries.push(doubt(AnswerQuery::NoOpening, at, String::new()));
        }
        lines.extend(openings.into_iter().map(|opening| Line {
            opening: Some(opening),
            query: line.query.clone(),
            column: line.column.clone(),
            ..line
        }));
    }
    lines
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

/// The rows that answers may be for, by every way to name them.
struct Rows<'o> {
    openings: &'o [(RowKey, Identity)],
    /// By the name as shown, which no two openings share.
    shown: HashMap<String, OpeningIndex>,
    /// By id, unit and id, building, unit and id, and the shown name, without spaces.
    loose: HashMap<String, Vec<OpeningIndex>>,
    layouts: &'o [Layout<'o>],
}

impl<'o> Rows<'o> {
    fn new(layouts: &'o [Layout<'o>], openings: &'o [(RowKey, Identity)]) -> Rows<'o> {
        let mut shown = HashMap::with_capacity(openings.len());
        let mut loose: HashMap<String, Vec<OpeningIndex>> = HashMap::with_capacity(openings.len());
        for (index, (_, who)) in openings.iter().enumerate() {
            shown.insert(folded(&who.name), index);
            let id = &who.written;
            let mut names = vec![who.name.to_string()];
            if !id.is_empty() {
                names.extend([
                    id.to_string(),
                    format!("{}/{id}", who.shown_unit()),
                    format!("{}/{}/{id}", who.building, who.shown_unit()),
                ]);
            }
            let mut names: Vec<String> = names.iter().map(|name| squeezed(name)).collect();
            names.sort_unstable();
            names.dedup();
            for name in names {
                loose.entry(name).or_default().push(index);
            }
        }
        Rows { openings, shown, loose, layouts }
    }

    /// The row that an answer of a survey is for.
    fn find(&self, written: &str, from: &Grid) -> Result<RowKey, AnswerQuery> {
        if let Some(index) = self.shown.get(&folded(written)) {
            return Ok(self.openings[*index].0);
        }
        let named = self.loose.get(&squeezed(written)).map_or(&[][..], Vec::as_slice);
        let own = || named.iter().filter(|&&index| *self.openings[index].1.survey == *from.survey);
        match (named, own().next(), own().nth(1)) {
            ([index], ..) | (_, Some(index), None) => Ok(self.openings[*index].0),
            ([], ..) => self.by_place(written, from).ok_or(AnswerQuery::UnknownOpening),
            _ => Err(AnswerQuery::SeveralOpenings),
        }
    }

    /// `Openings!F42` or `Openings row 42`, with the survey's name before it where there are several.
    fn by_place(&self, written: &str, from: &Grid) -> Option<RowKey> {
        let digits = written.len() - written.trim_end_matches(|letter: char| letter.is_ascii_digit()).len();
        let (before, row) = written.split_at(written.len() - digits);
        let row = row.parse::<u32>().ok()?.checked_sub(1)?;
        let place = before.trim_end_matches(|letter: char| letter.is_ascii_uppercase() || letter == '$');
        let sheet = match place.strip_suffix('!') {
            Some(sheet) => sheet,
            None => before.trim_end().strip_suffix("row")?,
        };
        let sheet = squeezed(sheet);
        self.layouts.iter().find_map(|layout| {
            let survey = &layout.grid().survey;
            let is_named = |known: &&Sheet| {
                squeezed(&known.name) == sheet && *survey == from.survey
                    || squeezed(&format!("{survey} {}", known.name)) == sheet
            };
            layout.grid().sheets.iter().find(is_named).map(|sheet| (sheet.id, row))
        })
    }

    /// The name that is most like one that no opening has.
    fn nearest(&self, written: &str) -> Option<&'o str> {
        name::nearest(written, self.openings.iter().map(|(_, who)| &*who.name))
    }

    /// The unit that the heading over a row's own cell names.
    fn heading_unit(&self, row: RowKey, column: &Column) -> Option<Unit> {
        self.layouts.iter().find_map(|layout| layout.heading_unit(row, column))
    }
}

/// In lower case and without spaces.
fn squeezed(name: &str) -> String {
    name.chars().filter(|letter| !letter.is_whitespace()).flat_map(char::to_lowercase).collect()
}
