//! `Changes`: what is different from the fit-out that the run took up, and what is still to be done. Only
//! a run that took one up has it.

use super::layout::fixed;
use super::look::Tone;
use super::pages::{Form, Frozen, Pages, columns_of, in_use};
use super::paper::Lie;
use super::{Press, Written};
use crate::report::rows::ChangeRow;

/// Writes the sheet, if there is an earlier fit-out.
pub(super) fn write(press: &Press<'_>) -> Written {
    if !press.report.is_after_another() {
        return Ok(Vec::new());
    }
    let changes = press.report.changes();
    let form = Form {
        name: fixed::CHANGES,
        title: "What has changed",
        remarks: vec![
            "Compared with the earlier fit-out: openings, what the survey says of them, sizes, lines of the order, prices and rules. What is to order, to cancel or to make again stays here until State on Blinds says that it is done. Costs are per blind.".into(),
        ],
        lie: Lie::Wide,
        frozen: Frozen::HeadingsOfWide,
    };
    let mut pages = Pages::open(press, form)?;
    pages.way_back()?;
    let rows = || ChangeRow::all(changes, Some(press.report.rules.project.currency));
    let columns = in_use(columns_of::<ChangeRow<'_>>(press, |lead| press.address(lead)), rows());
    pages.table(&columns, rows(), |_| Tone::Body)?;
    pages.finish()
}
