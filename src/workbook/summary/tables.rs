//! Short tables, each with a chart beside it or below where one answers a question.

use std::borrow::Cow;

use rust_decimal::Decimal;

use super::SPAN;
use crate::assumptions::Assumption;
use crate::cutting::CutPlan;
use crate::length::{Length, Unit, Units};
use crate::query::Severity;
use crate::report::SizeCount;
use crate::report::expr::{Address, Expr, Formula, Range, Term};
use crate::rules::CostBasis;
use crate::workbook::cell::Cell;
use crate::workbook::charts::{self, Bars};
use crate::workbook::cost_shares::{DIRECT, Shared, WHOLE};
use crate::workbook::layout::{fixed, top_of};
use crate::workbook::look::Tone;
use crate::workbook::pages::{Column, Pages};
use crate::workbook::shown::Shown;
use crate::workbook::{Press, WorkbookError};

/// Causes of queries that are shown; all are on `Queries`.
const CAUSES_SHOWN: usize = 8;
/// Floors that are shown; the rest is added up in a last row.
const FLOORS_SHOWN: usize = 12;
/// Sizes that are shown: the commonest.
const SIZES_SHOWN: usize = 8;
/// Materials that the chart shows; the table has all of them.
const MATERIALS_SHOWN: usize = 12;
/// Characters that what a query says may fill on a line.
const QUERY_CHARACTERS: usize = 78;

/// Queries by cause: what, how many, and the way to them.
pub(super) fn queries(pages: &mut Pages<'_>, press: &Press<'_>) -> Result<(), WorkbookError> {
    let report = press.report;
    let counted = |severity, words: &str| format!("{} {words}", report.query_count(severity).causes);
    let name = format!(
        "Queries: {}, {}, {}",
        counted(Severity::Stop, "holding openings back (stop)"),
        counted(Severity::Check, "to look at (check)"),
        counted(Severity::Note, "for information (note)")
    );
    let accepted: usize = report.accepted.iter().map(|query| query.places.len()).sum();
    let name = if accepted == 0 { name } else { format!("{name}; {accepted} accepted") };
    charts::keep_rows(pages, u32::try_from(CAUSES_SHOWN).unwrap_or(u32::MAX).saturating_add(3))?;
    pages.section(&name, SPAN)?;
    let sheet = pages.sheet();
    for query in report.queries.iter().take(CAUSES_SHOWN) {
        let what = Cell::Link(top_of(fixed::QUERIES), query.message.as_str().into());
        sheet.put(0, query.severity.to_string(), Tone::Label)?;
        sheet.put(1, places(query.places.len()), Tone::Body)?;
        sheet.lines(what.lines(QUERY_CHARACTERS));
        sheet.spread((2, SPAN - 1), what, Tone::Link)?;
        sheet.next_row()?;
    }
    if let Some(more) = report.queries.len().checked_sub(CAUSES_SHOWN).filter(|more| *more > 0) {
        sheet.put(0, Cell::Link(top_of(fixed::QUERIES), format!("and {more} more").into()), Tone::Link)?;
        sheet.next_row()?;
    }
    Ok(())
}

fn places(count: usize) -> String {
    if count == 1 { "1 place".to_owned() } else { format!("{count} places") }
}

/// What each floor bears of the cost, live from `Cost summary`.
pub(super) fn cost_by_floor(pages: &mut Pages<'_>, press: &Press<'_>) -> Result<(), WorkbookError> {
    let tables = press.shares.iter().flat_map(|shares| &shares.tables);
    let Some(floors) = tables.into_iter().find(|table| table.breakdown.by == "Floor") else { return Ok(()) };
    charts::keep_beside(pages, floors.breakdown.rows.len().min(FLOORS_SHOWN))?;
    pages.section("Cost by floor", SPAN)?;
    let top = pages.sheet().row();
    let shown = floors.breakdown.rows.len().min(FLOORS_SHOWN);
    let rest = floors.breakdown.rows.len() - shown;
    let places = &floors.breakdown.rows;
    let amount = |heading: &str, column| {
        Column::new(press.money(heading), move |row: usize| {
            let from = if row < shown { row..row + 1 } else { shown..places.len() };
            Cell::known(amount_of(floors, from, column))
        })
    };
    let columns = [
        Column::new("Floor", |row: usize| match places.get(row).filter(|_| row < shown) {
            Some(place) => Cell::from(place.name.as_str()),
            None => format!("{rest} other floors").into(),
        })
        .strong(),
        Column::new("Blinds", |row: usize| match places.get(row).filter(|_| row < shown) {
            Some(place) => place.blinds,
            None => places[shown..].iter().map(|place| place.blinds).sum(),
        }),
        amount("Direct cost", DIRECT),
        amount("Whole share", WHOLE),
    ];
    let rows = shown + usize::from(rest > 0);
    pages.table(&columns, 0..rows, |_| Tone::Body)?;
    let bars = Bars {
        title: press.money("Whole share by floor"),
        names: "Floor",
        values: press.money("Whole share"),
        rows,
        series: &[(3, "Whole share")],
        shares: false,
    };
    charts::beside(pages, top, &bars)
}

/// What a run of places bears in one column, as `Summary` shows it.
fn amount_of(table: &Shared<'_>, places: std::ops::Range<usize>, column: u16) -> Option<Formula> {
    let row = table.first_row + u32::try_from(places.start).ok()?;
    let first = Address { sheet: fixed::COST_SUMMARY.into(), row, column };
    let expr = if places.len() == 1 {
        Expr::cell(first)
    } else {
        Expr::known_sum(vec![Term::Range(Range::new(first, u32::try_from(places.len()).ok()?, 1)?)])
    };
    Formula::new(&expr, fixed::SUMMARY, &|address: &Address| table.value(address))
}

/// The sizes that there are most of.
pub(super) fn commonest_sizes(pages: &mut Pages<'_>, press: &Press<'_>) -> Result<(), WorkbookError> {
    let sizes = press.report.sizes_by_count();
    if sizes.is_empty() {
        return Ok(());
    }
    let blinds = Decimal::from(press.report.counts.blinds);
    let name = match sizes.len() {
        all if all <= SIZES_SHOWN => "Blinds by size".to_owned(),
        all => format!("Most common sizes ({SIZES_SHOWN} of {all})"),
    };
    charts::keep_beside(pages, sizes.len().min(SIZES_SHOWN))?;
    pages.section(&name, SPAN)?;
    let top = pages.sheet().row();
    let units = press.length_units();
    let columns = [
        Column::new(format!("Width x drop ({})", units.symbol()), move |count: &SizeCount<'_>| {
            let bare = |length: Length| length.show(units).trim_end_matches(units.symbol()).trim().to_owned();
            format!("{} x {}", bare(count.size.width), bare(count.size.drop))
        })
        .strong(),
        Column::new("Product", |count: &SizeCount<'_>| count.product.to_owned()),
        Column::new("Blinds", |count: &SizeCount<'_>| count.blinds),
        Column::new("Share (%)", move |count: &SizeCount<'_>| {
            Cell::Share(Decimal::from(count.blinds) / blinds)
        }),
    ];
    let shown = &sizes[..sizes.len().min(SIZES_SHOWN)];
    pages.table(&columns, shown, |_| Tone::Body)?;
    let bars = Bars {
        title: "Blinds of the most common sizes".to_owned(),
        names: "Width x drop",
        values: "Blinds".to_owned(),
        rows: shown.len(),
        series: &[(2, "Blinds")],
        shares: false,
    };
    charts::beside(pages, top, &bars)
}

/// Bars with their proof, and how much of them is cut off. Where blinds are bought they are the maker's,
/// in the price of the blinds: nothing here is to buy, and no cost of it is shown.
pub(super) fn bars(pages: &mut Pages<'_>, press: &Press<'_>) -> Result<(), WorkbookError> {
    let plans = &press.report.cuts.plans;
    if plans.is_empty() {
        return Ok(());
    }
    let rows = plans.len().min(MATERIALS_SHOWN);
    charts::keep_below(pages, plans.len(), rows)?;
    let basis = press.report.rules.project.cost_basis;
    pages.section(
        match basis {
            CostBasis::Buy => "Bars, for the maker: in the price of the blinds",
            CostBasis::Make => "Bars: material used and not used",
        },
        SPAN,
    )?;
    let top = pages.sheet().row();
    pages.table(&bar_columns(press, basis), plans, |_| Tone::Body)?;
    let title = match plans.len() {
        all if all <= MATERIALS_SHOWN => "Material used and not used".to_owned(),
        all => format!("Material used and not used (first {MATERIALS_SHOWN} of {all})"),
    };
    let bars = Bars {
        title,
        names: "Material",
        values: "Share of bar length".to_owned(),
        rows,
        series: &[(3, "Used"), (4, "Not used: trims, kerf and offcuts (kept or not)")],
        shares: true,
    };
    charts::below(pages, top, &bars)
}

fn bar_columns<'p>(press: &'p Press<'p>, basis: CostBasis) -> Vec<Column<'p, &'p CutPlan>> {
    let (unit, symbol) = match press.length_units() {
        Units::Inches => (Unit::Foot, "ft"),
        Units::Millimeters => (Unit::Meter, "m"),
    };
    let long = move |length: Length| Cell::Figure(length.in_unit(unit), Shown::Tenths);
    let by_phase = press.report.cuts.plans.iter().any(|plan| plan.phase.is_some());
    let bars = match basis {
        CostBasis::Buy => "Bars",
        CostBasis::Make => "Bars to buy",
    };
    let mut columns = vec![
        Column::new("Material", move |plan: &'p CutPlan| {
            let phase = plan.phase_in_words().filter(|_| by_phase).map(Cow::into_owned);
            let named = [&*plan.material, &*plan.color].into_iter().filter(|name| !name.is_empty());
            named.map(str::to_owned).chain(phase).collect::<Vec<_>>().join(" ")
        })
        .strong()
        .wide(26),
        Column::new(bars, |plan: &CutPlan| plan.bars).strong(),
        Column::new("Above the minimum possible", |plan: &CutPlan| above_the_least(press, plan)).wide(18),
        Column::new(format!("Used ({symbol})"), move |plan: &CutPlan| long(plan.used_and_cut_off().0)),
        Column::new(format!("Not used ({symbol})"), move |plan: &CutPlan| long(plan.used_and_cut_off().1)),
        Column::new("Used (%)", |plan: &CutPlan| Cell::Share(plan.used_share)),
    ];
    if basis == CostBasis::Make {
        let rounded = |cost: Decimal| Cell::Money(press.report.rules.project.currency.round(cost));
        let cost = move |plan: &CutPlan| Cell::known(plan.cost.map(rounded));
        columns.push(Column::new(press.money("Cost of bars"), cost).marked(|_| Some(Tone::OfThisRun)));
    }
    columns
}

/// `nothing, proven`, or how much a better plan could save at most.
fn above_the_least(press: &Press<'_>, plan: &CutPlan) -> String {
    let gap = plan.gap();
    match (gap.bars, gap.cost) {
        _ if plan.proven => "none (proven)".to_owned(),
        (Some(1), _) => "at most 1 bar".to_owned(),
        (Some(bars), _) => format!("at most {bars} bars"),
        (None, Some(cost)) => format!("at most {}", press.amount(cost)),
        (None, None) => "unknown".to_owned(),
    }
}

/// Values taken because a cell was blank.
pub(super) fn assumptions(pages: &mut Pages<'_>, press: &Press<'_>) -> Result<(), WorkbookError> {
    let assumptions = &press.report.assumptions;
    if assumptions.is_empty() {
        return Ok(());
    }
    charts::keep_rows(pages, u32::try_from(assumptions.len()).unwrap_or(u32::MAX).saturating_add(2))?;
    pages.section("Assumptions (blank cells)", SPAN)?;
    let sheet = pages.sheet();
    for Assumption { column, value, openings } in assumptions {
        let value = Cell::from(&**value);
        sheet.put(0, column.name, Tone::Label)?;
        match openings {
            0 => sheet.put(1, "whole project", Tone::Body)?,
            1 => sheet.put(1, "1 opening", Tone::Body)?,
            openings => sheet.put(1, format!("{openings} openings"), Tone::Body)?,
        }
        sheet.lines(value.lines(QUERY_CHARACTERS));
        sheet.spread((2, SPAN - 1), value, Tone::Body)?;
        sheet.next_row()?;
    }
    Ok(())
}
