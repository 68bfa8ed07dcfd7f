//! `Offcuts`: what is on hand when everything is sawn, under the headings of the survey's own
//! sheet of that name, so that the next survey can carry it as it is.

use rust_xlsxwriter::Workbook;

use super::cell::Cell;
use super::layout::fixed;
use super::look::Tone;
use super::pages::{Column, Form, Frozen, Pages};
use super::sheet::{Keeping, Lie};
use super::{Press, WorkbookError};
use crate::cutting::{LeftFrom, OffcutLeft};
use crate::rules::columns::offcuts::COLUMNS;

pub(super) fn write(workbook: &mut Workbook, press: &Press<'_>) -> Result<(), WorkbookError> {
    let form = Form {
        name: fixed::OFFCUTS,
        title: "Offcuts on hand when everything is sawn",
        remarks: vec![
            "Copy this sheet into the next survey: its offcuts are used before bars are bought. Delete the rows of what was lost.".into(),
        ],
        keeping: Keeping::Disk,
        lie: Lie::Portrait,
        frozen: Frozen::Headings,
    };
    let mut pages = Pages::open(workbook, press, form)?;
    pages.table(&columns(press), &press.report.cuts.offcuts, |_| Tone::Body)?;
    pages.finish()
}

/// The columns of the survey's sheet, in its order. The heading of the lengths names their unit,
/// for the next survey may be in another; a decimal number keeps what a fraction would round.
fn columns<'p>(press: &'p Press<'p>) -> Vec<Column<'p, &'p OffcutLeft>> {
    vec![
        Column::new(COLUMNS.material.name, |left: &'p OffcutLeft| &left.material).strong(),
        Column::new(COLUMNS.colour.name, |left: &'p OffcutLeft| &left.colour),
        Column::new(press.lengths(COLUMNS.length.name), |left: &OffcutLeft| Cell::Decimal(left.length))
            .strong(),
        Column::new(COLUMNS.quantity.name, |left: &OffcutLeft| left.quantity).strong(),
        Column::new(COLUMNS.note.name, |left: &OffcutLeft| match left.from {
            LeftFrom::Kept => "kept of this run",
            LeftFrom::OnHand => "on hand before, not needed",
        }),
    ]
}
