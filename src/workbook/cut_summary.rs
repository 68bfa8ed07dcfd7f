//! The head of the cut list, a row for each material and color; and what is said of each in words.

use rust_decimal::Decimal;

use super::cell::Cell;
use super::cut_list::SPAN;
use super::look::Tone;
use super::pages::Pages;
use super::{Press, WorkbookError};
use crate::cutting::CutPlan;
use crate::length::Length;
use crate::report::ByPhase;
use crate::rounding::half_away;

/// The columns of the sheet that each column of the table stands over, both ends included.
const COLUMNS: [(u16, u16); 7] = [(0, 2), (3, 3), (4, 5), (6, 6), (7, 8), (9, 9), (10, 11)];
/// Digits that each holds.
const HOLDS: [usize; 7] = [28, 6, 16, 8, 16, 8, 15];

/// Writes the table, and beside it what sawing each phase by itself takes.
pub(super) fn write(pages: &mut Pages<'_, '_>, press: &Press<'_>) -> Result<(), WorkbookError> {
    let cuts = &press.report.cuts;
    if cuts.plans.is_empty() {
        return pages.remark("Nothing is to be cut: no blind is released to be made.");
    }
    let headings =
        ["Material", "Pieces", "Bars to buy", "Used", "At least", "Proven", "Offcuts kept"].map(Cell::from);
    row(pages, headings, Tone::Heading)?;
    for plan in &cuts.plans {
        row(pages, figures(press, plan), Tone::Body)?;
    }
    let mut by_phase = press.report.by_phase().peekable();
    if by_phase.peek().is_some() {
        pages.section("What sawing each phase by itself takes, beside the whole project at once", SPAN)?;
        for phase in by_phase {
            pages.remark(&beside(press, phase))?;
        }
    }
    Ok(())
}

fn row(pages: &mut Pages<'_, '_>, cells: [Cell<'_>; 7], tone: Tone) -> Result<(), WorkbookError> {
    let lines = cells.iter().zip(HOLDS).map(|(cell, digits)| cell.lines(digits)).max().unwrap_or(1);
    pages.keep_together(1, 0)?;
    let sheet = pages.sheet();
    for (columns, cell) in COLUMNS.into_iter().zip(cells) {
        sheet.spread(columns, cell, tone)?;
    }
    if lines > 1 {
        sheet.lines(lines)?;
    }
    sheet.next_row();
    Ok(())
}

fn figures<'p>(press: &'p Press<'_>, plan: &CutPlan) -> [Cell<'p>; 7] {
    let at_least = match (plan.at_least, plan.cost_at_least) {
        (Some(least), _) => bars(least).into(),
        (None, Some(cost)) => press.amount(cost).into(),
        (None, None) => Cell::Unknown,
    };
    let proven = if plan.proven { "yes" } else { "no" };
    let kept = plan.leftovers();
    [
        name(plan).into(),
        plan.pieces.into(),
        to_buy(press, plan).into(),
        Cell::Share(plan.used_share),
        at_least,
        proven.into(),
        match kept.kept {
            0 => "none".into(),
            count => format!("{count}, {}", kept.kept_length.shown(press.length_units())).into(),
        },
    ]
}

/// Material, color and phase.
fn name(plan: &CutPlan) -> String {
    let color = if plan.color.is_empty() { String::new() } else { format!(", {}", plan.color) };
    let phase = plan.phase_in_words().map_or_else(String::new, |phase| format!(", {phase}"));
    format!("{}{color}{phase}", plan.material)
}

/// `14 of 5800 mm, 2 of 2900 mm`.
fn to_buy(press: &Press<'_>, plan: &CutPlan) -> String {
    let bought: Vec<String> =
        plan.bought.iter().map(|(length, _, count)| format!("{count} of {}", press.exact(*length))).collect();
    if bought.is_empty() { "none".to_owned() } else { bought.join(", ") }
}

pub(super) fn title(press: &Press<'_>, plan: &CutPlan) -> String {
    let kerf = match plan.kerf {
        Length::ZERO => "a cut takes nothing".to_owned(),
        kerf => format!("a cut takes {}", press.exact(kerf)),
    };
    format!("{}: {} pieces; {kerf}, end trim {}", name(plan), plan.pieces, press.exact(plan.trim))
}

/// What to buy, how good the plan is and what becomes of the ends.
pub(super) fn foot(press: &Press<'_>, plan: &CutPlan) -> [String; 4] {
    let bought = to_buy(press, plan);
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
    match (plan.at_least.zip(gap.bars), plan.cost_at_least.zip(cost_gap.as_ref())) {
        (Some((least, _)), _) if plan.proven => {
            format!("At least {least} are needed: no way of cutting takes fewer, which is proven.")
        }
        (Some((least, above)), _) => {
            let above = bars(above);
            let money = cost_gap.as_ref().map_or_else(String::new, |cost| format!(", {cost}"));
            format!(
                "At least {least} are needed. Not proven to be the fewest: this plan may be {above}{money} above the least."
            )
        }
        (None, Some((least, _))) if plan.proven => {
            format!(
                "At least {} is needed: no way of cutting costs less, which is proven.",
                press.amount(least)
            )
        }
        (None, Some((least, above))) => format!(
            "At least {} is needed. Not proven to be the cheapest: this plan may be {above}{} above the least.",
            press.amount(least),
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
    let material = if at_once.color.is_empty() {
        at_once.material.to_string()
    } else {
        format!("{}, {}", at_once.material, at_once.color)
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
