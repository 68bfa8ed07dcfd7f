//! The surveys of a run to openings.
//!
//! A row with sizes and no name at all is a stop without an opening; it keeps the run INCOMPLETE.
//!
//! The example row of a blank survey has the id `example - not read`; it is no opening while it
//! says so, with a note.

use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::sync::Arc;

use rayon::prelude::*;

use crate::grid::{Grid, Sheet};
use crate::length::Unit;
use crate::place::{SheetId, Sheets};
use crate::query::{Answer, Checked, OpeningIndex, Query};
use crate::schema::Column;
use crate::schema::openings::OPENINGS;
use crate::tables::{ColumnRead, Entry};
use crate::worked::Record;

use super::answers::{self, Applied, EveryRow, RowKey, Standing};
use super::as_read::{AsRead, Own};
use super::carried::Carried;
use super::cells::Cells;
use super::file::{File, Row, own_cell};
use super::layout::Files;
use super::names::Named;
use super::queries::SurveyQuery;
use super::texts::Texts;
use super::{
    BareUnit, Blanks, Facts, Identity, MOST_BLINDS, MOST_UNREAD, Opening, SurveyError, blanks, copied,
    missing, patterns, peers,
};

/// All openings of the run, in survey order.
#[derive(Clone, Debug, Default)]
pub struct Survey {
    /// The openings, in the order of the surveys and their rows.
    pub openings: Vec<Opening>,
    /// Headings of the columns that are carried through, in order.
    pub carried: Vec<Arc<str>>,
    /// Opening rows read, also those that could not become an opening.
    pub rows: usize,
    /// What a bare number is in.
    pub bare: BareUnit,
    /// What people answered, with what became of it.
    pub answers: Vec<Answer>,
    /// What the headings of every table that was read were taken as.
    pub columns: Vec<ColumnRead>,
}

/// What a row says, what its blanks are taken for, its own words, and what must be asked.
type RowRead = (Option<Box<Facts>>, Blanks, AsRead, Vec<Query>);

/// Reads every survey of the run, in the order given; a bare number is in `bare`, as
/// [`settle_units`](super::settle_units) finds them. A doubt about a row is a query; an error
/// means that nothing can be written.
///
/// # Errors
/// If a survey has no opening, or all have too many together.
pub fn read(
    run: &Files<'_>,
    sheets: &Sheets,
    bare: impl Into<BareUnit>,
) -> Result<Checked<Survey>, SurveyError> {
    read_with(&[], &BTreeSet::new(), run, sheets, bare)
}

/// The same with cells that stand in place of every opening's own, whatever was answered there, but for
/// openings of these rows.
///
/// # Errors
/// As [`read`].
pub fn read_with(
    cells: &[(&'static Column, Entry)],
    but_for: &BTreeSet<(SheetId, u32)>,
    run: &Files<'_>,
    sheets: &Sheets,
    bare: impl Into<BareUnit>,
) -> Result<Checked<Survey>, SurveyError> {
    let settled: BareUnit = bare.into();
    let bare = settled.unit;
    let mut carried = Carried::default();
    let mut files: Vec<File> =
        run.layouts.iter().map(|layout| File::read(layout, settled, &mut carried)).collect();

    let mut queries = run.queries.clone();
    let answers = answer(&mut files, run, sheets, bare, &carried);
    let all = files.iter_mut().flat_map(File::opening_rows).flatten();
    for row in all.filter(|row| !but_for.contains(&(row.at.sheet, row.at.row))) {
        cells.iter().for_each(|(column, entry)| row.answer(column, entry.clone()));
    }
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
    can_ask_about_all(&rows)?;
    let row_of = |index: OpeningIndex| sheets.show_row(rows[index].at());
    let of_types: Vec<bool> = rows.iter().map(Row::is_of_a_type).collect();
    let named = Named::new(who, &of_types, row_of);
    queries.extend(named.repeated.iter().map(|&(first, count)| {
        let detail = format!("{}: {count} rows", named.openings[first].written);
        Query::new(&SurveyQuery::CountedTypeAgain, Some(rows[first].at())).with_detail(detail)
    }));

    let cells = cells_of(run.grids);
    let read_cells = |(texts, known): &mut (Texts, blanks::Known), (index, row): (OpeningIndex, &Row<'_>)| {
        let mut record = Record::silent(index, named.openings[index].at, bare.shown_in());
        let mut own = Cells::new(row.joined, bare, row.table(), &mut record);
        if let Some(twin) = named.twins[index] {
            own.same_key_as(rows[twin].joined, &row_of(twin));
        }
        own.headings(row.holding());
        own.look_up(&row.lookup);
        own.doubt(&named.openings[index]);
        let facts = own.facts(texts).map(Box::new);
        let blanks =
            facts.as_deref().map_or_else(Blanks::default, |facts| blanks::of(row.joined, facts, known));
        (facts, blanks, row.as_read(&cells, bare, texts), record.finish().0)
    };
    let read: Vec<RowRead> = rows.par_iter().enumerate().map_init(Default::default, read_cells).collect();
    let mut openings = Vec::with_capacity(rows.len());
    for (who, (facts, blanks, as_read, asked)) in named.openings.into_iter().zip(read) {
        queries.extend(asked);
        openings.push(Opening { who, facts, blanks, as_read });
    }
    let answers = answers.tell(rows.iter().map(Row::key), &mut queries);
    queries.extend(peers::ask(&rows, &openings, bare));
    queries.extend(patterns::ask(&rows, &openings));
    queries.extend(missing::ask(&rows, &openings));
    queries.extend(copied::ask(&rows, &openings, bare.shown_in()));
    let survey = Survey {
        rows: openings.len() + nameless,
        openings,
        carried: carried.into_headings(),
        bare: settled,
        answers,
        columns: files.iter().flat_map(File::columns_read).cloned().collect(),
    };
    Ok(Checked { value: survey, queries })
}

/// Whether no more cells cannot be read than a run may ask about.
fn can_ask_about_all(rows: &[Row<'_>]) -> Result<(), SurveyError> {
    let mut unread = vec![0; OPENINGS.columns.len()];
    for (column, entry) in rows.iter().flat_map(|row| row.joined.entries()) {
        unread[column.slot] += usize::from(entry.datum.is_err());
    }
    let cells = unread.iter().sum();
    let most = OPENINGS.columns.iter().max_by_key(|column| unread[column.slot]);
    match most.filter(|_| cells > MOST_UNREAD) {
        Some(column) => Err(SurveyError::TooManyUnread { cells, column: column.name }),
        None => Ok(()),
    }
}

/// Puts the answers in the rows that they are for. An answer names its opening as the surveys stand
/// without it, so where there are any the rows are read once before.
fn answer(files: &mut [File], run: &Files<'_>, sheets: &Sheets, bare: Unit, carried: &Carried) -> Applied {
    if run.answers.is_empty() {
        return Applied::default();
    }
    let mut texts = Texts::default();
    // What is odd about the rows is raised when they are read with their answers.
    let rows: Vec<Row<'_>> =
        files.iter().flat_map(|file| file.rows(bare, &mut Vec::new()).unwrap_or_default().openings).collect();
    let keys: Vec<_> = rows.iter().map(Row::key).collect();
    let places: Vec<_> = rows.iter().map(Row::at).collect();
    let of_types: Vec<bool> = rows.iter().map(Row::is_of_a_type).collect();
    let who = rows.iter().map(|row| row.identity(carried, &mut texts)).collect();
    let named = Named::new(who, &of_types, |index| sheets.show_row(places[index])).openings;
    let openings: Vec<_> = keys.iter().copied().zip(named).collect();
    let by_key: HashMap<RowKey, &Row<'_>> = keys.into_iter().zip(&rows).collect();
    let cells = cells_of(run.grids);
    let every: EveryRow<'_> =
        files.iter().flat_map(File::every_row).map(|(table, row)| (row.at, (table, row))).collect();
    let own = |key: RowKey, column: &Column| match (by_key.get(&key), every.get(&key)) {
        (Some(row), _) => row.own(column, &cells),
        (None, Some((_, row))) => row.own_entry(column).map_or(Own::Blank, |entry| own_cell(entry, &cells)),
        (None, None) => Own::Blank,
    };
    let of_headings = &run.of_headings;
    let standing = Standing {
        grids: run.grids,
        sheets,
        every: &every,
        openings: &openings,
        own: &own,
        of_headings,
        bare,
    };
    let applied = answers::settle(&run.answers, &standing);
    files.iter_mut().flat_map(File::opening_rows).for_each(|rows| applied.put_into(rows));
    applied
}

/// The sheets of a run by their id, for a cell to be found again.
pub(super) fn cells_of(grids: &[Grid]) -> BTreeMap<SheetId, &Sheet> {
    grids.iter().flat_map(|grid| &grid.sheets).map(|sheet| (sheet.id, sheet)).collect()
}
