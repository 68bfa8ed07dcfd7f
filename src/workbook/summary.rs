//! `Summary`: whether the job is complete, what it comes to, and where to look next.

mod figures;
mod range;
mod tables;

use std::borrow::Cow;

use super::cell::Cell;
use super::charts;
use super::layout::{fixed, top_of};
use super::look::Tone;
use super::pages::{Form, Frozen, Pages};
use super::paper::Lie;
use super::{Press, WorkbookError, Written, options_compared};

/// Columns of the sheet. Tables stand on the left, their charts beside them from
/// [`charts::FIRST_COLUMN`] on.
const SPAN: u16 = 8;

/// Characters that each column holds.
const WIDTHS: [usize; SPAN as usize] = [26, 13, 15, 14, 13, 13, 13, 12];

pub(super) fn write(press: &Press<'_>) -> Written {
    let report = press.report;
    let verdict = report.verdict();
    let mut remarks = vec![
        report.advice().into(),
        "Verify sizes on site before ordering. Local codes and licensed trades decide what may be fixed, drilled or covered.".into(),
        "Costs and days follow changes on Cost summary. To change a size, change the survey and run again.".into(),
    ];
    remarks.extend(press.limits.why_not_drawn(report.survey.openings.len()).map(Cow::Owned));
    let form =
        Form { name: fixed::SUMMARY, title: &verdict, remarks, lie: Lie::Portrait, frozen: Frozen::Title };
    let mut pages = Pages::open(press, form)?;
    for (column, characters) in (0..).zip(WIDTHS) {
        pages.widen(column, characters);
    }
    figures::in_figures(&mut pages, press)?;
    figures::so_far(&mut pages, press)?;
    range::total(&mut pages, press)?;
    tables::queries(&mut pages, press)?;
    tables::cost_by_floor(&mut pages, press)?;
    tables::commonest_sizes(&mut pages, press)?;
    figures::project(&mut pages, press)?;
    tables::bars(&mut pages, press)?;
    tables::assumptions(&mut pages, press)?;
    sheets(&mut pages, press)?;
    pages.finish()
}

/// The other sheets, and what each is for.
const ABOUT_SHEETS: [(&str, &str); 24] = [
    (fixed::CHANGES, "what is different from the earlier fit-out, and what is still to be done"),
    (fixed::QUERIES, "queries to answer, and things to check"),
    (fixed::ANSWERS, "what was answered so far, and what became of it"),
    (fixed::COLUMNS_READ, "what each heading of the survey was taken as"),
    (fixed::AS_SURVEYED, "every opening as it was read, for a later run to compare with"),
    (fixed::OPENINGS, "every opening, with everything decided about it"),
    (fixed::ORDER, "for the maker: finished sizes and totals by color"),
    (fixed::ORDER_OPENINGS, "for the maker: where each blind goes"),
    (fixed::BLINDS, "for whoever runs the job: how far each blind has come"),
    (fixed::ALSO_FITS, "for whoever has a blind left over: the openings that would take it"),
    (fixed::LABELS, "for the maker: one label per blind"),
    (fixed::CUT_LIST, "for the saw: every bar and stop setting"),
    (fixed::OFFCUTS, "for the next survey: what is left after cutting"),
    (fixed::HARDWARE, "for the buyer: parts, fixings and packs"),
    (fixed::OPTIONS_COMPARED, "for whoever decides: options, sizes, stock and cover side by side"),
    (fixed::PHASES, "for the manager: each phase against its budget and its dates"),
    (fixed::FITTING_DAYS, "for whoever plans: which unit on which day, and what goes up to each floor"),
    (fixed::NOTICES, "for whoever lives there: the day, and what to do before"),
    (fixed::PILOT, "for whoever begins: the fewest units that show every case once"),
    (fixed::INSTALL_INDEX, "for the fitter: a sheet per unit"),
    (fixed::HANDOVER, "for whoever lives there: what hangs where, care and child safety"),
    (fixed::COST_SUMMARY, "for the manager: costs, where they fall, and what is not included"),
    (fixed::WORKING, "how numbers were worked out, step by step"),
    (fixed::RULES_USED, "every rule, its value and the reason for it"),
];

fn sheets(pages: &mut Pages<'_>, press: &Press<'_>) -> Result<(), WorkbookError> {
    // A blank row and the section's name stand above them.
    charts::keep_rows(pages, ABOUT_SHEETS.len() as u32 + 2)?;
    pages.section("In this workbook", SPAN)?;
    let is_there = |name: &str| match name {
        fixed::ANSWERS => !press.report.answers.is_empty(),
        fixed::ALSO_FITS => !press.report.also_fits.is_empty(),
        fixed::OPTIONS_COMPARED => options_compared::is_there(press),
        fixed::PILOT => press.report.pilot().is_some(),
        fixed::PHASES => !press.report.phases.sums.is_empty(),
        fixed::FITTING_DAYS => press.report.plans_days(),
        fixed::NOTICES => !press.report.notices().is_empty(),
        fixed::HANDOVER => press.report.has_fitted(),
        fixed::CHANGES => press.report.is_after_another(),
        _ => true,
    };
    for (name, about) in ABOUT_SHEETS.into_iter().filter(|(name, _)| is_there(name)) {
        let sheet = pages.sheet();
        sheet.put(0, Cell::Link(top_of(name), name.into()), Tone::Link)?;
        sheet.spread((1, SPAN - 1), about, Tone::Body)?;
        sheet.next_row()?;
    }
    Ok(())
}
