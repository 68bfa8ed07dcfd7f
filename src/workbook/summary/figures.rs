//! Figures beside their names, in groups across the page.
//!
//! Days of fitting are the fitting minutes of `Cost summary` at 8 h a day (common practice, no
//! source), live.

use rust_decimal::Decimal;

use super::SPAN;
use crate::cost::{Commitment, MINUTES_AN_HOUR, Section};
use crate::date::Date;
use crate::report::expr::{Expr, Term};
use crate::rules::AS_IT_STANDS;
use crate::rules::{Jurisdiction, Phase};
use crate::schema::blinds::{BlindState, Reason};
use crate::weight;
use crate::workbook::cell::Cell;
use crate::workbook::charts::keep_rows;
use crate::workbook::cost_rows::{Entry, MOST_RUNS, TOTAL, column};
use crate::workbook::layout::fixed;
use crate::workbook::look::Tone;
use crate::workbook::pages::Pages;
use crate::workbook::shown::Shown;
use crate::workbook::{Press, WorkbookError};

/// Rows of who and when.
const PROJECT_ROWS: u32 = 9;

/// A figure and its name.
type Fact<'c> = (Cell<'c>, Cell<'c>);

/// Columns of each group of figures: of the names, from the first to the last, and of the figure.
const GROUPS: [(u16, u16, u16); 3] = [(0, 0, 1), (2, 3, 4), (5, 6, 7)];

/// Hours of a fitter's day: common practice, no source.
const HOURS_A_DAY: Decimal = Decimal::from_parts(8, 0, 0, false, 0);

/// Openings, money and work.
pub(super) fn in_figures(pages: &mut Pages<'_>, press: &Press<'_>) -> Result<(), WorkbookError> {
    pages.section("Key figures", SPAN)?;
    facts(pages, [openings(press), money(press), work(press)], Tone::Strong)?;
    pages.remark(
        "Fitting days: minutes from Cost summary at 8 h per day (common practice), without travel or waiting.",
    )?;
    if press.report.merging.is_some() {
        pages.remark(
            "Sizes to make are counted in each phase by itself and without stock sizes; different sizes once, of all blinds.",
        )?;
    }
    Ok(())
}

/// How far the job has come, once anything is ordered: blinds by state, money, and what went wrong.
pub(super) fn so_far(pages: &mut Pages<'_>, press: &Press<'_>) -> Result<(), WorkbookError> {
    let report = press.report;
    let progress = report.progress();
    if progress.iter().all(|(state, _)| state.is_none()) {
        return Ok(());
    }
    let by_state = progress.into_iter().map(|(state, blinds)| {
        (Cell::from(state.map_or("not ordered", BlindState::word)), Cell::Whole(blinds))
    });
    let settled =
        |name: &str, commitment| (Cell::from(press.money(name)), Cell::Money(report.settled(commitment)));
    let (committed, remade) =
        (settled("Committed", Commitment::Committed), settled("Made again", Commitment::Remade));
    let rest = report.settled(Commitment::Committed) + report.settled(Commitment::Remade);
    let total = press.cost.amount_of(|entry| matches!(entry, Entry::Total));
    let open = total.and_then(|total| {
        let open = Expr::cell(total).less(Expr::constant(rest));
        press.cost.formula(&open, fixed::SUMMARY)
    });
    let open =
        (Cell::from(press.money("Open")), Cell::known(open.map(|open| Cell::Live(open, Shown::Money))));
    let snags = report.snags().into_iter().map(|snag| {
        let reason = snag.reason.map_or("reason not given", Reason::word);
        (Cell::from(format!("Again: {reason}, paid by {}", snag.paid_by)), Cell::Whole(snag.blinds))
    });
    pages.section("Blinds so far", SPAN)?;
    facts(pages, [by_state.collect(), vec![committed, open, remade], snags.collect()], Tone::Strong)?;
    pages.remark(
        "Committed, open and made again are the known total. Open has labor, parts, overhead and tax in it.",
    )
}

/// Who and when, and what the figures are in.
pub(super) fn project(pages: &mut Pages<'_>, press: &Press<'_>) -> Result<(), WorkbookError> {
    let project = &press.report.rules.project;
    let written = |name: &'static str, text: &str| {
        let text = if text.is_empty() { "not given" } else { text };
        (Cell::from(name), Cell::from(text.to_owned()))
    };
    let fingerprint = press.report.fingerprint.map(|print| print.to_string());
    keep_rows(pages, PROJECT_ROWS)?;
    pages.section("Project", SPAN)?;
    let option = press.report.options.first().map(|_| press.report.option.unwrap_or(AS_IT_STANDS));
    let who = [
        ("Project", project.name.as_str()),
        ("Site", &project.site),
        ("Client", &project.client),
        ("Surveyed by", &project.surveyed_by),
    ];
    for (name, text) in who.into_iter().chain(option.map(|option| ("Option", option))) {
        let (name, text) = written(name, text);
        let sheet = pages.sheet();
        sheet.put(0, name, Tone::Label)?;
        sheet.spread((1, SPAN - 1), text, Tone::Figure)?;
        sheet.next_row()?;
    }
    let date = |name: &'static str, date| (Cell::from(name), Cell::known(date));
    let word = |name: &'static str, word: &str| (Cell::from(name), Cell::from(word.to_owned()));
    // What a phase says wins over the project.
    let phases = &press.report.rules.phases;
    let of_phases = |name: &'static str, own: fn(&Phase) -> Option<Date>, of_project| match phases
        .iter()
        .any(|phase| own(phase).is_some())
    {
        true => word(name, "by phase, see Phases"),
        false => date(name, of_project),
    };
    facts(
        pages,
        [
            vec![
                written("Revision", &project.revision),
                date("Survey date", project.survey_date),
                word("Cost basis", project.cost_basis.word()),
            ],
            vec![
                of_phases("Order date", |phase| phase.order_date, project.order_date.or(project.survey_date)),
                of_phases("Need by", |phase| phase.need_by, project.need_by),
                ("Survey fingerprint".into(), Cell::known(fingerprint)),
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
    let count = |name: &'static str, count: u64| (Cell::from(name), Cell::Whole(count));
    vec![
        count("Rows read", counts.rows),
        count("Openings", counts.openings),
        count("Sized, not held", counts.sized),
        count("Provisional", counts.provisional),
        count("Held", counts.held),
        count("Units", press.report.units().len() as u64),
    ]
}

/// Live from `Cost summary`: while anything is unknown these are known parts, and say so.
fn money<'c>(press: &Press<'_>) -> Vec<Fact<'c>> {
    let (report, cost) = (press.report, &press.cost);
    let fact = |[all, known]: [&str; 2], lines: Vec<Term>, wanted: fn(Entry<'_>) -> bool| {
        let [all, known] = [all, known].map(|name| Expr::word(press.money(name)));
        let name = if lines.is_empty() { all } else { all.if_numbers_else(lines, known) };
        let name = cost.formula(&name, fixed::SUMMARY).map(|name| Cell::Live(name, Shown::Plain));
        let amount = cost.amount_of(wanted).and_then(|at| cost.formula(&Expr::cell(at), fixed::SUMMARY));
        (Cell::from(name), Cell::known(amount))
    };
    let lines = || cost.line_amounts(|_| true);
    let mut facts = vec![
        fact(["Subtotal", "Subtotal, known so far"], lines(), |entry| matches!(entry, Entry::Subtotal)),
        fact(["Tax", "Tax on what is known"], cost.line_amounts(|line| line.taxable), |entry| {
            matches!(entry, Entry::Tax)
        }),
        fact(["Total", TOTAL[1]], lines(), |entry| matches!(entry, Entry::Total)),
        ("Openings not wholly in the total".into(), openings_not_in_total(press)),
        ("Order lines".into(), report.order.lines.len().into()),
        ("Different sizes".into(), Cell::Whole(report.counts.sizes)),
    ];
    if let Some(merging) = &report.merging {
        facts.push(("Sizes to make, by phase".into(), merging.after.into()));
        facts.push(("... before merging".into(), merging.before.into()));
        facts.push(("... fewest possible".into(), merging.at_least.into()));
        facts.push(("... adjusted in all".into(), Cell::Length(merging.movement)));
        let proven = if merging.is_least_movement { "yes" } else { "no" };
        facts.push(("... minimum proven".into(), proven.into()));
    }
    facts
}

/// Openings of which the total lacks something, each once: those that are held, and of those that lack
/// the same, all as long as one of its amounts is unknown.
fn openings_not_in_total<'c>(press: &Press<'_>) -> Cell<'c> {
    let lacks = press.report.openings_by_lack();
    let runs: usize = lacks.iter().map(|(lines, _)| press.cost.amounts_of(lines).len() + 1).sum();
    if runs > MOST_RUNS {
        return Cell::Whole(press.report.openings_not_in_total());
    }
    let none = || Expr::constant(Decimal::ZERO);
    let of_these = lacks.into_iter().map(|(lines, openings)| {
        let openings = Expr::constant(openings.into());
        match press.cost.amounts_of(&lines) {
            amounts if amounts.is_empty() => openings,
            amounts => none().if_numbers_else(amounts, openings),
        }
    });
    let count = of_these.reduce(Expr::plus).unwrap_or_else(none);
    let live = press.cost.formula(&count, fixed::SUMMARY);
    Cell::known(live.map(|live| Cell::Live(live, Shown::Whole)))
}

fn work<'c>(press: &Press<'_>) -> Vec<Fact<'c>> {
    let report = press.report;
    let weight = weight::beside(report.weight(), press.length_units());
    let mut facts = vec![
        ("Blinds".into(), Cell::Whole(report.counts.blinds)),
        ("Blinds from stock".into(), Cell::Whole(report.from_stock())),
        (press.weights("Weight of blinds").into(), Cell::Figure(weight, Shown::Tenths)),
        (press.weights("Heaviest blind").into(), Cell::from(report.heaviest().map(Cell::Mass))),
    ];
    let people = report.people_needed();
    if people > 0 {
        facts.push(("Fitting days, 1 fitter".into(), days(press, 1)));
    }
    if people > 1 {
        facts.push((format!("Fitting days, {people} fitters").into(), days(press, people)));
    }
    facts
}

/// Working days of so many people that the minutes of fitting come to; unknown while one of its hours is.
fn days<'c>(press: &Press<'_>, people: u32) -> Cell<'c> {
    let of_fitting = |column| press.cost.timed(Section::Fitting, column);
    let a_day = MINUTES_AN_HOUR * HOURS_A_DAY * Decimal::from(people);
    let minutes = Expr::known_sum(of_fitting(column::MINUTES));
    let days = minutes.divided_by(Expr::constant(a_day)).rounded(1);
    let formula = press.cost.formula(&days.if_numbers(of_fitting(column::QUANTITY)), fixed::SUMMARY);
    Cell::known(formula.map(|formula| Cell::Live(formula, Shown::Tenths)))
}

/// Writes groups of figures beside each other.
fn facts(pages: &mut Pages<'_>, groups: [Vec<Fact<'_>>; 3], tone: Tone) -> Result<(), WorkbookError> {
    let rows = groups.iter().map(Vec::len).max().unwrap_or(0);
    let mut groups = groups.map(Vec::into_iter);
    for _ in 0..rows {
        let mut lines = 1;
        for (group, (first, last, figure)) in groups.iter_mut().zip(GROUPS) {
            if let Some((name, cell)) = group.next() {
                lines = lines.max(cell.lines_within(pages.hold(figure, 0), tone.weight()));
                let sheet = pages.sheet();
                sheet.spread((first, last), name, Tone::Label)?;
                sheet.put(figure, cell, tone)?;
            }
        }
        let sheet = pages.sheet();
        if lines > 1 {
            sheet.lines(lines);
        }
        sheet.next_row()?;
    }
    Ok(())
}
