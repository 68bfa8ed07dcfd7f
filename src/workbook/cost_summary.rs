//! `Cost summary`: live costs with stored results, where each rate comes from, and what is not in
//! the total.

use rust_xlsxwriter::Workbook;

use super::cell::Cell;
use super::cost_places;
use super::cost_rows::{CostRow, Entry, FIRST_ROW, column};
use super::layout::{fixed, top_of};
use super::look::Tone;
use super::pages::{Column, Form, Frozen, Pages, span};
use super::paper::Lie;
use super::sheet::Keeping;
use super::{Press, WorkbookError};
use crate::cost::{AmountFormula, CostLine, NotInTotal, QuantityFrom, RateFrom};
use crate::rules::columns::EXAMPLE_PRICE;
use crate::rules::columns::project::{COLUMNS, PROJECT};

/// What a share is that the survey does not give.
const BUILT_IN: &str = "built in";
/// Characters that the item's column holds at the least.
const ITEM_CHARACTERS: usize = 52;
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
            "You can change boxed figures and fill in unknown ones: every total follows. Shaded figures belong to this run and do not change.".into(),
            format!("A built-in price is an {EXAMPLE_PRICE}. Each amount is rounded once; a total is the sum of rounded amounts.").into(),
        ],
        keeping: Keeping::folding(last_row, press.limits),
        lie: Lie::Landscape,
        frozen: Frozen::Title,
    };
    let mut pages = Pages::open(workbook, press, form)?;
    // The lines of a section fold away over its sum.
    pages.sheet().set_up().group_symbols_above(false);
    let columns = columns(press);
    let span = span(&columns);
    // Rows that fold do not grow with their text, and fonts differ.
    pages.widen(column::ITEM, ITEM_CHARACTERS);
    pages.headings(&columns)?;
    for row in press.cost.rows() {
        let is_line = matches!(row.entry, Entry::Line(_));
        if is_line {
            pages.sheet().fold()?;
        }
        pages.rows(&columns, [row], |_| if is_line { Tone::Body } else { Tone::Total })?;
    }
    not_in_total(&mut pages, press, span)?;
    cost_places::write(&mut pages, press, span)?;
    let last_row = pages.sheet().row().saturating_sub(1);
    pages.sheet().set_up().set_print_area(0, 0, last_row, span.saturating_sub(1))?;
    pages.finish()
}

type Row<'p> = &'p CostRow<'p>;

fn columns<'p>(press: &'p Press<'p>) -> Vec<Column<'p, Row<'p>>> {
    let of_line = |row: Row<'p>| match row.entry {
        Entry::Line(line) => Some(line),
        _ => None,
    };
    // The base of a share is a sum; its rate may be changed.
    let quantity_input = |row: Row<'p>| match row.entry {
        Entry::Line(line) if !matches!(line.formula, AmountFormula::ShareOf(_)) => Some(Tone::Input),
        _ => None,
    };
    let rate_input = |row: Row<'p>| matches!(row.entry, Entry::Line(_) | Entry::Tax).then_some(Tone::Input);
    let mut columns = vec![
        Column::new("Section", |row: Row<'p>| match row.entry {
            Entry::Line(line) => line.section.word(),
            Entry::Section(section) => section.word(),
            Entry::Subtotal | Entry::Tax | Entry::Total => "",
        }),
        Column::new("Item", |row: Row<'p>| match row.entry {
            Entry::Line(line) => Cell::from(line.item.as_str()),
            Entry::Section(section) => format!("total {}", section.word()).into(),
            Entry::Subtotal => "SUBTOTAL before tax".into(),
            Entry::Tax => "tax".into(),
            Entry::Total => "TOTAL".into(),
        })
        .wide(58),
        Column::new("Quantity", quantity).marked(quantity_input),
        Column::new("Counted in", move |row: Row<'p>| match row.entry {
            Entry::Tax => Some("taxable amounts"),
            _ => of_line(row).map(unit),
        })
        .wide(18),
        Column::new(press.money("Rate"), |row: Row<'p>| match row.entry {
            Entry::Line(line) => rate(line),
            Entry::Tax => Cell::Share(press.cost.tax_share()),
            _ => Cell::Blank,
        })
        .marked(rate_input),
        Column::new(press.money("Amount"), |row: Row<'p>| Cell::known(row.amount.clone())).strong(),
    ];
    if press.cost.shows_known_parts() {
        columns.push(Column::new(press.money("Known part"), |row: Row<'p>| row.known.clone()));
    }
    columns.extend([
        Column::new("Basis", move |row: Row<'p>| match row.entry {
            Entry::Tax => Some("taxable amounts x %"),
            _ => of_line(row).map(|line| line.basis),
        })
        .wide(42),
        Column::new("Quantity from", |row: Row<'p>| match row.entry {
            Entry::Line(line) => quantity_from(line),
            Entry::Total => Cell::Link(top_of(fixed::SUMMARY), "to Summary".into()),
            Entry::Section(_) | Entry::Subtotal | Entry::Tax => Cell::Blank,
        }),
        Column::new("Taxable", move |row: Row<'p>| {
            of_line(row).map(|line| if line.taxable { "yes" } else { "no" })
        }),
        Column::new("Rate from", move |row: Row<'p>| match row.entry {
            Entry::Tax => Some(tax_from(press)),
            _ => of_line(row).map(|line| rate_from(press, line)),
        })
        .wide(26),
    ]);
    columns
}

/// What the quantity counts, and what the rate is of where that is something else.
const fn unit(line: &CostLine) -> &'static str {
    match line.formula {
        AmountFormula::MinutesAtHourlyRate => "min, rate per hour",
        AmountFormula::Product | AmountFormula::ShareOf(_) => line.unit,
    }
}

fn quantity<'p>(row: Row<'p>) -> Cell<'p> {
    match row.entry {
        Entry::Line(line) if !matches!(line.formula, AmountFormula::ShareOf(_)) => {
            Cell::known(line.quantity.map(Cell::Number))
        }
        Entry::Line(_) | Entry::Tax => Cell::known(row.base.clone()),
        Entry::Section(_) | Entry::Subtotal | Entry::Total => Cell::Blank,
    }
}

fn quantity_from(line: &CostLine) -> Cell<'static> {
    let sheet = match line.quantity_from {
        QuantityFrom::Order => fixed::ORDER,
        QuantityFrom::CutList => fixed::CUT_LIST,
        QuantityFrom::Hardware => fixed::HARDWARE,
        QuantityFrom::Openings => fixed::OPENINGS,
        QuantityFrom::Project => return "whole project".into(),
        QuantityFrom::Sections => return "sections above".into(),
    };
    Cell::Link(top_of(sheet), sheet.into())
}

fn rate(line: &CostLine) -> Cell<'static> {
    Cell::known(line.rate.map(|rate| match line.formula {
        AmountFormula::ShareOf(_) => Cell::Share(rate),
        AmountFormula::Product | AmountFormula::MinutesAtHourlyRate => Cell::Money(rate),
    }))
}

fn tax_from(press: &Press<'_>) -> String {
    let given = press.report.rules.source(PROJECT.sheet, "", COLUMNS.tax.name).and_then(|used| used.at);
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
        Column::new("Section", |_: &NotInTotal| "not in total"),
        Column::new("What", |row: &NotInTotal| format!("{}: {}", row.what, names(press, row)))
            .strong()
            .wide(58),
        Column::new("How many", |row: &NotInTotal| press.report.openings_of(row)),
        Column::new("Counted in", |_: &NotInTotal| "openings"),
        Column::new(press.money("Allowance: median of similar openings"), |row: &NotInTotal| {
            Cell::known(row.allowance.map(Cell::Money))
        })
        .marked(|_| Some(Tone::OfThisRun)),
    ];
    pages.table(&columns, missing, |_| Tone::Held)
}

/// The first of the openings, and how many more there are.
fn names(press: &Press<'_>, row: &NotInTotal) -> String {
    let mut names: Vec<&str> = row.openings.iter().take(NAMED).map(|&it| press.name(it)).collect();
    let more = format!("and {} more", row.openings.len().saturating_sub(NAMED));
    if row.openings.len() > NAMED {
        names.push(&more);
    }
    names.join(", ")
}
