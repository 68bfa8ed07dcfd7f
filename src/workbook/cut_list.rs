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
use crate::report::Cut;
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
            last.then_some(if row.cut.remaining >= row.plan.least_useful { "keep" } else { "scrap" })
        }),
        Column::new("Done", |_: Row<'p>| Cell::Blank).written_in(6),
    ]);
    columns
}

fn title(press: &Press<'_>, plan: &CutPlan) -> String {
    let colour = if plan.colour.is_empty() { String::new() } else { format!(", {}", plan.colour) };
    let kerf = match plan.kerf {
        Length::ZERO => "a cut takes nothing".to_owned(),
        kerf => format!("a cut takes {}", press.exact(kerf)),
    };
    format!("{}{colour}: {} pieces; {kerf}, end trim {}", plan.material, plan.pieces, press.exact(plan.trim))
}

/// What to buy, how good the plan is and what becomes of the ends.
fn foot(press: &Press<'_>, plan: &CutPlan) -> [String; 3] {
    let bought: Vec<String> =
        plan.bought.iter().map(|(length, _, count)| format!("{count} of {}", press.exact(*length))).collect();
    let bought = if bought.is_empty() { "none".to_owned() } else { bought.join(", ") };
    let bound = match plan.at_least {
        Some(bars) if plan.proven => format!("at least {bars} are needed, so no plan does with fewer"),
        Some(bars) => {
            format!("at least {bars} are needed; a plan with fewer than {} is not ruled out", plan.bars)
        }
        None if plan.proven => "no plan costs less".to_owned(),
        None => "a cheaper plan is not ruled out".to_owned(),
    };
    let share = half_away(plan.used_share * Decimal::ONE_HUNDRED, 1);
    let left = plan.leftovers();
    let ends = |count: u64, length: Length| match count {
        0 => "none".to_owned(),
        _ => format!("{count}, together {}", length.shown(press.length_units())),
    };
    [
        format!("Bars to buy: {bought}; {bound}."),
        format!("Used: {share} % of the length."),
        format!(
            "Offcuts kept, from {} up: {}. Scrapped: {}.",
            press.exact(plan.least_useful),
            ends(left.kept, left.kept_length),
            ends(left.scrapped, left.scrapped_length)
        ),
    ]
}
