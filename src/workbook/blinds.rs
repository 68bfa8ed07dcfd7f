//! `Blinds`: the memory of the job. People type beside each blind how far it has come, and a later run
//! with `--after` goes on from there.

use super::layout::fixed;
use super::pages::{Column, Form, Frozen, Pages, columns_of, in_use};
use super::paper::Lie;
use super::{LEFT_AND_RIGHT, Press, Written, order};
use crate::report::rows::BlindRow;
use crate::schema::blinds::{
    BlindState, DO, Do, GOES_TO, PAID_BY, PaidBy, REASON, Reason, STATE, STORE, TYPED,
};
use crate::sizing::Release;

/// Writes the sheet.
pub(super) fn write(press: &Press<'_>) -> Written {
    let words = |words: &[&str]| words.join(", ");
    let form = Form {
        name: fixed::BLINDS,
        title: "Blinds, and how far each has come",
        remarks: vec![
            format!(
                "Type in the columns with boxes, save, and run again with --after and this file. {}: {}. What has one is ordered, and nothing printed of it changes any more.",
                STATE.name,
                words(BlindState::WORDS.own),
            )
            .into(),
            format!(
                "{}: {}. {}: {} (blank: us). {}: {}. {}: an opening by its name here, or {STORE}. {LEFT_AND_RIGHT}",
                REASON.name,
                words(Reason::WORDS.own),
                PAID_BY.name,
                words(PaidBy::WORDS.own),
                DO.name,
                words(Do::WORDS.own),
                GOES_TO.name,
            )
            .into(),
        ],
        lie: Lie::Wide,
        frozen: Frozen::HeadingsOfWide,
    };
    let mut pages = Pages::open(press, form)?;
    pages.way_back()?;
    let rows = || BlindRow::all(press.report);
    let columns = columns_of::<BlindRow<'_>>(press, |lead| press.address(lead));
    let columns = in_use(columns.into_iter().map(typed).collect(), rows());
    pages.table(&columns, rows(), |row| order::tone(row.release().unwrap_or(Release::Make)))?;
    pages.finish()
}

/// A column that people type in has boxes.
fn typed<'p>(column: Column<'p, BlindRow<'p>>) -> Column<'p, BlindRow<'p>> {
    match TYPED.iter().any(|typed| typed.name == column.heading) {
        true => column.written_in(10),
        false => column,
    }
}
