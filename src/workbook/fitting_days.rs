//! `Fitting days`: who goes where on which day, and what goes up to each floor. People type beside a
//! visit that it keeps its date, and a later run with `--after` goes on from there.

use super::layout::fixed;
use super::look::Tone;
use super::pages::{Column, Form, Frozen, Pages, columns_of, in_use, span};
use super::paper::Lie;
use super::{Press, Written};
use crate::report::rows::{FittingDayRow, LoadRow};
use crate::schema::fitting_days::{DONE, KEEP, TOLD_ON, TYPED};

/// Writes the sheet, where days are asked for.
pub(super) fn write(press: &Press<'_>) -> Written {
    let report = press.report;
    if !report.plans_days() {
        return Ok(Vec::new());
    }
    let days = &report.days;
    let last =
        days.last.map_or_else(|| "no last date is known".to_owned(), |date| format!("the last is {date}"));
    let form = Form {
        name: fixed::FITTING_DAYS,
        title: "Fitting days",
        remarks: vec![
            format!("{}, each phase's own; {last}. A visit without a day waits for an answer or a rate.", working_days(days.count)).into(),
            "Minutes are of all fitters together. Not charged are the set-up of a further visit and what the first unit takes longer (learning start on Rates).".into(),
            "With one fitter, days with a blind for two have a second person. Boxes must be on site the day before.".into(),
            format!(
                "Type in the columns with boxes, save, and run again with --after and this file. {}: yes holds unit and date. {} and {}: dates.",
                KEEP.name, TOLD_ON.name, DONE.name,
            )
            .into(),
        ],
        lie: Lie::Wide,
        frozen: Frozen::Title,
    };
    let mut pages = Pages::open(press, form)?;
    pages.way_back()?;
    let rows = || FittingDayRow::all(report);
    let columns = columns_of::<FittingDayRow<'_>>(press, |lead| press.address(lead));
    let columns = in_use(columns.into_iter().map(typed).collect(), rows());
    pages.table(&columns, rows(), |row| if row.waits() { Tone::Provisional } else { Tone::Body })?;
    let loads = LoadRow::all(report);
    if !loads.is_empty() {
        let columns = columns_of::<LoadRow<'_>>(press, |lead| press.address(lead));
        pages.section("What goes up to each floor", span(&columns))?;
        pages.remark("A blind comes in a box of its own, as long as its longest piece. It fits the lift if it can stand, lie or slant straight across two of the three sizes on Project.")?;
        pages.table(&columns, loads, |_| Tone::Body)?;
    }
    pages.finish()
}

fn working_days(count: usize) -> String {
    if count == 1 { "1 working day".to_owned() } else { format!("{count} working days") }
}

/// A column that people type in has boxes.
fn typed<'p>(column: Column<'p, FittingDayRow<'p>>) -> Column<'p, FittingDayRow<'p>> {
    match TYPED.iter().any(|typed| typed.name == column.heading) {
        true => column.written_in(10),
        false => column,
    }
}
