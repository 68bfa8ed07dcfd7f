//! `Cut list`: for the saw, by material and colour; every cut with its stop setting.

use rust_decimal::Decimal;
use rust_xlsxwriter::Workbook;

use super::cell::Cell;
use super::layout::fixed;
use super::look::Tone;
use super::pages::{Column, Form, Frozen, Pages, span};
use super::sheet::{Keeping, Lie};
use super::{Press, WorkbookError};
use crate::cutting::{CutPlan, From, Pattern};
use crate::length::{Length, Units};
use crate::report::{ByPhase, Cut};
use crate::rounding::half_away;

pub(super) fn write(workbook: &mut Workbook, press: &Press<'_>) -> Result<(), WorkbookError> {
    let form = Form {
        name: fixed::CUT_LIST,
        title: "Cut list",
        remarks: vec![
            "The stop is set from the raw end of the bar to the far end of the piece: end trim, pieces and saw cuts so far. Cut in the order given.".into(),
            "Blinds released to be made alone, with their spares. Sizes are results: to change one, change the survey and run it again.".into(),
        ],
        keeping: Keeping::Disk,
        lie: Lie::Landscape,
        frozen: Frozen::Headings,
    };
    let mut pages = Pages::open(workbook, press, form)?;
    let columns = columns(press);
    pages.headings(&columns)?;
    let span = span(&columns);
    for plan in &press.report.cuts.plans {
        pages.section(&title(press, plan), span)?;
        let rows = plan
            .patterns
            .iter()
            .flat_map(|pattern| plan.cuts(pattern).map(move |cut| Row { plan, pattern, cut }));
        pages.rows(&columns, rows, |_| Tone::Body)?;
        for sentence in foot(press, plan) {
            pages.remark(&sentence)?;
        }
    }
    if press.report.cuts.plans.is_empty() {
        pages.remark("Nothing is to be cut: no blind is released to be made.")?;
    }
    let mut by_phase = press.report.by_phase().peekable();
    if by_phase.peek().is_some() {
        pages.section("What sawing each phase by itself takes, beside the whole project at once", span)?;
        for row in by_phase {
            pages.remark(&beside(press, row))?;
        }
    }
    pages.finish()
}

/// One cut of a pattern; the pattern's own figures stand beside its first cut.
#[derive(Clone, Copy)]
struct Row<'p> {
    plan: &'p CutPlan,
    pattern: &'p Pattern,
    cut: Cut,
}

impl<'p> Row<'p> {
    fn once<'c>(self, cell: impl Into<Cell<'c>>) -> Cell<'c> {
        if self.cut.number == 1 { cell.into() } else { Cell::Blank }
    }
}

fn columns<'p>(press: &'p Press<'p>) -> Vec<Column<'p, Row<'p>>> {
    let length = |heading: &str| press.lengths(heading);
    let mut columns = vec![
        Column::new("Pattern", |row: Row<'p>| row.once(row.pattern.number)).strong(),
        Column::new("Bars", |row: Row<'p>| row.once(row.pattern.bars)).strong(),
        Column::new(length("Stock length"), |row: Row<'p>| row.once(row.pattern.stock)),
        Column::new("From", |row: Row<'p>| {
            row.once(match row.pattern.from {
                From::Bar => "new bar",
                From::Offcut => "offcut",
            })
        }),
        Column::new("Cut", |row: Row<'p>| row.cut.number),
        Column::new(length("Stop from raw end, decimal"), |row: Row<'p>| Cell::Decimal(row.cut.stop)),
    ];
    if press.length_units() == Units::Inches {
        columns
            .push(Column::new(length("Stop from raw end, fraction"), |row: Row<'p>| row.cut.stop).strong());
    }
    columns.extend([
        Column::new(length("Piece"), |row: Row<'p>| row.cut.piece.length).strong(),
        Column::new("Part", |row: Row<'p>| row.cut.piece.part.word()),
        Column::new("Line", |row: Row<'p>| match row.cut.piece.line {
            Some(line) => line.into(),
            None => Cell::from("spare"),
        }),
        Column::new(length("Remaining"), |row: Row<'p>| row.cut.remaining),
        Column::new("End", |row: Row<'p>| {
            let last = row.cut.number == row.pattern.pieces.len();
            last.then_some(if row.plan.keeps(row.pattern) { "keep" } else { "scrap" })
        }),
        Column::new("Done", |_: Row<'p>| Cell::Blank).written_in(6),
    ]);
    columns
}

fn title(press: &Press<'_>, plan: &CutPlan) -> String {
    let colour = if plan.colour.is_empty() { String::new() } else { format!(", {}", plan.colour) };
    let phase = plan.phase_in_words().map_or_else(String::new, |phase| format!(", {phase}"));
    let kerf = match plan.kerf {
        Length::ZERO => "a cut takes nothing".to_owned(),
        kerf => format!("a cut takes {}", press.exact(kerf)),
    };
    format!(
        "{}{colour}{phase}: {} pieces; {kerf}, end trim {}",
        plan.material,
        plan.pieces,
        press.exact(plan.trim)
    )
}

/// What to buy, how good the plan is and what becomes of the ends.
fn foot(press: &Press<'_>, plan: &CutPlan) -> [String; 4] {
    let bought: Vec<String> =
        plan.bought.iter().map(|(length, _, count)| format!("{count} of {}", press.exact(*length))).collect();
    let bought = if bought.is_empty() { "none".to_owned() } else { bought.join(", ") };
    let share = half_away(plan.used_share * Decimal::ONE_HUNDRED, 1);
    let left = plan.leftovers();
    let ends = |count: u64, length: Length| match count {
        0 => "none".to_owned(),
        _ => format!("{count}, together {}", length.shown(press.length_units())),
    };
    [
        format!("Bars to buy: {bought}."),
        least(press, plan),
        format!("Used: {share} % of the length."),
        format!(
            "Offcuts kept, from {} up: {}. Scrapped: {}.",
            press.exact(plan.least_useful),
            ends(left.kept, left.kept_length),
            ends(left.scrapped, left.scrapped_length)
        ),
    ]
}

/// How few bars, or how little money, would do, and how far the plan may be above it.
fn least(press: &Press<'_>, plan: &CutPlan) -> String {
    let gap = plan.gap();
    let cheapest = plan.bought.iter().filter_map(|(_, price, _)| *price).min();
    let under_one_bar = gap.cost.zip(cheapest).is_some_and(|(gap, bar)| gap < bar);
    let cost_gap = gap.cost.map(|cost| press.amount(cost));
    match (plan.at_least, plan.cost_at_least) {
        (Some(least), _) if plan.proven => {
            format!("At least {least} are needed: no way of cutting takes fewer, which is proven.")
        }
        (Some(least), _) => {
            let above = bars(gap.bars.unwrap_or_default());
            let money = cost_gap.map_or_else(String::new, |cost| format!(", {cost}"));
            format!(
                "At least {least} are needed. Not proven to be the fewest: this plan may be {above}{money} above the least."
            )
        }
        (None, Some(least)) if plan.proven => {
            format!(
                "At least {} is needed: no way of cutting costs less, which is proven.",
                press.amount(least)
            )
        }
        (None, Some(least)) => format!(
            "At least {} is needed. Not proven to be the cheapest: this plan may be {}{} above the least.",
            press.amount(least),
            cost_gap.unwrap_or_default(),
            if under_one_bar { ", less than the cheapest bar," } else { "" }
        ),
        (None, None) => "How few bars would do is not known: that needs the price of each.".to_owned(),
    }
}

fn bars(count: u64) -> String {
    if count == 1 { "1 bar".to_owned() } else { format!("{count} bars") }
}

/// What sawing phase by phase costs in bars and money.
fn beside(press: &Press<'_>, row: ByPhase<'_>) -> String {
    let at_once = row.at_once;
    let material = if at_once.colour.is_empty() {
        at_once.material.to_string()
    } else {
        format!("{}, {}", at_once.material, at_once.colour)
    };
    let more = match (row.more_bars(), row.more_cost()) {
        (0, None) => "no more".to_owned(),
        (0, Some(cost)) if cost.is_zero() => "no more".to_owned(),
        (0, Some(cost)) => format!("no more bars, but {} more", press.amount(cost)),
        (more, cost) => {
            let word = if more > 0 { "more" } else { "fewer" };
            let money = cost.map_or_else(String::new, |cost| format!(" ({})", press.amount(cost)));
            format!("{} {word}{money}", bars(more.unsigned_abs()))
        }
    };
    format!("{material}: {} phase by phase, {} at once: {more}.", bars(row.bars), at_once.bars)
}
