//! `Offcuts`: what is on hand when everything is sawn, under the headings of the survey's own
//! sheet of that name, so that the next survey can carry it as it is.

use super::layout::fixed;
use super::look::Tone;
use super::pages::{Form, Frozen, Pages, columns_of};
use super::paper::Lie;
use super::{Press, Written};
use crate::report::rows::OffcutRow;

pub(super) fn write(press: &Press<'_>) -> Written {
    let form = Form {
        name: fixed::OFFCUTS,
        title: "Offcuts left after cutting",
        remarks: vec![
            "Copy this sheet into the next survey: its offcuts are used before bars are bought. Delete any that are lost or scrapped. A run with --after takes none from here by itself.".into(),
        ],
        lie: Lie::Portrait,
        frozen: Frozen::Headings,
    };
    let mut pages = Pages::open(press, form)?;
    let columns = columns_of::<OffcutRow<'_>>(press, |lead| press.address(lead));
    pages.table(&columns, OffcutRow::all(press.report), |_| Tone::Body)?;
    pages.finish()
}
