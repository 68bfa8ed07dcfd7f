//! Figures beside their names, in groups across the page.
//!
//! Days of fitting are the fitting minutes of `Cost summary` at 8 h a day (common practice, no
//! source), live.

use rust_decimal::Decimal;

use super::SPAN;
use super::charts::keep_rows;
use crate::cost::{MINUTES_AN_HOUR, Section};
use crate::report::expr::{Expr, Term};
use crate::rules::Jurisdiction;
use crate::weight;
use crate::workbook::cell::Cell;
use crate::workbook::cost_rows::Entry;
use crate::workbook::layout::fixed;
use crate::workbook::look::Tone;
use crate::workbook::pages::Pages;
use crate::workbook::shown::Shown;
use crate::workbook::{Press, WorkbookError};

/// Rows of who and when.
const PROJECT_ROWS: u32 = 9;

/// A figure and its name.
type Fact<'c> = (String, Cell<'c>);

/// Columns of each group of figures: of the names, from the first to the last, and of the figure.
const GROUPS: [(u16, u16, u16); 3] = [(0, 0, 1), (2, 3, 4), (5, 6, 7)];

/// Hours of a fitter's day: common practice, no source.
const HOURS_A_DAY: Decimal = Decimal::from_parts(8, 0, 0, false, 0);

/// Openings, money and work.
pub(super) fn in_figures(pages: &mut Pages<'_, '_>, press: &Press<'_>) -> Result<(), WorkbookError> {
    pages.section("Key figures", SPAN)?;
    facts(pages, [openings(press), money(press), work(press)], Tone::Strong)?;
    pages.remark(
        "Fitting days: minutes from Cost summary at 8 h per day (common practice), without travel or waiting.",
    )
}

/// Who and when, and what the figures are in.
pub(super) fn project(pages: &mut Pages<'_, '_>, press: &Press<'_>) -> Result<(), WorkbookError> {
    let project = &press.report.rules.project;
    let written = |name: &str, text: &str| {
        let text = if text.is_empty() { "not given" } else { text };
        (name.to_owned(), Cell::from(text.to_owned()))
    };
    let fingerprint = press.report.fingerprint.map(|print| print.to_string());
    keep_rows(pages, PROJECT_ROWS)?;
    pages.section("Project", SPAN)?;
    for (name, text) in [
        ("Project", &project.name),
        ("Site", &project.site),
        ("Client", &project.client),
        ("Surveyed by", &project.surveyed_by),
    ] {
        let (name, text) = written(name, text);
        let sheet = pages.sheet();
        sheet.put(0, name, Tone::Label)?;
        sheet.spread((1, SPAN - 1), text, Tone::Figure)?;
        sheet.next_row();
    }
    let date = |name: &str, date| (name.to_owned(), Cell::known(date));
    let word = |name: &str, word: &str| (name.to_owned(), Cell::from(word.to_owned()));
    facts(
        pages,
        [
            vec![
                written("Revision", &project.revision),
                date("Survey date", project.survey_date),
                word("Cost basis", project.cost_basis.word()),
            ],
            vec![
                date("Order date", project.order_date.or(project.survey_date)),
                date("Need by", project.need_by),
                ("Survey fingerprint".to_owned(), Cell::known(fingerprint)),
            ],
            vec![
                word("Unit of length", project.units.symbol()),
                word("Currency", project.currency.code()),
                word(
                    "Jurisdiction",
                    project.jurisdiction.map_or("not given: the strictest rules", Jurisdiction::word),
                ),
            ],
        ],
        Tone::Figure,
    )
}

fn openings<'c>(press: &Press<'_>) -> Vec<Fact<'c>> {
    let counts = &press.report.counts;
    let count = |name: &str, count: u64| (name.to_owned(), Cell::Whole(count));
    vec![
        count("Rows read", counts.rows),
        count("Openings", counts.openings),
        count("Sized, not held", counts.sized),
        count("Provisional", counts.provisional),
        count("Held", counts.held),
        count("Units", press.report.units().len() as u64),
    ]
}

fn money<'c>(press: &Press<'_>) -> Vec<Fact<'c>> {
    let (report, cost) = (press.report, &press.cost);
    let live = |name: &str, cell| {
        let formula = cost.formula(&Expr::cell(cell), fixed::SUMMARY);
        (press.money(name), Cell::known(formula))
    };
    let amount = |wanted: fn(Entry<'_>) -> bool| cost.amount_of(wanted);
    let mut facts = Vec::new();
    facts.extend(cost.known_subtotal().map(|cell| live("Subtotal of known amounts", cell)));
    facts.extend(amount(|entry| matches!(entry, Entry::Tax)).map(|cell| live("Tax", cell)));
    facts.extend(amount(|entry| matches!(entry, Entry::Total)).map(|cell| live("Total", cell)));
    facts.push(("Openings not in the total".to_owned(), Cell::Whole(report.openings_not_in_total())));
    facts.push(("Order lines".to_owned(), report.order.lines.len().into()));
    facts.push(("Different sizes".to_owned(), Cell::Whole(report.counts.sizes)));
    if let Some(merging) = &report.merging {
        facts.push(("Before merging, by phase".to_owned(), merging.before.into()));
        facts.push(("Fewest sizes, by phase".to_owned(), merging.at_least.into()));
    }
    facts
}

fn work<'c>(press: &Press<'_>) -> Vec<Fact<'c>> {
    let report = press.report;
    let weight = weight::beside(report.weight(), press.length_units());
    let mut facts = vec![
        ("Blinds".to_owned(), Cell::Whole(report.counts.blinds)),
        ("Blinds from stock".to_owned(), Cell::Whole(report.from_stock())),
        (press.weights("Weight of blinds"), Cell::Figure(weight, Shown::Tenths)),
        (press.weights("Heaviest blind"), Cell::from(report.heaviest().map(Cell::Mass))),
    ];
    let minutes = press.cost.minutes_of(Section::Fitting);
    let people = report.people_needed();
    if people > 0 && !minutes.is_empty() {
        facts.push(("Fitting days, 1 fitter".to_owned(), days(press, &minutes, 1)));
    }
    if people > 1 && !minutes.is_empty() {
        facts.push((format!("Fitting days, {people} fitters"), days(press, &minutes, people)));
    }
    facts
}

/// Working days of so many people that the minutes come to.
fn days<'c>(press: &Press<'_>, minutes: &[Term], people: u32) -> Cell<'c> {
    let a_day = MINUTES_AN_HOUR * HOURS_A_DAY * Decimal::from(people);
    let days = Expr::known_sum(minutes.to_vec()).divided_by(Expr::constant(a_day)).rounded(1);
    let formula = press.cost.formula(&days.if_numbers(minutes.to_vec()), fixed::SUMMARY);
    Cell::known(formula.map(|formula| Cell::Live(formula, Shown::Tenths)))
}

/// Writes groups of figures beside each other.
fn facts(pages: &mut Pages<'_, '_>, groups: [Vec<Fact<'_>>; 3], tone: Tone) -> Result<(), WorkbookError> {
    let rows = groups.iter().map(Vec::len).max().unwrap_or(0);
    let mut groups = groups.map(Vec::into_iter);
    for _ in 0..rows {
        let sheet = pages.sheet();
        for (group, (first, last, figure)) in groups.iter_mut().zip(GROUPS) {
            if let Some((name, cell)) = group.next() {
                sheet.spread((first, last), name, Tone::Label)?;
                sheet.put(figure, cell, tone)?;
            }
        }
        sheet.next_row();
    }
    Ok(())
}
