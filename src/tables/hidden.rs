//! Rows and columns of a table that the sheet does not show: read like the others, with a note.

use super::lines::cells_in;
use super::queries::SheetQuery;
use crate::grid::{Row, Sheet};
use crate::place::column_letters;
use crate::query::Query;

/// A note on the hidden rows among a table's own, and one on its hidden columns, if there are any
/// that hold anything.
pub(super) fn notes(sheet: &Sheet, body: &[Row], columns: (u16, u16)) -> Vec<Query> {
    let rows = runs(&sheet.hidden.rows, |first, last| {
        let start = body.partition_point(|row| row.row < first);
        let own = body.get(start..).unwrap_or(&[]).iter().take_while(|row| row.row <= last);
        own.filter(|row| !cells_in(row, columns).is_empty()).map(|row| row.row).collect()
    });
    let shown_columns = runs(&sheet.hidden.columns, |first, last| {
        let within = (first.max(columns.0), last.min(columns.1));
        let mut held: Vec<u16> =
            body.iter().flat_map(|row| cells_in(row, within)).map(|(column, _)| *column).collect();
        held.sort_unstable();
        held.dedup();
        held
    });
    let row_note = rows.first().map(|first| {
        let at = body.iter().find(|row| row.row == first.0);
        let column = at.and_then(|row| cells_in(row, columns).first()).map_or(columns.0, |cell| cell.0);
        let list = list(&rows, |row| (u64::from(row) + 1).to_string());
        Query::new(&SheetQuery::HiddenRows, Some(sheet.at(first.0, column)))
            .with_detail(format!("rows: {list}"))
    });
    let column_note = shown_columns.first().map(|first| {
        let top = body.first().map_or(0, |row| row.row);
        let list = list(&shown_columns, column_letters);
        Query::new(&SheetQuery::HiddenColumns, Some(sheet.at(top, first.0)))
            .with_detail(format!("columns: {list}"))
    });
    row_note.into_iter().chain(column_note).collect()
}

/// Of hidden runs, the runs of those that hold anything.
fn runs<N: Copy + PartialEq + From<u8> + std::ops::Add<Output = N>>(
    hidden: &[(N, N)],
    held: impl Fn(N, N) -> Vec<N>,
) -> Vec<(N, N)> {
    let mut runs: Vec<(N, N)> = Vec::new();
    for one in hidden.iter().flat_map(|(first, last)| held(*first, *last)) {
        match runs.last_mut() {
            Some(run) if run.1 + N::from(1) == one => run.1 = one,
            _ => runs.push((one, one)),
        }
    }
    runs
}

/// `5 to 8, 12`.
fn list<N: Copy + PartialEq>(runs: &[(N, N)], name: impl Fn(N) -> String) -> String {
    let run = |(first, last): &(N, N)| match first == last {
        true => name(*first),
        false => format!("{} to {}", name(*first), name(*last)),
    };
    runs.iter().map(run).collect::<Vec<_>>().join(", ")
}
