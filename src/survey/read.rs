//! The surveys of a run to openings.

use std::sync::Arc;

use crate::length::Units;
use crate::query::{Checked, OpeningIndex, Query};
use crate::worked::Record;

use super::answers::{Answers, Applied};
use super::carried::Carried;
use super::cells::Cells;
use super::file::{File, Row};
use super::layout::Layout;
use super::names::Named;
use super::texts::Texts;
use super::{Assumption, Assumptions, Identity, MOST_BLINDS, Opening, SurveyError, blanks, peers, sheets};

/// All openings of the run, in survey order.
#[derive(Clone, Debug, Default)]
pub struct Survey {
    /// The openings, in the order of the surveys and their rows.
    pub openings: Vec<Opening>,
    /// Headings of the columns that are carried through, in order.
    pub carried: Vec<Arc<str>>,
    /// Opening rows read, also those that could not become an opening.
    pub rows: usize,
    /// Values taken because a cell was blank, in openings that are not held.
    pub assumptions: Vec<Assumption>,
}

/// Reads every survey of the run, in the order given. `units` are those of a bare number, as
/// [`settle_units`](super::settle_units) finds them. A doubt about a row is a query; an error
/// means that nothing can be written.
pub fn read(layouts: &[Layout<'_>], units: Units) -> Result<Checked<Survey>, SurveyError> {
    let mut carried = Carried::default();
    let mut files: Vec<File> = layouts.iter().map(|layout| File::read(layout, units, &mut carried)).collect();

    let mut queries = Vec::new();
    let answers = answer(&mut files, layouts, units, &carried, &mut queries);
    let mut rows = Vec::new();
    let mut nameless = 0;
    for file in &files {
        let found = file.rows(units, &mut queries)?;
        rows.extend(found.openings);
        nameless += found.nameless;
    }

    let mut texts = Texts::default();
    let who: Vec<Identity> = rows.iter().map(|row| row.identity(&carried, &mut texts)).collect();
    let blinds = who.iter().map(|who| u64::from(who.quantity)).sum();
    if blinds > MOST_BLINDS {
        return Err(SurveyError::TooManyBlinds { blinds });
    }
    let row_of = |index: OpeningIndex| sheets::row_of(layouts, rows[index].at());
    let named = Named::new(who, row_of);

    let mut assumptions = Assumptions::default();
    let mut openings = Vec::with_capacity(rows.len());
    for (index, ((row, who), twin)) in rows.iter().zip(named.openings).zip(named.twins).enumerate() {
        let mut record = Record::silent(index, who.at, units);
        let mut cells = Cells::new(row.joined, &mut record);
        if let Some(twin) = twin {
            cells.same_key_as(rows[twin].joined, &row_of(twin));
        }
        cells.look_up(&row.lookup);
        let facts = cells.facts(&mut texts);
        if let Some(facts) = &facts {
            blanks::count(&mut assumptions, row.joined, facts, u64::from(who.quantity));
        }
        queries.extend(record.finish().0);
        openings.push(Opening { who, facts: facts.map(Box::new) });
    }
    answers.tell(rows.iter().map(Row::key), layouts, &mut queries);
    queries.extend(peers::ask(&rows, &openings, units));
    let survey = Survey {
        rows: openings.len() + nameless,
        openings,
        carried: carried.into_headings(),
        assumptions: assumptions.into_list(),
    };
    Ok(Checked { value: survey, queries })
}

/// Puts the answers of the sheets `Answers` into the rows that they are for. An answer names its
/// opening as the surveys stand without it, so where there are any the rows are read once before.
fn answer(
    files: &mut [File],
    layouts: &[Layout<'_>],
    units: Units,
    carried: &Carried,
    queries: &mut Vec<Query>,
) -> Applied {
    let answers = Answers::read(layouts, queries);
    if answers.is_empty() {
        return Applied::default();
    }
    let mut texts = Texts::default();
    // What is odd about the rows is raised when they are read with their answers.
    let rows: Vec<Row<'_>> = files
        .iter()
        .flat_map(|file| file.rows(units, &mut Vec::new()).unwrap_or_default().openings)
        .collect();
    let keys: Vec<_> = rows.iter().map(Row::key).collect();
    let places: Vec<_> = rows.iter().map(Row::at).collect();
    let who = rows.iter().map(|row| row.identity(carried, &mut texts)).collect();
    let named = Named::new(who, |index| sheets::row_of(layouts, places[index])).openings;
    let openings: Vec<_> = keys.into_iter().zip(named).collect();
    let applied = answers.settle(&openings, units, queries);
    files.iter_mut().flat_map(File::opening_rows).for_each(|rows| applied.put_into(rows));
    applied
}
