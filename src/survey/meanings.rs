//! What people say that headings mean: on a sheet `Headings`, or in an answer to the query about one.
//! It is settled before any table is looked for, since it may be what makes a table one of openings.
//!
//! A row that cannot be understood says nothing, with a check: its heading is asked about as if the
//! row were not there. What the sheet says comes before an answer, and of its rows the first; of
//! answers that differ the one with the latest date is used, without dates none. `ok` is no answer
//! here, since it could mean that the guess is right or that the column may stay unread.

use std::collections::{BTreeMap, BTreeSet};

use crate::grid::Grid;
use crate::length::Unit;
use crate::name::{nearest, same_name, squeezed};
use crate::place::CellRef;
use crate::query::{Query, Taken, did_you_mean};
use crate::schema::Column;
use crate::schema::headings::{HEADING, HEADINGS, MEANS, NOT_NEEDED, SHEET, UNIT};
use crate::schema::openings::OPENINGS;
use crate::tables::{self, Datum, Meaning, Meanings, Said, TableRow};

use super::answers::{Line, is_of_headings};
use super::queries::AnswerQuery;

/// What people say of headings in all files of a run.
pub(super) struct OfHeadings {
    /// What they mean.
    pub meanings: Meanings,
    /// What became of the answers about headings, by their cell.
    pub answers: BTreeMap<CellRef, Taken>,
    /// Where each row of a sheet `Headings` stands: its cell, the sheet that it is for, the heading.
    rows: Vec<(CellRef, Option<String>, String)>,
    /// What is odd about it.
    pub queries: Vec<Query>,
}

impl OfHeadings {
    /// Gathers what the sheets `Headings` and the answers say.
    pub fn of(grids: &[Grid], lines: &[Line<'_>]) -> OfHeadings {
        let mut said = OfHeadings {
            meanings: Meanings::default(),
            answers: BTreeMap::new(),
            rows: Vec::new(),
            queries: Vec::new(),
        };
        for sheet in grids.iter().flat_map(|grid| &grid.sheets) {
            if tables::is_named(sheet, HEADINGS.sheet) {
                // No column of it holds a length.
                let read = tables::read(sheet, &HEADINGS, Unit::Millimeter);
                said.queries.extend(read.queries);
                read.rows.iter().for_each(|row| said.row(row));
            }
        }
        let mut of_heading: BTreeMap<String, Vec<(CellRef, &Line<'_>, Meaning)>> = BTreeMap::new();
        for line in lines.iter().filter(|line| line.column.as_ref().is_some_and(is_of_headings)) {
            let Some((at, _)) = line.value else { continue };
            said.answers.insert(at, Taken::NotUsed);
            let meaning = match line.as_read.as_str() {
                "" => said.ask(AnswerQuery::UnknownMeaning, at, "As read is blank".to_owned()),
                _ => said.meaning(&line.answer(), None, (at, Said::InAnswer)),
            };
            if let Some(meaning) = meaning {
                of_heading.entry(squeezed(&line.as_read)).or_default().push((at, line, meaning));
            }
        }
        of_heading.into_values().for_each(|answers| said.agree(&answers));
        said
    }

    /// Asks about the rows of `Headings` of which no table that was read has the heading. Given are
    /// the headings of each, with the name of its sheet.
    pub fn ask_unused<'t>(&mut self, read: impl Iterator<Item = (&'t str, &'t str)>) {
        if self.rows.is_empty() {
            return;
        }
        let known: BTreeSet<(String, String)> =
            read.map(|(sheet, heading)| (squeezed(sheet), squeezed(heading))).collect();
        let headings: BTreeSet<&String> = known.iter().map(|(_, heading)| heading).collect();
        for (at, sheet, heading) in &self.rows {
            let is_met = match sheet {
                Some(sheet) => known.contains(&(squeezed(sheet), squeezed(heading))),
                None => headings.contains(&squeezed(heading)),
            };
            if !is_met {
                let query = Query::new(&AnswerQuery::MeaningUnused, Some(*at));
                self.queries.push(query.with_detail(format!("\"{heading}\"")));
            }
        }
    }

    /// A row of the sheet `Headings`.
    fn row(&mut self, row: &TableRow) {
        let (Some(heading), Some(means)) = (text(row, &HEADING), text(row, &MEANS)) else { return };
        let sheet = text(row, &SHEET);
        self.rows.push((row.at, sheet.map(str::to_owned), heading.to_owned()));
        let Some(meaning) = self.meaning(means, text(row, &UNIT), (row.at, Said::OnHeadings)) else { return };
        if self.meanings.enter(sheet, heading, meaning).is_some() {
            self.ask(AnswerQuery::MeaningsDiffer, row.at, format!("\"{heading}\""));
        }
    }

    /// What the answers about one heading come to.
    fn agree(&mut self, answers: &[(CellRef, &Line<'_>, Meaning)]) {
        let same = |one: &Meaning, other: &Meaning| (one.column, one.unit) == (other.column, other.unit);
        let Some((_, _, first)) = answers.first() else { return };
        let latest = answers.iter().map(|(_, line, _)| line.on).max().flatten();
        let newest = answers.iter().filter(|(_, line, _)| line.on == latest);
        let used = match answers.iter().all(|(_, _, meaning)| same(meaning, first)) {
            true => Some(first),
            false => {
                let dated = answers.iter().all(|(_, line, _)| line.on.is_some());
                let mut newest = newest.map(|(_, _, meaning)| meaning);
                newest.next().filter(|one| dated && newest.all(|other| same(one, other)))
            }
        };
        let Some(used) = used else {
            for (at, line, _) in answers {
                self.ask(AnswerQuery::MeaningsDiffer, *at, format!("\"{}\"", line.as_read));
            }
            return;
        };
        for (at, line, meaning) in answers {
            let is_used = same(meaning, used) && self.meanings.enter(None, &line.as_read, *meaning).is_none();
            self.answers.insert(*at, if is_used { Taken::Value } else { Taken::Replaced });
        }
    }

    /// What a text says that a heading means; asked about where it says nothing.
    fn meaning(&mut self, means: &str, unit: Option<&str>, (at, said): (CellRef, Said)) -> Option<Meaning> {
        if same_name(means, NOT_NEEDED) {
            return Some(Meaning { column: None, unit: None, said });
        }
        let Some((column, named)) = tables::heading(means, &OPENINGS) else {
            let names = OPENINGS.columns.iter().flat_map(|column| column.names());
            let near =
                nearest(means, names).map_or_else(String::new, |name| format!(": {}", did_you_mean(name)));
            return self.ask(AnswerQuery::UnknownMeaning, at, format!("\"{means}\"{near}"));
        };
        let unit = match unit.map(|unit| (unit, Unit::named(unit))) {
            Some((written, None)) => {
                return self.ask(
                    AnswerQuery::UnknownMeaning,
                    at,
                    format!("\"{written}\" is not a unit of length"),
                );
            }
            Some((_, named)) => named,
            None => named,
        };
        Some(Meaning { column: Some(column), unit, said })
    }

    fn ask(&mut self, query: AnswerQuery, at: CellRef, detail: String) -> Option<Meaning> {
        self.queries.push(Query::new(&query, Some(at)).with_detail(detail));
        None
    }
}

fn text<'r>(row: &'r TableRow, column: &Column) -> Option<&'r str> {
    match &row.entry(column)?.datum {
        Ok(Datum::Text(text)) => Some(text.trim()).filter(|text| !text.is_empty()),
        _ => None,
    }
}
