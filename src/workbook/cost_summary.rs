//! `Cost summary`: live costs with stored results, where each rate comes from, and what is not in
//! the total. What is unknown is a blank cell, shaded, to fill in.

use std::borrow::Cow;

use super::cell::Cell;
use super::cost_places;
use super::cost_printed;
use super::cost_rows::{CostRow, Entry, FIRST_ROW, column};
use super::layout::{fixed, top_of};
use super::look::Tone;
use super::pages::{Column, Form, Frozen, Pages, span};
use super::paper::Lie;
use super::shown::Shown;
use super::{Press, WorkbookError, Written};
use crate::cost::{AmountFormula, CostLine, Input, NotInTotal, QuantityFrom, RateFrom, RateOf, SHARE};
use crate::report::expr::Expr;
use crate::rules::columns::EXAMPLE_PRICE;
use crate::rules::columns::project::{COLUMNS, PROJECT};
use crate::schema::cost_summary;
use rust_decimal::Decimal;

/// What a share is that the survey does not give.
const BUILT_IN: &str = "built in";
/// Characters that the item's column holds at the least.
const ITEM_CHARACTERS: usize = 52;
/// Openings that a row of what is missing names.
const NAMED: usize = 12;

pub(super) fn write(press: &Press<'_>) -> Written {
    let last_row = FIRST_ROW as usize + press.cost.rows().len();
    if last_row > press.limits.rows as usize {
        // Its formulas read one another's rows, so they stand on one sheet.
        return Err(WorkbookError::Full { sheet: fixed::COST_SUMMARY.to_owned(), rows: press.limits.rows });
    }
    let form = Form {
        name: fixed::COST_SUMMARY,
        title: "Cost summary",
        remarks: vec![
            "Change boxed figures and fill in blank ones (unknown): the rest follows. Gray is of this run. --after keeps what you type.".into(),
            format!("A built-in price is an {EXAMPLE_PRICE}. Each amount is rounded once; a sum is of rounded amounts.").into(),
        ],
        lie: Lie::Landscape,
        frozen: Frozen::Title,
    };
    let mut pages = Pages::open(press, form)?;
    // The lines of a section fold away over its sum.
    pages.sheet().set_up().group_symbols_above(false);
    let columns = columns(press);
    let span = span(&columns);
    // Rows that fold do not grow with their text, and fonts differ.
    pages.widen(column::ITEM, ITEM_CHARACTERS);
    cost_printed::headings(&mut pages)?;
    pages.headings(&columns)?;
    // Every formula counts on it; a remark that wraps would move them.
    debug_assert_eq!(pages.sheet().row(), FIRST_ROW);
    for row in press.cost.rows() {
        let is_line = matches!(row.entry, Entry::Line(_));
        if is_line {
            pages.sheet().fold();
        }
        let is_sum = !is_line && !matches!(row.entry, Entry::Input(_));
        cost_printed::beside(&mut pages, press, row)?;
        pages.rows(&columns, [row], |_| if is_sum { Tone::Total } else { Tone::Body })?;
    }
    not_in_total(&mut pages, press, span)?;
    let last = cost_places::write(&mut pages, press, span)?;
    fold_away(&mut pages, span, last.max(cost_printed::LAST))?;
    let last_row = pages.sheet().row().saturating_sub(1);
    pages.sheet().set_up().set_print_area(0, 0, last_row, span.saturating_sub(1))?;
    pages.finish()
}

/// Folds the columns away that stand to the right of the tables.
fn fold_away(pages: &mut Pages<'_>, first: u16, last: u16) -> Result<(), WorkbookError> {
    let sheet = pages.sheet().set_up();
    for column in first..=last {
        // The width first: the writer counts a sheet's levels only on columns that it knows.
        sheet.set_column_width(column, 10)?;
    }
    sheet.group_columns_collapsed(first, last)?;
    Ok(())
}

type Row<'p> = &'p CostRow<'p>;

fn columns<'p>(press: &'p Press<'p>) -> Vec<Column<'p, Row<'p>>> {
    let of_line = |row: Row<'p>| match row.entry {
        Entry::Line(line) => Some(line),
        _ => None,
    };
    let mut columns = vec![
        Column::new("Section", |row: Row<'p>| match row.entry {
            Entry::Input(_) => "input",
            Entry::Line(line) => line.section.word(),
            Entry::Section(section) => section.word(),
            Entry::Subtotal | Entry::Tax | Entry::Total => "",
        }),
        Column::new("Item", |row: Row<'p>| match row.entry {
            Entry::Input(input) => input.name.as_str().into(),
            Entry::Line(line) => line.item.as_str().into(),
            _ => Cell::from(row.name.clone().map(|name| Cell::Live(name, Shown::Plain))),
        })
        .wide(58),
        Column::new(cost_summary::QUANTITY.name, quantity).marked(quantity_input),
        Column::new("Counted in", move |row: Row<'p>| match row.entry {
            Entry::Input(input) => Some(input_unit(input)),
            Entry::Tax => Some("taxable amounts".into()),
            _ => of_line(row).map(|line| unit(line).into()),
        })
        .wide(18),
        Column::new(press.money(cost_summary::RATE.name), move |row: Row<'p>| rate(press, row))
            .marked(rate_input),
        Column::new(press.money("Amount"), |row: Row<'p>| match row.entry {
            Entry::Input(_) => Cell::Blank,
            _ => Cell::known(row.amount.clone()),
        })
        .strong(),
        Column::new(cost_summary::MINUTES.name, move |row: Row<'p>| {
            let timed = of_line(row).filter(|line| is_timed(line));
            timed.and_then(|line| line.quantity).map(Cell::Number)
        })
        .marked(minutes_input),
        Column::new("Taxable", move |row: Row<'p>| {
            of_line(row).map(|line| if line.taxable { "yes" } else { "no" })
        }),
        Column::new("Quantity from", |row: Row<'p>| match row.entry {
            Entry::Line(line) => quantity_from(line),
            Entry::Total => Cell::Link(top_of(fixed::SUMMARY), "to Summary".into()),
            _ => Cell::Blank,
        }),
        Column::new("Basis", move |row: Row<'p>| match row.entry {
            Entry::Input(_) => Some("every line that uses it follows"),
            Entry::Tax => Some("taxable amounts x %"),
            _ => of_line(row).map(|line| &*line.basis),
        })
        .wide(42),
    ];
    columns.push(
        Column::new("Rate from", move |row: Row<'p>| match row.entry {
            Entry::Input(input) => Some(rate_from(press, input.from, input.unit == SHARE)),
            Entry::Tax => Some(tax_from(press)),
            _ => of_line(row).map(|line| rate_from(press, line.rate_from, is_share(line))),
        })
        .wide(26),
    );
    columns
}

fn is_share(line: &CostLine) -> bool {
    matches!(line.formula, AmountFormula::ShareOf(_))
}

fn is_timed(line: &CostLine) -> bool {
    line.formula == AmountFormula::MinutesAtHourlyRate
}

/// What an input is for one of.
fn input_unit(input: &Input) -> Cow<'static, str> {
    match &*input.unit {
        "each" | SHARE => input.unit.clone(),
        unit => format!("per {unit}").into(),
    }
}

/// The look of a figure that people may change, or fill in.
fn input<T>(figure: Option<T>) -> Option<Tone> {
    Some(if figure.is_some() { Tone::Input } else { Tone::ToFill })
}

/// The base of a share is a sum, and hours are of minutes.
fn quantity_input(row: Row<'_>) -> Option<Tone> {
    match row.entry {
        Entry::Line(line) if row.quantity.is_none() => input(line.quantity),
        _ => None,
    }
}

fn minutes_input(row: Row<'_>) -> Option<Tone> {
    match row.entry {
        Entry::Line(line) if is_timed(line) => input(line.quantity),
        _ => None,
    }
}

/// A rate that is made of inputs is changed there.
fn rate_input(row: Row<'_>) -> Option<Tone> {
    match row.entry {
        Entry::Input(of) => input(of.value),
        Entry::Line(line) if line.rate_of == RateOf::Itself => input(line.rate),
        Entry::Tax => Some(Tone::Input),
        _ => None,
    }
}

/// What the quantity counts.
const fn unit(line: &CostLine) -> &'static str {
    match line.formula {
        AmountFormula::MinutesAtHourlyRate => "h",
        AmountFormula::Product | AmountFormula::ShareOf(_) => line.unit,
    }
}

fn quantity<'p>(row: Row<'p>) -> Cell<'p> {
    match (row.entry, &row.quantity) {
        (Entry::Line(line), Some(hours)) if is_timed(line) => Cell::Live(hours.clone(), Shown::Hundredths),
        (_, Some(base)) => base.clone().into(),
        (Entry::Line(line), None) => line.quantity.map(count).into(),
        _ => Cell::Blank,
    }
}

/// A count; where it is of parts of bars, to the hundredth.
fn count<'c>(quantity: Decimal) -> Cell<'c> {
    if quantity.fract().is_zero() {
        Cell::Number(quantity)
    } else {
        Cell::Figure(quantity, Shown::Hundredths)
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

fn rate<'p>(press: &Press<'_>, row: Row<'p>) -> Cell<'p> {
    let plain = |rate, share| match share {
        true => Cell::Figure(rate, Shown::Percent),
        false => Cell::Money(rate),
    };
    match (row.entry, &row.rate) {
        (Entry::Input(input), _) => input.value.map(|value| plain(value, input.unit == SHARE)).into(),
        (Entry::Line(line), Some(made)) if is_share(line) => Cell::Live(made.clone(), Shown::Percent),
        (Entry::Line(_), Some(made)) => made.clone().into(),
        (Entry::Line(line), None) => line.rate.map(|rate| plain(rate, is_share(line))).into(),
        (Entry::Tax, _) => plain(press.cost.tax_share(), true),
        (Entry::Section(_) | Entry::Subtotal | Entry::Total, _) => Cell::Blank,
    }
}

fn tax_from(press: &Press<'_>) -> String {
    let given = press.report.rules.source(PROJECT.sheet, "", COLUMNS.tax.name).and_then(|used| used.at);
    given.map_or_else(|| BUILT_IN.to_owned(), |at| press.cell(at))
}

fn rate_from(press: &Press<'_>, from: RateFrom, share: bool) -> String {
    match (from, share) {
        (RateFrom::Cell(at), _) => press.cell(at),
        (RateFrom::Unknown, _) => "unknown".to_owned(),
        (RateFrom::Example, true) => BUILT_IN.to_owned(),
        (RateFrom::Example, false) => EXAMPLE_PRICE.to_owned(),
    }
}

/// Held and unpriced openings, with an allowance that no total holds. What has no price is in the total
/// once its prices are filled in above, and its row says so.
fn not_in_total(pages: &mut Pages<'_>, press: &Press<'_>, span: u16) -> Result<(), WorkbookError> {
    let missing = &press.report.cost.not_in_total;
    if missing.is_empty() {
        return Ok(());
    }
    pages.section("NOT IN TOTAL", span)?;
    let live = |row: &NotInTotal, filled_in: Expr, lacking: Expr| {
        press.cost.once_known(&row.lines, filled_in, lacking, fixed::COST_SUMMARY)
    };
    let number = |row: &NotInTotal, number: Decimal, shown| {
        let formula = live(row, Expr::constant(Decimal::ZERO), Expr::constant(number));
        Cell::known(formula.map(|formula| Cell::Live(formula, shown)))
    };
    let columns = [
        Column::new("Section", |row: &NotInTotal| {
            let formula = live(row, Expr::word("in the total now"), Expr::word("not in total"));
            Cell::known(formula.map(|formula| Cell::Live(formula, Shown::Plain)))
        })
        .wide(16),
        Column::new("What", |row: &NotInTotal| format!("{}: {}", row.what, names(press, row)))
            .strong()
            .wide(58),
        Column::new("How many", |row: &NotInTotal| {
            number(row, press.report.openings_of(row).into(), Shown::Whole)
        }),
        Column::new("Counted in", |_: &NotInTotal| "openings"),
        Column::new(press.money("Allowance: median of similar openings"), |row: &NotInTotal| {
            Cell::known(row.allowance.map(|allowance| number(row, allowance, Shown::Money)))
        }),
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
