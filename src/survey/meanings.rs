//! What people say that headings mean: on a sheet `Headings`, or in an answer to the query about one.
//! It is settled before any table is looked for, since it may be what makes a table one of openings.
//!
//! A row that contradicts another, or names a column that there is not, says nothing: its heading is
//! asked about as if the row were not there, with a check besides.

use crate::grid::Grid;
use crate::length::Unit;
use crate::name::{nearest, same_name};
use crate::place::CellRef;
use crate::query::{Query, did_you_mean};
use crate::schema::Column;
use crate::schema::answers::accepts;
use crate::schema::headings::{HEADING, HEADINGS, MEANS, NOT_NEEDED, SHEET, UNIT};
use crate::schema::openings::OPENINGS;
use crate::tables::{self, Datum, Meaning, Meanings, Said, TableRow};

use super::answers::{Line, is_of_headings};
use super::queries::AnswerQuery;

/// Gathers what every file of a run says of headings. Answers come after the sheets, which say it
/// for good.
pub(super) fn meanings(grids: &[Grid], lines: &[Line<'_>], queries: &mut Vec<Query>) -> Meanings {
    let mut gathered = Gathered { meanings: Meanings::default(), queries };
    for grid in grids {
        for sheet in grid.sheets.iter().filter(|sheet| tables::is_named(sheet, HEADINGS.sheet)) {
            // No column of it holds a length.
            let read = tables::read(sheet, &HEADINGS, Unit::Millimeter);
            gathered.queries.extend(read.queries);
            for row in &read.rows {
                let (Some(heading), Some(means)) = (text(row, &HEADING), text(row, &MEANS)) else { continue };
                gathered.enter(&Row {
                    sheet: text(row, &SHEET),
                    heading,
                    means,
                    unit: text(row, &UNIT),
                    at: row.at,
                    said: Said::OnHeadings,
                });
            }
        }
    }
    for line in lines.iter().filter(|line| line.column.as_ref().is_some_and(is_of_headings)) {
        let (Some((at, _)), means) = (line.value, line.answer()) else { continue };
        // An accepted heading stays as it is, asked about and accepted.
        if !line.as_read.is_empty() && !accepts(&means, None) {
            let (heading, means) = (line.as_read.as_str(), means.as_str());
            gathered.enter(&Row { sheet: None, heading, means, unit: None, at, said: Said::InAnswer });
        }
    }
    gathered.meanings
}

/// What one row says.
struct Row<'r> {
    sheet: Option<&'r str>,
    heading: &'r str,
    means: &'r str,
    unit: Option<&'r str>,
    at: CellRef,
    said: Said,
}

struct Gathered<'q> {
    meanings: Meanings,
    queries: &'q mut Vec<Query>,
}

impl Gathered<'_> {
    fn enter(&mut self, row: &Row<'_>) {
        let mut ask = |query: AnswerQuery, detail: String| {
            self.queries.push(Query::new(&query, Some(row.at)).with_detail(detail));
        };
        let known = match same_name(row.means, NOT_NEEDED) {
            true => Some((None, None)),
            false => tables::heading(row.means, &OPENINGS).map(|(column, unit)| (Some(column), unit)),
        };
        let Some((column, unit)) = known else {
            let names = OPENINGS.columns.iter().flat_map(|column| column.names());
            let near = nearest(row.means, names)
                .map_or_else(String::new, |name| format!(": {}", did_you_mean(name)));
            return ask(AnswerQuery::UnknownMeaning, format!("\"{}\"{near}", row.means));
        };
        let unit = match row.unit.map(|unit| (unit, Unit::named(unit))) {
            Some((written, None)) => {
                return ask(AnswerQuery::UnknownMeaning, format!("\"{written}\" is no unit of length"));
            }
            Some((_, named)) => named,
            None => unit,
        };
        let meaning = Meaning { column, unit, said: row.said };
        if self.meanings.enter(row.sheet, row.heading, meaning).is_some() {
            ask(AnswerQuery::MeaningsDiffer, format!("\"{}\"", row.heading));
        }
    }
}

fn text<'r>(row: &'r TableRow, column: &Column) -> Option<&'r str> {
    match &row.entry(column)?.datum {
        Ok(Datum::Text(text)) => Some(text.trim()).filter(|text| !text.is_empty()),
        _ => None,
    }
}
