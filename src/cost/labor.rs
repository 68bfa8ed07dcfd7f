//! Time, charged as minutes x hourly rate / 60, and the charges beside it.
//!
//! Survey time is charged for every opening; removal and setting up only where a blind hangs.

use std::collections::{BTreeMap, BTreeSet};

use rust_decimal::Decimal;

use super::ledger::{Entry, GapId, Ledger, Parts};
use super::queries::Lacking;
use super::rate::{Rate, charge, labor_rate};
use super::{AmountFormula, Commitment, Job, Measure, QuantityFrom, RateOf, Section};
use crate::fitting::hard_brackets;
use crate::query::OpeningIndex;
use crate::rules::{CostBasis, LABOR_RATE, Rules, rate};
use crate::schema::choices::Origin;
use crate::sourcing::Supply;

/// Enters making, fitting, survey, removal and delivery.
pub(super) fn enter(ledger: &mut Ledger, job: Job<'_>) {
    let rates = &job.rules.rates;
    let made = made(job);
    if job.rules.project.cost_basis == CostBasis::Make {
        let item = (rate::MAKING, "per blind");
        enter_time(ledger, job.rules, Section::Making, item, rates.making_minutes, made.clone());
    }
    enter_size_set_ups(ledger, job, made);

    let fitting = job.covered().map(|(opening, quantity, blind)| {
        (opening, Decimal::from(quantity) * Decimal::from(blind.fitted.people))
    });
    let item = (rate::FITTING, "per blind per person");
    enter_time(ledger, job.rules, Section::Fitting, item, rates.fitting_minutes, fitting.collect());
    let item = (rate::HARD_BRACKET, "extra per bracket in masonry or concrete");
    let minutes = rates.hard_bracket_minutes;
    enter_time(ledger, job.rules, Section::Fitting, item, minutes, brackets_in_hard_walls(job));
    enter_unit_set_ups(ledger, job);

    // Every row was surveyed, also one that is held.
    let openings = job.survey.openings.iter().enumerate();
    let surveyed = openings.map(|(index, opening)| (index, Decimal::from(opening.who.quantity)));
    let item = (rate::SURVEY, "per opening");
    enter_time(ledger, job.rules, Section::Survey, item, rates.survey_minutes, surveyed.collect());

    let covered = job.covered().map(|(opening, quantity, _)| (opening, Decimal::from(quantity)));
    let removal = charge(job.rules, rate::REMOVAL, rates.removal);
    enter_charge(ledger, Section::Removal, (rate::REMOVAL, "opening"), removal, covered.collect());
    enter_delivery(ledger, job);
}

/// Blinds that are made to measure.
fn made(job: Job<'_>) -> Parts {
    job.covered()
        .filter(|(_, _, blind)| matches!(blind.sourced.supply, Supply::Made))
        .map(|(opening, quantity, _)| (opening, Decimal::from(quantity)))
        .collect()
}

fn brackets_in_hard_walls(job: Job<'_>) -> Parts {
    let brackets = job.covered().filter_map(|(opening, quantity, blind)| {
        let each = hard_brackets(job.survey.openings.get(opening)?, blind);
        (each > 0).then(|| (opening, Decimal::from(quantity) * Decimal::from(each)))
    });
    brackets.collect()
}

/// One set-up for each unit that gets a blind, carried by its blinds alike.
fn enter_unit_set_ups(ledger: &mut Ledger, job: Job<'_>) {
    let unit_of = |opening: OpeningIndex| {
        job.survey.openings.get(opening).map(|opening| (&opening.who.building, &opening.who.unit))
    };
    let mut blinds: BTreeMap<_, Decimal> = BTreeMap::new();
    for (opening, quantity, _) in job.covered() {
        *blinds.entry(unit_of(opening)).or_default() += Decimal::from(quantity);
    }
    let units = Decimal::from(blinds.len());
    let share = |opening, quantity: u32| {
        let of = blinds.get(&unit_of(opening)).copied();
        debug_assert!(of.is_some(), "the blinds of every unit were counted");
        (opening, Decimal::from(quantity) / of.unwrap_or(Decimal::ONE))
    };
    let shares = job.covered().map(|(opening, quantity, _)| share(opening, quantity)).collect();
    let minutes = job.rules.rates.unit_minutes;
    enter_time_of(
        ledger,
        job.rules,
        Section::Fitting,
        (rate::UNIT_SET_UP, "per unit"),
        minutes,
        (units, shares),
    );
}

/// One set-up for each distinct size that is made, whoever makes it; the project's, for sizes are
/// shared.
fn enter_size_set_ups(ledger: &mut Ledger, job: Job<'_>, made: Parts) {
    let rate = charge(job.rules, rate::SIZE_SET_UP, job.rules.rates.size_set_up);
    let lines = job.order.lines.iter().filter(|line| line.key.origin == Origin::Made);
    let sizes: BTreeSet<_> = lines.map(|line| (&line.key.product, line.key.size)).collect();
    if sizes.is_empty() || rate.is_default_nothing() {
        return;
    }
    let gap = lack_rate(ledger, Section::Making, rate::SIZE_SET_UP, rate, &made);
    let sizes = (Decimal::from(sizes.len()), QuantityFrom::Order);
    enter_count(ledger, Section::Making, (rate::SIZE_SET_UP, "size"), (rate, gap), sizes, Parts::new());
}

/// One charge for a project that delivers anything.
fn enter_delivery(ledger: &mut Ledger, job: Job<'_>) {
    let rate = charge(job.rules, rate::DELIVERY, job.rules.rates.delivery);
    let delivered: Parts = job.covered().map(|(opening, ..)| (opening, Decimal::ONE)).collect();
    if delivered.is_empty() || rate.is_default_nothing() {
        return;
    }
    let gap = lack_rate(ledger, Section::Delivery, rate::DELIVERY, rate, &delivered);
    let once = (Decimal::ONE, QuantityFrom::Project);
    enter_count(ledger, Section::Delivery, (rate::DELIVERY, "project"), (rate, gap), once, Parts::new());
}

/// Enters a time of so many minutes each, carried by the openings that have any.
fn enter_time(
    ledger: &mut Ledger,
    rules: &Rules,
    section: Section,
    item: (&'static str, &str),
    minutes: Option<Decimal>,
    counts: Parts,
) {
    let total = counts.iter().map(|(_, count)| count).sum();
    enter_time_of(ledger, rules, section, item, minutes, (total, counts));
}

/// The same where the total is not quite the sum of what the openings carry: thirds of a unit.
fn enter_time_of(
    ledger: &mut Ledger,
    rules: &Rules,
    section: Section,
    (what, each): (&'static str, &str),
    minutes: Option<Decimal>,
    (total, counts): (Decimal, Parts),
) {
    if counts.is_empty() {
        return;
    }
    let rate = labor_rate(rules);
    let rate = rate.made(RateOf::Input(ledger.input(LABOR_RATE.to_owned(), "h", &rate)));
    let gap = lack_rate(ledger, section, what, charge(rules, what, minutes), &counts);
    let item = match minutes {
        Some(minutes) => format!("{what}, {} min {each}", minutes.normalize()),
        None => format!("{what}, {each}"),
    };
    let parts = minutes.map_or_else(Parts::new, |minutes| {
        counts.into_iter().map(|(opening, count)| (opening, count * minutes)).collect()
    });
    ledger.enter(Entry {
        section,
        item,
        unit: "min",
        basis: "minutes x hourly rate / 60".into(),
        quantity: minutes.map(|minutes| minutes * total),
        quantity_from: QuantityFrom::Openings,
        rate,
        formula: AmountFormula::MinutesAtHourlyRate,
        shared_in: Measure::one("min"),
        parts,
        commitment: Commitment::Open,
        gap,
    });
}

/// Enters a charge for each of the openings' counts.
fn enter_charge(
    ledger: &mut Ledger,
    section: Section,
    (what, unit): (&'static str, &'static str),
    rate: Rate,
    counts: Parts,
) {
    if counts.is_empty() || rate.is_default_nothing() {
        return;
    }
    let gap = lack_rate(ledger, section, what, rate, &counts);
    let total = (counts.iter().map(|(_, count)| count).sum(), QuantityFrom::Openings);
    enter_count(ledger, section, (what, unit), (rate, gap), total, counts);
}

fn enter_count(
    ledger: &mut Ledger,
    section: Section,
    (what, unit): (&'static str, &'static str),
    (rate, gap): (Rate, Option<GapId>),
    (count, quantity_from): (Decimal, QuantityFrom),
    parts: Parts,
) {
    ledger.enter(Entry {
        section,
        item: what.to_owned(),
        unit,
        basis: "charge".into(),
        quantity: Some(count),
        quantity_from,
        rate,
        formula: AmountFormula::Product,
        shared_in: Measure::one(unit),
        parts,
        commitment: Commitment::Open,
        gap,
    });
}

/// Notes a rate that is not known; nothing where it is.
fn lack_rate(
    ledger: &mut Ledger,
    section: Section,
    what: &'static str,
    rate: Rate,
    counts: &Parts,
) -> Option<GapId> {
    let openings = counts.iter().map(|&(opening, _)| opening);
    rate.price.is_none().then(|| ledger.lack(section, Lacking::Rate { what }, rate.at, openings))
}
