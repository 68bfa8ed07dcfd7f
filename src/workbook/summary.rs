//! `Summary`: whether the job is complete, what it comes to, and where to look next.

use std::borrow::Cow;

use rust_decimal::Decimal;
use rust_xlsxwriter::Workbook;

use super::cell::Cell;
use super::layout::{fixed, top_of};
use super::look::Tone;
use super::pages::{Column, Form, Frozen, Pages};
use super::sheet::{Keeping, Lie};
use super::{Press, WorkbookError};
use crate::cutting::CutPlan;
use crate::query::Severity;
use crate::survey::Assumption;

/// Sections are as wide as the widest table below them.
const SPAN: u16 = 7;

pub(super) fn write(workbook: &mut Workbook, press: &Press<'_>) -> Result<(), WorkbookError> {
    let report = press.report;
    let verdict = report.verdict();
    let form = Form {
        name: fixed::SUMMARY,
        title: &verdict,
        remarks: vec![
            "Sizes are yours to verify on site before ordering. Local codes and licensed trades decide what may be fixed, drilled or covered.".into(),
            "Only costs are live: change a rate on Cost summary and its totals follow. To change a size, change the survey and run it again.".into(),
        ],
        keeping: Keeping::Disk,
        lie: Lie::Portrait,
        frozen: Frozen::Title,
    };
    let mut pages = Pages::open(workbook, press, form)?;
    pages.widen(0, 26);
    pages.widen(1, 24);
    project(&mut pages, press)?;
    counts(&mut pages, press)?;
    queries(&mut pages, press)?;
    if !report.cuts.plans.is_empty() {
        pages.section("Bars", SPAN)?;
        pages.table(&bar_columns(press), &report.cuts.plans, |_| Tone::Body)?;
    }
    if !report.assumptions.is_empty() {
        pages.section("Taken because a cell was blank", SPAN)?;
        pages.table(&assumption_columns(), &report.assumptions, |_| Tone::Body)?;
    }
    sheets(&mut pages)?;
    pages.finish()
}

/// Writes a figure beside its name.
fn fact<'c>(
    pages: &mut Pages<'_, '_>,
    label: &str,
    figure: impl Into<Cell<'c>>,
) -> Result<(), WorkbookError> {
    let sheet = pages.sheet();
    sheet.put(0, label, Tone::Label)?;
    sheet.put(1, figure, Tone::Figure)?;
    sheet.next_row();
    Ok(())
}

fn project(pages: &mut Pages<'_, '_>, press: &Press<'_>) -> Result<(), WorkbookError> {
    let project = &press.report.rules.project;
    let written = |text: &str| if text.is_empty() { "not given".to_owned() } else { text.to_owned() };
    pages.section("Project", SPAN)?;
    fact(pages, "Project", written(&project.name))?;
    fact(pages, "Site", written(&project.site))?;
    fact(pages, "Client", written(&project.client))?;
    fact(pages, "Surveyed by", written(&project.surveyed_by))?;
    fact(pages, "Survey date", Cell::known(project.survey_date))?;
    fact(pages, "Revision", written(&project.revision))?;
    fact(pages, "Survey fingerprint", Cell::known(press.report.fingerprint.map(|print| print.to_string())))?;
    fact(pages, "Order date", Cell::known(project.order_date.or(project.survey_date)))?;
    fact(pages, "Need by", Cell::known(project.need_by))?;
    fact(pages, "Sizes are in", project.units.symbol())?;
    fact(pages, "Money is in", project.currency.code().to_owned())?;
    fact(pages, "Jurisdiction", project.jurisdiction.word())?;
    fact(pages, "Cost basis", project.cost_basis.word())
}

fn counts(pages: &mut Pages<'_, '_>, press: &Press<'_>) -> Result<(), WorkbookError> {
    let (report, counts) = (press.report, &press.report.counts);
    pages.section("In figures", SPAN)?;
    fact(pages, "Opening rows read", counts.rows)?;
    fact(pages, "Openings", counts.openings)?;
    fact(pages, "Sized, free to be made", counts.sized)?;
    fact(pages, "Provisional", counts.provisional)?;
    fact(pages, "Held", counts.held)?;
    fact(pages, "Blinds", counts.blinds)?;
    fact(pages, "Units", press.units.len())?;
    fact(pages, "Different sizes", counts.sizes)?;
    fact(pages, "Order lines", report.order.lines.len())?;
    fact(pages, "Blinds from stock", report.from_stock())?;
    if let Some(merging) = &report.merging {
        let words = format!(
            "{} sizes became {}; at least {} are needed",
            merging.before, merging.after, merging.at_least
        );
        fact(pages, "Shared sizes", words)?;
    }
    fact(pages, "Weight of all blinds (kg)", Cell::Mass(report.weight()))?;
    fact(pages, &press.money("Subtotal, known amounts"), Cell::Money(report.cost.subtotal))?;
    fact(pages, &press.money("Tax"), Cell::known(report.cost.tax.map(Cell::Money)))?;
    fact(pages, &press.money("Total"), Cell::known(press.cost.total_on(fixed::SUMMARY)))?;
    fact(pages, "Openings not in the total", report.openings_not_in_total())
}

fn queries(pages: &mut Pages<'_, '_>, press: &Press<'_>) -> Result<(), WorkbookError> {
    pages.section("Queries", SPAN)?;
    for (severity, meaning) in [
        (Severity::Stop, "Stops: openings held back"),
        (Severity::Check, "Checks: sized, but look"),
        (Severity::Note, "Notes"),
    ] {
        let count = press.report.query_count(severity);
        let words = match count.causes {
            0 => "none".to_owned(),
            causes if count.places == 1 => format!("{causes} to answer, in 1 place"),
            causes => format!("{causes} to answer, in {} places", count.places),
        };
        let cell =
            if count.causes == 0 { words.into() } else { Cell::Link(top_of(fixed::QUERIES), words.into()) };
        fact(pages, meaning, cell)?;
    }
    Ok(())
}

fn bar_columns<'p>(press: &'p Press<'p>) -> Vec<Column<'p, &'p CutPlan>> {
    let mut columns = vec![
        Column::new("Material", |plan: &'p CutPlan| &plan.material).strong(),
        Column::new("Colour", |plan: &'p CutPlan| &plan.colour),
        Column::new("Bars to buy", |plan: &CutPlan| plan.bars).strong(),
        Column::new("At least", |plan: &CutPlan| Cell::known(plan.at_least)),
        Column::new("Above the least", |plan: &CutPlan| above_the_least(press, plan)),
        Column::new("Used", |plan: &CutPlan| Cell::Share(plan.used_share)),
        Column::new(press.money("Cost of bars"), |plan: &CutPlan| {
            Cell::known(
                plan.cost.map(|cost: Decimal| Cell::Money(press.report.rules.project.currency.round(cost))),
            )
        }),
    ];
    if press.report.cuts.plans.iter().any(|plan| plan.phase.is_some()) {
        columns.push(Column::new("Sawn for", |plan: &CutPlan| plan.phase_in_words().map(Cow::into_owned)));
    }
    columns
}

/// `nothing, proven`, or how much a better plan could save at most.
fn above_the_least(press: &Press<'_>, plan: &CutPlan) -> String {
    let gap = plan.gap();
    match (gap.bars, gap.cost) {
        _ if plan.proven => "nothing, proven".to_owned(),
        (Some(1), _) => "at most 1 bar".to_owned(),
        (Some(bars), _) => format!("at most {bars} bars"),
        (None, Some(cost)) => format!("at most {}", press.amount(cost)),
        (None, None) => "not known".to_owned(),
    }
}

fn assumption_columns<'p>() -> Vec<Column<'p, &'p Assumption>> {
    vec![
        Column::new("Column or item", |assumption: &Assumption| assumption.column).strong(),
        Column::new("Taken as", |assumption: &'p Assumption| &*assumption.value),
        Column::new("Openings", |assumption: &Assumption| match assumption.openings {
            0 => "the project".into(),
            openings => Cell::Whole(openings),
        }),
    ]
}

fn sheets(pages: &mut Pages<'_, '_>) -> Result<(), WorkbookError> {
    pages.section("In this workbook", SPAN)?;
    for (name, about) in [
        (fixed::QUERIES, "what someone must answer or look at"),
        (fixed::OPENINGS, "every opening with all that was decided about it"),
        (fixed::ORDER, "for the maker: finished sizes, labels and totals by colour"),
        (fixed::CUT_LIST, "for the saw: every bar and stop setting"),
        (fixed::OFFCUTS, "for the next survey: what is left of the bars"),
        (fixed::HARDWARE, "for the buyer: parts, fixings and packs"),
        (fixed::INSTALL_INDEX, "for the fitter: a page for each unit"),
        (fixed::COST_SUMMARY, "for the manager: costs, and what is not in them"),
        (fixed::WORKING, "every step of every number"),
        (fixed::RULES_USED, "every rule, its value and its reason"),
    ] {
        let sheet = pages.sheet();
        sheet.put(0, Cell::Link(top_of(name), name.into()), Tone::Link)?;
        sheet.put(1, about, Tone::Remark)?;
        sheet.next_row();
    }
    Ok(())
}
