//! `Cost summary`: each line's cells by their place, and how they are shown.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;
use sillbook::cost::{AmountFormula, CostLine};

use super::{RUNS, Run};
use crate::support::package::Cell;

/// The row of the headings, and the columns under them.
const HEADINGS: u32 = 3;

/// The cells of a row by their headings, without the currency.
type Row<'r> = BTreeMap<String, &'r Cell>;

fn rows(run: &Run) -> impl Iterator<Item = Row<'_>> {
    let cells = &run.package.sheets["Cost summary"].cells;
    let headings: BTreeMap<u32, String> = cells
        .iter()
        .filter(|((row, _), cell)| *row == HEADINGS && !cell.text.is_empty())
        .map(|((_, column), cell)| (*column, cell.text.split(" (").next().unwrap().to_owned()))
        .collect();
    let last = cells.keys().map(|(row, _)| *row).max().unwrap();
    (HEADINGS + 1..=last).map(move |row| {
        let under = headings.iter().filter_map(|(&column, heading)| {
            Some((heading.clone(), cells.get(&(row, column)).filter(|cell| !cell.text.is_empty())?))
        });
        under.collect()
    })
}

fn is_number(cell: Option<&&Cell>, wanted: Option<Decimal>) -> bool {
    let number = |cell: &Cell| cell.text.parse::<f64>().ok();
    match (cell.and_then(|cell| number(cell)), wanted.and_then(|wanted| wanted.to_f64())) {
        (Some(found), Some(wanted)) => (found - wanted).abs() < 1e-9 * wanted.abs().max(1.0),
        (found, wanted) => found == wanted,
    }
}

/// What is wrong with the row of a line.
fn faults(line: &CostLine, row: &Row<'_>) -> Vec<String> {
    let timed = line.formula == AmountFormula::MinutesAtHourlyRate;
    let share = matches!(line.formula, AmountFormula::ShareOf(_));
    let hours = line.quantity.map(|minutes| minutes / Decimal::from(60));
    let wanted = [
        ("Quantity", if timed { hours } else { line.quantity }),
        ("Rate", line.rate),
        ("Amount", line.amount),
        ("Minutes", line.quantity.filter(|_| timed)),
    ];
    let mut faults: Vec<String> = wanted
        .iter()
        .filter(|(heading, number)| !is_number(row.get(*heading), *number))
        .map(|(heading, number)| format!("{}: {heading} is not {number:?}", line.item))
        .collect();
    let shown = |heading: &str| row.get(heading).map_or("", |cell| cell.style.number.as_str());
    let unit = if timed { "h" } else { line.unit };
    let says = |heading: &str, word: &str| row.get(heading).is_some_and(|cell| cell.text == word);
    if !(says("Counted in", unit) && says("Taxable", if line.taxable { "yes" } else { "no" })) {
        faults.push(format!("{}: not counted in {unit}, or taxed otherwise", line.item));
    }
    // Hours to the hundredth, and a percentage with as many decimals as it has.
    let formats = [(timed, "Quantity", "#,##0.00"), (share, "Rate", "0.0#####%")];
    for (_, heading, format) in
        formats.iter().filter(|(applies, heading, _)| *applies && row.contains_key(*heading))
    {
        if shown(heading) != *format {
            faults.push(format!("{}: {heading} is shown as {}", line.item, shown(heading)));
        }
    }
    // No part of a pack or a bar is shown to the millionth.
    let fraction = line.quantity.is_some_and(|quantity| !quantity.fract().is_zero());
    if fraction && !timed && !share && shown("Quantity") != "#,##0.00" {
        faults.push(format!("{}: its quantity is shown as {}", line.item, shown("Quantity")));
    }
    faults
}

#[test]
fn every_cost_line_shows_its_numbers_in_their_places() {
    let mut found = Vec::new();
    for run in RUNS.iter() {
        let cost = &run.report.cost;
        let mut rows = rows(run);
        for input in &cost.inputs {
            let row = rows.next().unwrap();
            let says = |heading: &str, text: &str| row.get(heading).is_some_and(|cell| cell.text == text);
            if !(says("Section", "input")
                && says("Item", &input.name)
                && is_number(row.get("Rate"), input.value))
            {
                found.push(format!("{}: the input {} is not in its place", run.name, input.name));
            }
        }
        for section in cost.lines.chunk_by(|line, next| line.section == next.section) {
            for line in section {
                let row = rows.next().unwrap();
                if row.get("Item").is_none_or(|cell| cell.text != line.item) {
                    found.push(format!("{}: {} is not in its place", run.name, line.item));
                }
                found.extend(faults(line, &row));
            }
            let known: Decimal = section.iter().filter_map(|line| line.amount).sum();
            if !is_number(rows.next().unwrap().get("Amount"), Some(known)) {
                found.push(format!("{}: {} do not come to {known}", run.name, section[0].section.word()));
            }
        }
    }
    assert_eq!(found, [""; 0]);
    // Control: a line is seen that is another's, and so is one that is shown otherwise.
    let run = &RUNS[0];
    let timed = run.report.cost.lines.iter().find(|line| line.formula == AmountFormula::MinutesAtHourlyRate);
    let row =
        rows(run).find(|row| row.get("Item").is_some_and(|cell| cell.text == timed.unwrap().item)).unwrap();
    let later =
        CostLine { quantity: timed.unwrap().quantity.map(|it| it + Decimal::ONE), ..timed.unwrap().clone() };
    assert_eq!(faults(&later, &row).len(), 2); // hours and minutes
    let whole = CostLine { formula: AmountFormula::Product, ..timed.unwrap().clone() };
    assert!(!faults(&whole, &row).is_empty());
}

/// A built-in price says that it is an example wherever a line or an input shows it.
#[test]
fn a_built_in_price_is_marked_where_it_is_shown() {
    use sillbook::cost::RateFrom;
    let mut marked = 0;
    for run in RUNS.iter() {
        let cost = &run.report.cost;
        let shown: BTreeMap<&str, RateFrom> = cost
            .lines
            .iter()
            .filter(|line| !matches!(line.formula, AmountFormula::ShareOf(_)))
            .map(|line| (&*line.item, line.rate_from))
            .chain(cost.inputs.iter().filter(|it| it.unit != "%").map(|it| (&*it.name, it.from)))
            .collect();
        for row in rows(run) {
            let item = row.get("Item").map_or("", |cell| cell.text.as_str());
            let from = row.get("Rate from").map_or("", |cell| cell.text.as_str());
            if let Some(rate_from) = shown.get(item) {
                let is_example = *rate_from == RateFrom::Example;
                assert_eq!(from == "example price, not a quote", is_example, "{}: {item} {from}", run.name);
                marked += usize::from(is_example);
            }
        }
    }
    assert!(marked > 0);
}
