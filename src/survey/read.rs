//! The surveys of a run to openings.
//!
//! A row with sizes and no name at all is a stop without an opening; it keeps the run INCOMPLETE.
//!
//! The example row of a blank survey has the id `example - not read`; it is no opening while it
//! says so, with a note.

use std::sync::Arc;

use rayon::prelude::*;

use crate::assumptions::{Assumption, Assumptions};
use crate::length::Unit;
use crate::place::Sheets;
use crate::query::{Checked, OpeningIndex, Query};
use crate::worked::Record;

use super::answers::{Answers, Applied};
use super::carried::Carried;
use super::cells::Cells;
use super::file::{File, Row};
use super::layout::Layout;
use super::names::Named;
use super::texts::Texts;
use super::{BareUnit, Facts, Identity, MOST_BLINDS, Opening, SurveyError, blanks, peers};

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

/// Reads every survey of the run, in the order given. a bare number is in `bare`, as
/// [`settle_units`](super::settle_units) finds them. A doubt about a row is a query; an error
/// means that nothing can be written.
pub fn read(
    layouts: &[Layout<'_>],
    sheets: &Sheets,
    bare: impl Into<BareUnit>,
) -> Result<Checked<Survey>, SurveyError> {
    let bare: BareUnit = bare.into();
    let mut carried = Carried::default();
    let mut files: Vec<File> = layouts.iter().map(|layout| File::read(layout, bare, &mut carried)).collect();
    let bare = bare.unit;

    let mut queries = Vec::new();
    let answers = answer(&mut files, layouts, sheets, bare, &carried, &mut queries);
    let mut rows = Vec::new();
    let mut nameless = 0;
    for file in &files {
        let found = file.rows(bare, &mut queries)?;
        rows.extend(found.openings);
        nameless += found.nameless;
    }

    let identity = |texts: &mut Texts, row: &Row<'_>| row.identity(&carried, texts);
    let who: Vec<Identity> = rows.par_iter().map_init(Texts::default, identity).collect();
    let blinds = who.iter().map(|who| u64::from(who.quantity)).sum();
    if blinds > MOST_BLINDS {
        return Err(SurveyError::TooManyBlinds { blinds });
    }
    let row_of = |index: OpeningIndex| sheets.show_row(rows[index].at());
    let named = Named::new(who, row_of);

    let read_cells = |texts: &mut Texts, (index, row): (OpeningIndex, &Row<'_>)| {
        let mut record = Record::silent(index, named.openings[index].at, bare.shown_in());
        let mut cells = Cells::new(row.joined, bare, row.table(), &mut record);
        if let Some(twin) = named.twins[index] {
            cells.same_key_as(rows[twin].joined, &row_of(twin));
        }
        cells.look_up(&row.lookup);
        cells.doubt(&named.openings[index]);
        let facts = cells.facts(texts).map(Box::new);
        (facts, record.finish().0)
    };
    let read: Vec<(Option<Box<Facts>>, Vec<Query>)> =
        rows.par_iter().enumerate().map_init(Texts::default, read_cells).collect();
    let mut openings = Vec::with_capacity(rows.len());
    for (who, (facts, asked)) in named.openings.into_iter().zip(read) {
        queries.extend(asked);
        openings.push(Opening { who, facts });
    }
    answers.tell(rows.iter().map(Row::key), layouts, &mut queries);
    let (asked, assumptions) =
        rayon::join(|| peers::ask(&rows, &openings, bare), || assumed(&rows, &openings));
    queries.extend(asked);
    let survey = Survey {
        rows: openings.len() + nameless,
        openings,
        carried: carried.into_headings(),
        assumptions: assumptions.into_list(),
    };
    Ok(Checked { value: survey, queries })
}

/// What the blanks of the openings that are not held are taken for.
fn assumed(rows: &[Row<'_>], openings: &[Opening]) -> Assumptions {
    let count = |mut assumptions, (row, opening): (&Row<'_>, &Opening)| {
        if let Some(facts) = &opening.facts {
            blanks::count(&mut assumptions, row.joined, facts, u64::from(opening.who.quantity));
        }
        assumptions
    };
    let parts = rows.par_iter().zip(openings).fold(Assumptions::default, count);
    // Parts are put together in survey order, whichever is ready first.
    parts.reduce(Assumptions::default, Assumptions::and)
}

/// Puts the answers of the sheets `Answers` into the rows that they are for. An answer names its
/// opening as the surveys stand without it, so where there are any the rows are read once before.
fn answer(
    files: &mut [File],
    layouts: &[Layout<'_>],
    sheets: &Sheets,
    bare: Unit,
    carried: &Carried,
    queries: &mut Vec<Query>,
) -> Applied {
    let answers = Answers::read(layouts, queries);
    if answers.is_empty() {
        return Applied::default();
    }
    let mut texts = Texts::default();
    // What is odd about the rows is raised when they are read with their answers.
    let rows: Vec<Row<'_>> =
        files.iter().flat_map(|file| file.rows(bare, &mut Vec::new()).unwrap_or_default().openings).collect();
    let keys: Vec<_> = rows.iter().map(Row::key).collect();
    let places: Vec<_> = rows.iter().map(Row::at).collect();
    let who = rows.iter().map(|row| row.identity(carried, &mut texts)).collect();
    let named = Named::new(who, |index| sheets.show_row(places[index])).openings;
    let openings: Vec<_> = keys.into_iter().zip(named).collect();
    let applied = answers.settle(&openings, bare, queries);
    files.iter_mut().flat_map(File::opening_rows).for_each(|rows| applied.put_into(rows));
    applied
}
