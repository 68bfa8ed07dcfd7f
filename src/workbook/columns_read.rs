//! `Columns read`: what every heading of the surveys was taken as, for a reader to see at a glance
//! that nothing was misread and nothing left out unseen.

use super::layout::fixed;
use super::look::Tone;
use super::pages::{Form, Frozen, Pages, columns_of};
use super::paper::Lie;
use super::{Press, Written};
use crate::report::rows::ColumnReadRow;
use crate::schema::headings::{HEADINGS, NOT_NEEDED};

pub(super) fn write(press: &Press<'_>) -> Written {
    let form = Form {
        name: fixed::COLUMNS_READ,
        title: "Columns read",
        remarks: vec![
            "What each heading of the survey was taken as. carried: only copied to Openings. not read: nothing was taken from it.".into(),
            format!(
                "If one is wrong: in the survey, add a sheet {} with the columns Sheet, Heading, Means and Unit, and enter under Means a column's name, or {NOT_NEEDED}.",
                HEADINGS.sheet
            )
            .into(),
        ],
        lie: Lie::Landscape,
        frozen: Frozen::Headings,
    };
    let mut pages = Pages::open(press, form)?;
    let columns = columns_of::<ColumnReadRow<'_>>(press, |lead| press.address(lead));
    let tone = |row: ColumnReadRow<'_>| if row.query().is_some() { Tone::Held } else { Tone::Body };
    pages.table(&columns, ColumnReadRow::all(press.report), tone)?;
    pages.finish()
}
