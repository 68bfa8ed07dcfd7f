//! `Pilot`: the units to fit first, as a page.

use super::layout::fixed;
use super::look::Tone;
use super::pages::{Form, Frozen, Pages, columns_of, in_use, span};
use super::paper::Lie;
use super::{Press, Written};
use crate::report::rows::{PilotCaseRow, PilotUnitRow};

/// Writes the sheet, if some units can stand for all.
pub(super) fn write(press: &Press<'_>) -> Written {
    let Some(pilot) = press.report.pilot() else { return Ok(Vec::new()) };
    let fewest = match pilot.proven {
        true => "No fewer units show as much.",
        false => "It is not proven that no fewer units show as much.",
    };
    let form = Form {
        name: fixed::PILOT,
        title: "Units to fit first",
        remarks: vec![
            format!(
                "{} of {} units: together they show every type, product, mount and substrate that may be made. {fewest}",
                pilot.units.len(),
                pilot.of_units
            )
            .into(),
            "Fit these, look at each case below with whoever decides, and order the rest when all of them are right.".into(),
        ],
        lie: Lie::Landscape,
        frozen: Frozen::Title,
    };
    let mut pages = Pages::open(press, form)?;
    pages.way_back()?;
    let units = columns_of::<PilotUnitRow<'_>>(press, |lead| press.address(lead));
    let units = in_use(units, PilotUnitRow::all(press.report));
    pages.section("Units", span(&units))?;
    pages.table(&units, PilotUnitRow::all(press.report), |_| Tone::Body)?;
    let cases = columns_of::<PilotCaseRow<'_>>(press, |lead| press.address(lead));
    pages.section("What to look at", span(&cases))?;
    pages.table(&cases, PilotCaseRow::all(press.report), |_| Tone::Body)?;
    pages.finish()
}
