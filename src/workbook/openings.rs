//! `Openings`: a row for each opening, with all that was decided about it.

use super::layout::fixed;
use super::look::Tone;
use super::pages::{Column, Form, Frozen, Pages, columns_of, in_use};
use super::paper::Lie;
use super::{HEIGHTS, LEFT_AND_RIGHT, Press, Written};
use crate::report::State;
use crate::report::rows::OpeningRow;

/// Columns that stand after those that are carried: the note, and the cell that it was read from.
const AFTER_CARRIED: usize = 2;

pub(super) fn write(press: &Press<'_>) -> Written {
    let form = Form {
        name: fixed::OPENINGS,
        title: "Openings",
        remarks: vec![format!("{LEFT_AND_RIGHT} {HEIGHTS}").into()],
        lie: Lie::Wide,
        frozen: Frozen::HeadingsOfWide,
    };
    let rows = OpeningRow::all(press.report, &press.doubts);
    let columns = in_use(columns(press), rows.clone());
    let mut pages = Pages::open(press, form)?;
    pages.table(&columns, rows, |row| match row.state() {
        State::Sized => Tone::Body,
        State::Provisional => Tone::Provisional,
        State::Held => Tone::Held,
    })?;
    pages.finish()
}

/// What the row says, and before its note the survey's own columns, carried as they are.
fn columns<'p>(press: &'p Press<'p>) -> Vec<Column<'p, OpeningRow<'p>>> {
    let mut columns = columns_of::<OpeningRow<'p>>(press, |lead| press.address(lead));
    let carried = press.report.survey.carried.iter().enumerate().map(|(place, heading)| {
        Column::new(&**heading, move |row: OpeningRow<'p>| row.who().carried.get(place)).unless_blank()
    });
    let before = columns.len().saturating_sub(AFTER_CARRIED);
    columns.splice(before..before, carried);
    columns
}
