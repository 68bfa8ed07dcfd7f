//! What the headings of the surveys were taken as, and rows by which a person says it better.

use std::collections::BTreeSet;
use std::fmt::{self, Display};

use sillbook::pipeline::RunError;
use sillbook::report::Report;
use sillbook::schema::headings;
use sillbook::survey::{SurveyError, UnknownHeading};
use sillbook::tables::{By, ColumnRead};

use super::{Plain, counted};

/// Headings of one kind that a line names; the sheet `Columns read` has all.
const HEADINGS_SHOWN: usize = 20;

/// What the headings of the surveys were taken as: a line for the tables that are read alike, with
/// the headings that were not taken.
pub struct ColumnsRead<'a>(pub &'a Report<'a>);

impl Display for ColumnsRead<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Report { survey, sheets, .. } = self.0;
        let mut alike: Vec<(String, Vec<String>)> = Vec::new();
        for table in survey.columns.chunk_by(|one, next| one.table == next.table) {
            let words = in_words(table);
            let at = sheets.show(table[0].table);
            match alike.iter_mut().find(|(known, _)| *known == words) {
                Some((_, tables)) => tables.push(at),
                None => alike.push((words, vec![at])),
            }
        }
        for (words, tables) in alike {
            let more = tables.len() - 1;
            let and_more = if more == 0 {
                String::new()
            } else {
                format!(" and {}", counted(more as u64, "more table"))
            };
            writeln!(f, "read {}{and_more}: {}", Plain(&tables[0]), Plain(&words))?;
        }
        Ok(())
    }
}

/// `12 columns; only copied: Finish; not read: Sill Ht. (Sill height?)`.
fn in_words(table: &[ColumnRead]) -> String {
    let taken = table.iter().filter(|read| read.taken.is_some()).count();
    let mut words = vec![counted(taken as u64, "column")];
    for (by, told) in [(By::Carried, "only copied"), (By::NotRead, "not read")] {
        let named = |read: &ColumnRead| match read.nearest {
            Some(column) if by == By::NotRead => format!("{} ({}?)", read.heading, column.name),
            _ => read.heading.clone(),
        };
        let names: Vec<String> =
            table.iter().filter(|read| read.by == by && read.filled > 0).map(named).collect();
        let shown = names.iter().take(HEADINGS_SHOWN).cloned().collect::<Vec<_>>().join(", ");
        match names.len().checked_sub(HEADINGS_SHOWN).filter(|more| *more > 0) {
            _ if names.is_empty() => {}
            None => words.push(format!("{told}: {shown}")),
            Some(more) => words.push(format!("{told}: {shown} and {more} more")),
        }
    }
    words.join("; ")
}

/// Rows for a sheet `Headings`, ready to paste: the headings that are asked about, each with the
/// column that it is probably meant for, if there is one. Nothing where none is.
pub struct HeadingRows<'a>(BTreeSet<[&'a str; 3]>);

impl<'a> HeadingRows<'a> {
    /// Those that queries ask about.
    pub fn of(report: &'a Report<'a>) -> HeadingRows<'a> {
        let asked = report.survey.columns.iter().filter(|read| read.query.is_some());
        let row = |read: &'a ColumnRead| {
            let means = read.nearest.map_or("", |column| column.name);
            [report.sheets.sheet(read.at.sheet), read.heading.as_str(), means]
        };
        HeadingRows(asked.map(row).collect())
    }

    /// Those that may be why a survey seems to have no table of openings.
    pub fn of_refused(error: &'a RunError) -> HeadingRows<'a> {
        let RunError::Survey(SurveyError::NoOpenings { looked_at, .. }) = error else {
            return HeadingRows(BTreeSet::new());
        };
        let unknown = looked_at.iter().flat_map(|table| &table.unknown);
        let row = |known: &'a UnknownHeading| {
            [known.sheet.as_str(), known.heading.as_str(), known.nearest.unwrap_or("")]
        };
        HeadingRows(unknown.map(row).collect())
    }
}

impl Display for HeadingRows<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if !self.0.is_empty() {
            let names = [&headings::SHEET, &headings::HEADING, &headings::MEANS].map(|column| column.name);
            writeln!(f, "{}", names.join("\t"))?;
        }
        self.0.iter().try_for_each(|[sheet, heading, means]| {
            writeln!(f, "{}\t{}\t{means}", Plain(sheet), Plain(heading))
        })
    }
}
