//! The tables on `Cost summary` that say where the direct cost lies.

use super::cell::Cell;
use super::cost_rows::column;
use super::cost_shares::{CostShares, FIRST_QUANTITY, Shared};
use super::look::Tone;
use super::pages::{Column, Pages};
use super::{Press, WorkbookError};
use crate::cost::{Breakdown, WHOLE_PROJECT};

/// The column that says what stands to its right.
const QUANTITY_NAMES: u16 = FIRST_QUANTITY - 1;

/// Writes the direct cost again, shared out.
pub(super) fn write(pages: &mut Pages<'_, '_>, press: &Press<'_>, span: u16) -> Result<(), WorkbookError> {
    let Some(shares) = &press.shares else { return as_of_this_run(pages, press, span) };
    pages.section("Direct cost by phase, floor, unit and product", span)?;
    lines(pages, press, shares)?;
    for table in &shares.tables {
        pages.sheet().next_row();
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
    let last = shares.columns().last().map_or(QUANTITY_NAMES, |(column, _)| column);
    let sheet = pages.sheet().set_up();
    for column in QUANTITY_NAMES..=last {
        // The width first: the writer counts a sheet's levels only on columns that it knows.
        sheet.set_column_width(column, 10)?;
    }
    sheet.group_columns_collapsed(QUANTITY_NAMES, last)?;
    Ok(())
}

/// Two sentences, and to their right the cost lines with their rates, over the quantities to come.
fn lines(pages: &mut Pages<'_, '_>, press: &Press<'_>, shares: &CostShares<'_>) -> Result<(), WorkbookError> {
    let sheet = pages.sheet();
    sheet.put(QUANTITY_NAMES, "cost line", Tone::Label)?;
    for (column, line) in shares.columns() {
        let item = press.cost.line_cell(line, column::ITEM);
        let name = format!("row {}", u64::from(item.row) + 1);
        sheet.put(column, Cell::Link(item, name.into()), Tone::Link)?;
    }
    sheet.put(
        0,
        "Amounts follow changed rates. A changed quantity is added to the whole project: run again to see where it belongs.",
        Tone::Remark,
    )?;
    sheet.next_row();
    sheet.put(QUANTITY_NAMES, "its rate", Tone::Label)?;
    for ((column, _), rate) in shares.columns().zip(&shares.rates) {
        sheet.put(column, rate.clone(), Tone::Body)?;
    }
    let unfold = "Expand the grouped columns on the right to see how each cost line is shared out.";
    sheet.put(0, unfold, Tone::Remark)?;
    sheet.next_row();
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
            None => "all direct cost",
        })
        .wide(58),
        Column::new("Quantity", move |row: usize| match places.get(row) {
            Some(place) => Some(place.blinds),
            None if row == places.len() => None,
            None => Some(places.iter().map(|place| place.blinds).sum()),
        })
        .marked(move |row: usize| (row < places.len()).then_some(Tone::OfThisRun)),
        Column::new("Counted in", move |row: usize| (row != places.len()).then_some("blinds")),
        Column::new(press.money("Amount per blind"), move |row: usize| {
            table.each.get(row).cloned().flatten()
        }),
        Column::new(press.money("Amount"), move |row: usize| match table.amounts.get(row) {
            Some(amount) => amount.clone(),
            None if row == places.len() => table.rest.clone(),
            None => table.total.clone(),
        })
        .strong(),
    ]
}

/// The same as this run found it, where it cannot be live.
fn as_of_this_run(pages: &mut Pages<'_, '_>, press: &Press<'_>, span: u16) -> Result<(), WorkbookError> {
    for breakdown in &press.report.cost.breakdowns {
        let name = format!(
            "Direct cost by {} (this run only: does not follow changed rates)",
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
    vec![
        Column::new("Section", move |_| by.clone()),
        Column::new(breakdown.by, |row: usize| {
            breakdown.rows.get(row).map_or(WHOLE_PROJECT, |place| place.name.as_str())
        })
        .wide(58),
        Column::new("Blinds", |row: usize| breakdown.rows.get(row).map(|place| place.blinds))
            .marked(of_this_run),
        Column::new(press.money("Amount"), |row: usize| {
            Cell::Money(breakdown.rows.get(row).map_or(breakdown.rest, |place| place.amount))
        })
        .marked(of_this_run),
    ]
}
