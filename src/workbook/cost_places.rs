//! The tables on `Cost summary` that say where the cost lies, each adding up to all of it.

use rust_decimal::Decimal;

use super::cell::Cell;
use super::cost_rows::column;
use super::cost_shares::{CostShares, FIRST_QUANTITY, Shared};
use super::look::Tone;
use super::pages::{Column, Pages};
use super::shown::Shown;
use super::{Press, WorkbookError};
use crate::cost::{Breakdown, Share, WHOLE_PROJECT};

/// The column that says what stands to its right.
const QUANTITY_NAMES: u16 = FIRST_QUANTITY - 1;

/// Writes the direct cost again, shared out. Gives the last column to the right that is to fold away.
pub(super) fn write(pages: &mut Pages<'_>, press: &Press<'_>, span: u16) -> Result<u16, WorkbookError> {
    let Some(shares) = &press.shares else {
        as_of_this_run(pages, press, span)?;
        return Ok(0);
    };
    pages.section("What each phase, floor, unit and product bears of the cost", span)?;
    lines(pages, press, shares)?;
    for table in &shares.tables {
        pages.sheet().next_row()?;
        let columns = live_columns(press, table);
        pages.headings(&columns)?;
        let places = table.breakdown.rows.len();
        for row in 0..places + 2 {
            if let Some(place) = table.breakdown.rows.get(row) {
                for (column, quantity) in shares.quantities(place) {
                    pages.sheet().put(column, Cell::Number(quantity), Tone::OfThisRun)?;
                }
            }
            pages.rows(&columns, [row], |row| if row > places { Tone::Total } else { Tone::Body })?;
        }
    }
    Ok(shares.columns().last().map_or(QUANTITY_NAMES, |(column, _)| column))
}

/// Sentences, and to their right the cost lines with what they are shared in and its rate, over the
/// quantities to come.
fn lines(pages: &mut Pages<'_>, press: &Press<'_>, shares: &CostShares<'_>) -> Result<(), WorkbookError> {
    let [sheet_rows, counted_in, its_rate] = [
        "Amounts follow changed rates. A changed quantity is added to the whole project: run again to see where it belongs.",
        "Each amount is rounded once. The whole project has what no place takes (delivery, waste, spares) and what rounding leaves.",
        "Expand the grouped columns on the right to see how each cost line is shared out.",
    ];
    let sheet = pages.sheet();
    sheet.put(0, sheet_rows, Tone::Remark)?;
    sheet.put(QUANTITY_NAMES, "cost line", Tone::Label)?;
    for (column, line) in shares.columns() {
        let item = press.cost.line_cell(line, column::ITEM);
        let name = format!("row {}", u64::from(item.row) + 1);
        sheet.put(column, Cell::Link(item, name.into()), Tone::Link)?;
    }
    sheet.next_row()?;
    sheet.put(0, counted_in, Tone::Remark)?;
    sheet.put(QUANTITY_NAMES, "in", Tone::Label)?;
    for (column, line) in shares.columns() {
        sheet.put(column, press.report.cost.lines[line].shared_in.unit, Tone::Body)?;
    }
    sheet.next_row()?;
    sheet.put(0, its_rate, Tone::Remark)?;
    sheet.put(QUANTITY_NAMES, "its rate", Tone::Label)?;
    for ((column, _), rate) in shares.columns().zip(&shares.rates) {
        sheet.put(column, Cell::Live(rate.clone(), Shown::Number), Tone::Body)?;
    }
    sheet.next_row()?;
    pages.widen(QUANTITY_NAMES, 10);
    for (column, _) in shares.columns() {
        pages.widen(column, 9);
    }
    Ok(())
}

/// Rows are the places, then what is left, then all together.
fn live_columns<'p>(press: &Press<'_>, table: &'p Shared<'_>) -> Vec<Column<'p, usize>> {
    let places = &table.breakdown.rows;
    let by = format!("by {}", table.breakdown.by.to_lowercase());
    vec![
        Column::new("Section", move |_| by.clone()),
        Column::new(table.breakdown.by, move |row: usize| match places.get(row) {
            Some(place) => place.name.as_str(),
            None if row == places.len() => WHOLE_PROJECT,
            None => "all together",
        })
        .wide(58),
        Column::new("Quantity", move |row: usize| match places.get(row) {
            Some(place) => Some(place.blinds),
            None if row == places.len() => None,
            None => Some(places.iter().map(|place| place.blinds).sum()),
        })
        .marked(move |row: usize| (row < places.len()).then_some(Tone::OfThisRun)),
        Column::new("Counted in", move |row: usize| (row != places.len()).then_some("blinds")),
        Column::new(press.money("Whole share per blind"), move |row: usize| {
            table.each.get(row).cloned().flatten()
        }),
        bears(press, "Direct cost", table, 0),
        bears(press, COMES_ON_IT, table, 1),
        bears(press, "Tax", table, 2),
        bears(press, "Whole share", table, 3).strong(),
    ]
}

const COMES_ON_IT: &str = "Overhead, profit, contingency";

fn bears<'p>(press: &Press<'_>, name: &str, table: &'p Shared<'_>, part: usize) -> Column<'p, usize> {
    Column::new(press.money(name), move |row: usize| {
        Cell::known(table.rows.get(row).map(|bears| bears[part].clone()))
    })
}

/// The same as this run found it, where it cannot be live.
fn as_of_this_run(pages: &mut Pages<'_>, press: &Press<'_>, span: u16) -> Result<(), WorkbookError> {
    for breakdown in &press.report.cost.breakdowns {
        let name = format!(
            "What each {} bears of the cost (this run only: does not follow changed rates)",
            breakdown.by.to_lowercase()
        );
        pages.section(&name, span)?;
        pages.table(&fixed_columns(press, breakdown), 0..=breakdown.rows.len(), |_| Tone::Body)?;
    }
    Ok(())
}

fn fixed_columns<'p>(press: &Press<'_>, breakdown: &'p Breakdown) -> Vec<Column<'p, usize>> {
    let by = format!("by {}", breakdown.by.to_lowercase());
    let of_this_run = |_| Some(Tone::OfThisRun);
    let share = |name: &str, part: fn(Share) -> Decimal| {
        let of = move |row: usize| breakdown.rows.get(row).map_or(breakdown.rest, |place| place.share);
        Column::new(press.money(name), move |row: usize| Cell::Money(part(of(row)))).marked(of_this_run)
    };
    vec![
        Column::new("Section", move |_| by.clone()),
        Column::new(breakdown.by, |row: usize| {
            breakdown.rows.get(row).map_or(WHOLE_PROJECT, |place| place.name.as_str())
        })
        .wide(58),
        Column::new("Blinds", |row: usize| breakdown.rows.get(row).map(|place| place.blinds))
            .marked(of_this_run),
        share("Direct cost", |share| share.direct),
        share(COMES_ON_IT, |share| share.overheads),
        share("Tax", |share| share.tax),
        share("Whole share", Share::whole),
    ]
}
