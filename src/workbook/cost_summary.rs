//! `Cost summary`: live costs with stored results, where each rate comes from, and what is not in
//! the total.

use rust_xlsxwriter::Workbook;

use super::cell::Cell;
use super::cost_rows::{CostRow, Entry, FIRST_ROW};
use super::layout::fixed;
use super::look::Tone;
use super::pages::{Column, Form, Frozen, Pages, span};
use super::sheet::{Keeping, Lie};
use super::{Press, WorkbookError};
use crate::cost::{AmountFormula, Breakdown, CostLine, NotInTotal, RateFrom};
use crate::report::expr::Formula;
use crate::schema::rules::EXAMPLE_PRICE;

/// What a share is that the survey does not give.
const BUILT_IN: &str = "built in";
/// Openings that a row of what is missing names.
const NAMED: usize = 12;

pub(super) fn write(workbook: &mut Workbook, press: &Press<'_>) -> Result<(), WorkbookError> {
    let last_row = FIRST_ROW as usize + press.cost.rows().len();
    if last_row > press.limits.rows as usize {
        // Its formulas read one another's rows, so they stand on one sheet.
        return Err(WorkbookError::Full { sheet: fixed::COST_SUMMARY.to_owned(), rows: press.limits.rows });
    }
    let form = Form {
        name: fixed::COST_SUMMARY,
        title: "Cost summary",
        remarks: vec![
            "Change a quantity or a rate and every total above it follows. An unknown rate leaves its totals unknown, with the known part beside them: fill it in in the survey and run it again.".into(),
            format!("A built-in price is an {EXAMPLE_PRICE}. Each amount is rounded once; a total is the sum of rounded amounts.").into(),
        ],
        keeping: Keeping::Disk,
        lie: Lie::Landscape,
        frozen: Frozen::Headings,
    };
    let mut pages = Pages::open(workbook, press, form)?;
    let columns = columns(press);
    let span = span(&columns);
    pages.table(&columns, press.cost.rows(), |row| match row.entry {
        Entry::Line(_) => Tone::Body,
        _ => Tone::Total,
    })?;
    not_in_total(&mut pages, press, span)?;
    breakdowns(&mut pages, press, span)?;
    pages.finish()
}

type Row<'p> = &'p CostRow<'p>;

fn columns<'p>(press: &'p Press<'p>) -> Vec<Column<'p, Row<'p>>> {
    let of_line = |row: Row<'p>| match row.entry {
        Entry::Line(line) => Some(line),
        _ => None,
    };
    vec![
        Column::new("Section", |row: Row<'p>| match row.entry {
            Entry::Line(line) => line.section.word(),
            Entry::Section(section) => section.word(),
            Entry::Subtotal | Entry::Tax | Entry::Total => "",
        }),
        Column::new("Item", |row: Row<'p>| match row.entry {
            Entry::Line(line) => Cell::from(line.item.as_str()),
            Entry::Section(section) => format!("all {}", section.word()).into(),
            Entry::Subtotal => "SUBTOTAL before tax".into(),
            Entry::Tax => "tax".into(),
            Entry::Total => "TOTAL".into(),
        })
        .wide(44),
        Column::new("Basis", move |row: Row<'p>| match row.entry {
            Entry::Tax => Some("taxable amounts x share"),
            _ => of_line(row).map(|line| line.basis),
        }),
        Column::new("Quantity", |row: Row<'p>| quantity(row)),
        Column::new("Unit", move |row: Row<'p>| match row.entry {
            Entry::Tax => Some("taxable amounts"),
            _ => of_line(row).map(|line| line.unit),
        }),
        Column::new(press.money("Rate"), |row: Row<'p>| match row.entry {
            Entry::Line(line) => rate(line),
            Entry::Tax => Cell::Share(press.cost.tax_share()),
            _ => Cell::Blank,
        }),
        Column::new(press.money("Amount"), |row: Row<'p>| Cell::known(row.amount.clone())).strong(),
        Column::new(press.money("Known part"), |row: Row<'p>| row.known.clone()),
        Column::new("Taxable", move |row: Row<'p>| {
            of_line(row).map(|line| if line.taxable { "yes" } else { "no" })
        }),
        Column::new("Rate from", move |row: Row<'p>| match row.entry {
            Entry::Tax => Some(tax_from(press)),
            _ => of_line(row).map(|line| rate_from(press, line)),
        }),
    ]
}

fn quantity(row: Row<'_>) -> Cell<'static> {
    let base = |base: &Option<Formula>| Cell::known(base.clone());
    match row.entry {
        Entry::Line(line) => match line.formula {
            AmountFormula::ShareOf(_) => base(&row.base),
            AmountFormula::Product | AmountFormula::MinutesAtHourlyRate => {
                Cell::known(line.quantity.map(Cell::Number))
            }
        },
        Entry::Tax => base(&row.base),
        Entry::Section(_) | Entry::Subtotal | Entry::Total => Cell::Blank,
    }
}

fn rate(line: &CostLine) -> Cell<'static> {
    Cell::known(line.rate.map(|rate| match line.formula {
        AmountFormula::ShareOf(_) => Cell::Share(rate),
        AmountFormula::Product | AmountFormula::MinutesAtHourlyRate => Cell::Money(rate),
    }))
}

fn tax_from(press: &Press<'_>) -> String {
    let given = press.report.rules.source("Project", "", "Tax %").and_then(|used| used.at);
    given.map_or_else(|| BUILT_IN.to_owned(), |at| press.cell(at))
}

fn rate_from(press: &Press<'_>, line: &CostLine) -> String {
    match (line.rate_from, line.formula) {
        (RateFrom::Cell(at), _) => press.cell(at),
        (RateFrom::Unknown, _) => "unknown".to_owned(),
        (RateFrom::Example, AmountFormula::ShareOf(_)) => BUILT_IN.to_owned(),
        (RateFrom::Example, _) => EXAMPLE_PRICE.to_owned(),
    }
}

/// Held and unpriced openings, with an allowance that no total holds.
fn not_in_total(pages: &mut Pages<'_, '_>, press: &Press<'_>, span: u16) -> Result<(), WorkbookError> {
    let missing = &press.report.cost.not_in_total;
    if missing.is_empty() {
        return Ok(());
    }
    pages.section("NOT IN TOTAL", span)?;
    let columns = [
        Column::new("", |_: &NotInTotal| Cell::Blank),
        Column::new("What", |row: &NotInTotal| row.what.clone()).strong(),
        Column::new("Openings", |row: &NotInTotal| {
            let mut names: Vec<&str> = row.openings.iter().take(NAMED).map(|&it| press.name(it)).collect();
            let more = format!("and {} more", row.openings.len().saturating_sub(NAMED));
            if row.openings.len() > NAMED {
                names.push(&more);
            }
            names.join(", ")
        }),
        Column::new("How many", |row: &NotInTotal| press.report.openings_of(row)),
        Column::new("Allow, from the median of like openings", |row: &NotInTotal| {
            Cell::known(row.allowance.map(Cell::Money))
        }),
    ];
    pages.table(&columns, missing, |_| Tone::Held)
}

/// The direct cost again, as this run found it.
fn breakdowns(pages: &mut Pages<'_, '_>, press: &Press<'_>, span: u16) -> Result<(), WorkbookError> {
    for breakdown in &press.report.cost.breakdowns {
        let name = format!(
            "Direct cost by {}, as of this run: it does not follow a changed rate",
            breakdown.by.to_lowercase()
        );
        pages.section(&name, span)?;
        let columns = breakdown_columns(press, breakdown);
        pages.table(&columns, 0..breakdown.rows.len(), |_| Tone::Body)?;
    }
    Ok(())
}

fn breakdown_columns<'p>(press: &Press<'_>, breakdown: &'p Breakdown) -> Vec<Column<'p, usize>> {
    vec![
        Column::new("", |_| Cell::Blank),
        Column::new(breakdown.by, |row: usize| breakdown.rows[row].0.as_str()).strong(),
        Column::new("", |_| Cell::Blank),
        Column::new("Blinds", |row: usize| breakdown.rows[row].1),
        Column::new("", |_| Cell::Blank),
        Column::new("", |_| Cell::Blank),
        Column::new(press.money("Amount"), |row: usize| Cell::Money(breakdown.rows[row].2)).strong(),
    ]
}
