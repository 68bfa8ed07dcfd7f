//! Whole bars, whole packs of parts and fixings, and parts bought by the piece.
//!
//! An opening carries what it uses: its pieces by their length, its parts and screws by the piece.
//! What whole bars, whole packs and spares cost beyond that is the project's.
//!
//! Fixings not chosen have no price, so the total is unknown until they are.

use std::collections::{BTreeMap, BTreeSet};

use rust_decimal::Decimal;

use super::ledger::{Entry, Ledger, Parts};
use super::queries::{CostQuery, Lacking};
use super::rate::Rate;
use super::{AmountFormula, Commitment, Job, Measure, QuantityFrom, RateOf, Section};
use crate::blinds::Ware;
use crate::cutting::{CutPlan, From};
use crate::fitting::Blind;
use crate::hardware::{HardwareItem, comes_with};
use crate::length::Length;
use crate::order::{OrderLine, Seat};
use crate::query::{OpeningIndex, Query};
use crate::rules::columns::bars::BARS;
use crate::rules::columns::fixings::FIXINGS;
use crate::rules::columns::prices::PRICES;
use crate::rules::{Bar, CostBasis, PartPrice, Rules};

/// Enters one line for each material, color and length of bar that is bought.
pub(super) fn enter_bars(ledger: &mut Ledger, job: Job<'_>) {
    let materials: BTreeSet<&str> = job.cuts.plans.iter().map(|plan| &*plan.material).collect();
    materials.into_iter().for_each(|material| ask_for_some(ledger, material, job.rules));
    for plan in &job.cuts.plans {
        let stock = job.rules.stock_name(&plan.material);
        for &(length, price, bars) in &plan.bought {
            if bars == 0 {
                continue;
            }
            let listed =
                job.rules.bars.iter().find(|bar| bar.material == plan.material && bar.length == length);
            let rate = Rate { price, ..listed.map_or(Rate::UNKNOWN, |bar| bar_rate(ledger, bar, job.rules)) };
            let cut_for = lengths_by_line(plan, length);
            let gap = price.is_none().then(|| {
                let openings = job.openings_of(cut_for.keys());
                ledger.lack(
                    Section::Parts,
                    unpriced_bar(&plan.material, length, job.rules),
                    rate.at,
                    openings,
                )
            });
            ledger.enter(Entry {
                section: Section::Parts,
                item: format!(
                    "{}, {} long",
                    in_color(&plan.material, &plan.color),
                    length.as_bought(job.rules.project.units)
                ) + &for_phase(plan),
                unit: stock.word(),
                basis: format!("{} of {} m", stock.whole(), length.meters().normalize()).into(),
                quantity: Some(bars.into()),
                quantity_from: QuantityFrom::CutList,
                rate,
                formula: AmountFormula::Product,
                shared_in: meters_of(length),
                parts: meters_by_opening(job, &cut_for, |_, seat| seat.is_to_cut(CostBasis::Make)).collect(),
                commitment: Commitment::Open,
                gap,
            });
        }
    }
}

/// A material of which some bars alone have a price cannot be planned for the least cost.
fn ask_for_some(ledger: &mut Ledger, material: &str, rules: &Rules) {
    let of_it = || rules.bars.iter().filter(|bar| *bar.material == *material);
    let unpriced = of_it().find(|bar| bar.price.is_none());
    if let Some(bar) = unpriced.filter(|_| of_it().any(|bar| bar.price.is_some())) {
        let query = CostQuery::PricedInPart { material: material.to_owned() };
        ledger.ask(Query::new(&query, bar.at));
    }
}

/// A material with its color, if it has one.
pub(super) fn in_color(material: &str, color: &str) -> String {
    if color.is_empty() { material.to_owned() } else { format!("{material} {color}") }
}

/// Which phase a plan is for, where each is sawn by itself: `, phase 2`.
fn for_phase(plan: &CutPlan) -> String {
    plan.phase_in_words().map_or_else(String::new, |phase| format!(", {phase}"))
}

/// The rate of a bar, one for every line that uses it.
pub(super) fn bar_rate(ledger: &mut Ledger, bar: &Bar, rules: &Rules) -> Rate {
    let rate = Rate::listed(bar.price, bar.example, bar.at);
    let stock = rules.stock_name(&bar.material);
    let name = bar.name(rules.project.units);
    rate.made(RateOf::Input(ledger.input(name, stock.word(), &rate)))
}

/// What is lacking where a bar has no price.
pub(super) fn unpriced_bar(material: &str, length: Length, rules: &Rules) -> Lacking {
    // Its length tells it from others of its material.
    let alone = rules.bars.iter().filter(|bar| *bar.material == *material).count() == 1;
    let long = || format!("{material}, {} long,", length.as_bought(rules.project.units));
    Lacking::Price { what: if alone { material.to_owned() } else { long() }, sheet: BARS.sheet }
}

/// Openings take so many meters of a bar.
pub(super) fn meters_of(bar: Length) -> Measure {
    Measure { unit: "m", in_one: bar.meters() }
}

/// Length that each order line, by number, gets from the bars bought of one stock length.
fn lengths_by_line(plan: &CutPlan, stock: Length) -> BTreeMap<usize, Decimal> {
    let mut lengths: BTreeMap<usize, Decimal> = BTreeMap::new();
    for pattern in plan.patterns.iter().filter(|pattern| pattern.from == From::Bar && pattern.stock == stock)
    {
        for piece in &pattern.pieces {
            if let Some(line) = piece.line {
                *lengths.entry(line).or_default() += piece.length.meters() * Decimal::from(pattern.bars);
            }
        }
    }
    lengths
}

/// How many meters each opening takes: of order lines by the length that each uses, of a line's part
/// by those of its blinds that count.
pub(super) fn meters_by_opening<'a>(
    job: Job<'a>,
    lengths: &'a BTreeMap<usize, Decimal>,
    counts: impl Fn(&OrderLine, &Seat) -> bool + Clone + 'a,
) -> impl Iterator<Item = (OpeningIndex, Decimal)> + 'a {
    let lines = lengths.iter().filter_map(move |(&number, &meters)| Some((job.order.line(number)?, meters)));
    lines.flat_map(move |(line, meters)| {
        let counts = counts.clone();
        let each = meters / Decimal::from(line.count(|seat| counts(line, seat)).max(1));
        line.of_openings(move |seat| counts(line, seat))
            .map(move |(opening, blinds)| (opening, each * Decimal::from(blinds)))
    })
}

/// Enters one line for each item that is bought apart from the blinds.
pub(super) fn enter_items(ledger: &mut Ledger, job: Job<'_>) {
    let mut pieces = pieces_bought(job);
    for item in job.hardware.items.iter().filter(|item| item.to_buy() > 0) {
        let by_the_piece = item.pieces > 0;
        let rate = match by_the_piece {
            true => piece_rate(ledger, item, job.rules),
            false => pack_rate(ledger, item, job.rules),
        };
        let pieces = pieces.remove(&item.ware).unwrap_or_default();
        let gap = (rate.price.is_none() || item.pack_of.is_none()).then(|| {
            ledger.lack(Section::Parts, unpriced_item(item, job.rules), rate.at, users(job, &item.ware))
        });
        let (name, unit, basis, quantity, in_one) = match item.ware {
            Ware::NotChosen => (
                format!("fixings {}", item.item),
                "each",
                "what the brackets are fixed to is unknown",
                Some(item.total()),
                None,
            ),
            _ if by_the_piece => (
                item.item.to_string(),
                "each",
                "single pieces: spares, and what boxes lack",
                Some(item.pieces),
                None,
            ),
            _ => (item.item.to_string(), "pack", "whole packs", item.packs, item.pack_of),
        };
        ledger.enter(Entry {
            section: Section::Parts,
            item: name,
            unit,
            basis: in_one.map_or(basis.into(), |pack| format!("{basis} of {pack}").into()),
            quantity: quantity.map(Decimal::from),
            quantity_from: QuantityFrom::Hardware,
            rate,
            formula: AmountFormula::Product,
            shared_in: Measure { unit: "each", in_one: in_one.map_or(Decimal::ONE, Decimal::from) },
            parts: pieces,
            commitment: Commitment::Open,
            gap,
        });
    }
}

/// The openings that need an item, whether or not it comes with their blinds.
fn users<'a>(job: Job<'a>, ware: &'a Ware) -> impl Iterator<Item = OpeningIndex> + 'a {
    let needs = move |blind: &Blind<'_>| blind.wares().iter().any(|(needed, _)| needed == ware);
    job.covered().filter(move |(_, _, blind)| needs(blind)).map(|(opening, ..)| opening)
}

/// How many pieces of each part and fixing each opening needs bought.
fn pieces_bought(job: Job<'_>) -> BTreeMap<Ware, Parts> {
    let basis = job.rules.project.cost_basis;
    let mut pieces: BTreeMap<Ware, Parts> = BTreeMap::new();
    for (opening, quantity, blind) in job.covered() {
        for (ware, count) in blind.wares() {
            if !comes_with(&ware, blind, basis) {
                let of_opening = (opening, Decimal::from(count) * Decimal::from(quantity));
                pieces.entry(ware).or_default().push(of_opening);
            }
        }
    }
    pieces
}

/// The price of a pack, in whole minor units. A wand's is for its own length, and made of one price for
/// all lengths.
fn pack_rate(ledger: &mut Ledger, item: &HardwareItem, rules: &Rules) -> Rate {
    if let Some(fixing) = item.ware.fixing(rules) {
        return Rate::listed(fixing.price, fixing.example, fixing.at);
    }
    let Some(part) = item.ware.part_price(rules) else { return Rate::UNKNOWN };
    let lengths = match (&item.ware, part.length) {
        (Ware::Wand(length), Some(priced)) => length.meters() / priced.meters(),
        _ => Decimal::ONE,
    };
    let times = lengths * Decimal::from(part.pack_of);
    let each = Rate::listed(part.each, part.example, part.at);
    let rate = Rate { price: part.each.map(|each| ledger.round(each * times)), ..each };
    match (&item.ware, part.by_length(rules.project.units)) {
        (Ware::Wand(_), Some(name)) => rate.made(RateOf::Times(ledger.input(name, "each", &each), times)),
        _ => rate,
    }
}

/// The price of one part, in whole minor units.
fn piece_rate(ledger: &Ledger, item: &HardwareItem, rules: &Rules) -> Rate {
    item.ware.part_price(rules).map_or(Rate::UNKNOWN, |part| part_rate(ledger, part))
}

/// The price of one of a part, in whole minor units.
pub(super) fn part_rate(ledger: &Ledger, part: &PartPrice) -> Rate {
    Rate::listed(part.each.map(|each| ledger.round(each)), part.example, part.at)
}

fn unpriced_item(item: &HardwareItem, rules: &Rules) -> Lacking {
    let what = item.ware.price_item(rules).to_string();
    match item.ware {
        Ware::NotChosen => Lacking::Choice,
        Ware::Fixing(_) => Lacking::Price { what, sheet: FIXINGS.sheet },
        _ => Lacking::Price { what, sheet: PRICES.sheet },
    }
}
