//! `Phases`: each phase against its budget and its dates.

use super::layout::fixed;
use super::look::Tone;
use super::pages::{Form, Frozen, Pages, columns_of, in_use};
use super::paper::Lie;
use super::{Press, Written};
use crate::cost::WHOLE_PROJECT;
use crate::report::rows::PhaseRow;

/// Writes the sheet, if the job has phases.
pub(super) fn write(press: &Press<'_>) -> Written {
    if press.report.phases.sums.is_empty() {
        return Ok(Vec::new());
    }
    let currency = press.report.rules.project.currency;
    let form = Form {
        name: fixed::PHASES,
        title: "Phases: cost against budget, and arrival against need",
        remarks: vec![
            format!("Money is in {currency} and of this run; Cost summary follows changed rates. KNOWN SO FAR: something of the phase is held or has no price, so it will cost more.").into(),
            format!("A budget is compared with the whole share: direct cost with its overhead, profit, contingency and tax. The {WHOLE_PROJECT} has what no opening takes (delivery, waste, spares).").into(),
            "Lead days and arrival are of the last blind that is still to come. To change a date or a budget, change it on the sheet Phases of the survey, then run again.".into(),
        ],
        lie: Lie::Wide,
        frozen: Frozen::Headings,
    };
    let mut pages = Pages::open(press, form)?;
    pages.way_back()?;
    let report = press.report;
    let columns = columns_of::<PhaseRow<'_>>(press, |lead| press.address(lead));
    let columns = in_use(columns, PhaseRow::all(report));
    pages.table(&columns, PhaseRow::all(report), |_| Tone::Body)?;
    pages.rows(&columns, [PhaseRow::together(report)], |_| Tone::Total)?;
    pages.finish()
}
