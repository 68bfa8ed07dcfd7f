//! Whole bars, whole packs of parts and fixings, and parts bought by the piece.
//!
//! An opening carries what it uses: its pieces by their length, its parts and screws by the piece.
//! What whole bars, whole packs and spares cost beyond that is the project's.
//!
//! Fixings not chosen have no price, so the total is unknown until they are.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::ledger::{Entry, Ledger, Parts};
use super::queries::Lacking;
use super::rate::Rate;
use super::{AmountFormula, Job, QuantityFrom, Section};
use crate::blinds::Ware;
use crate::cutting::{CutPlan, From};
use crate::fitting::Blind;
use crate::hardware::{HardwareItem, comes_with};
use crate::length::Length;
use crate::query::OpeningIndex;
use crate::rules::columns::bars::BARS;
use crate::rules::columns::fixings::FIXINGS;
use crate::rules::columns::prices::PRICES;
use crate::rules::{Bar, PartPrice, Rules};

/// Enters one line for each material, color and length of bar that is bought.
pub(super) fn enter_bars(ledger: &mut Ledger, job: Job<'_>) {
    for plan in &job.cuts.plans {
        let stock = job.rules.stock_name(&plan.material);
        for &(length, price, bars) in &plan.bought {
            if bars == 0 {
                continue;
            }
            let listed =
                job.rules.bars.iter().find(|bar| bar.material == plan.material && bar.length == length);
            let rate = Rate { price, ..listed.map_or(Rate::UNKNOWN, bar_rate) };
            let cut_for = lengths_by_line(plan, length);
            if price.is_none() {
                let openings = job.openings_of(cut_for.keys());
                ledger.lack(Section::Parts, unpriced_bar(&plan.material), rate.at, openings);
            }
            ledger.enter(Entry {
                section: Section::Parts,
                item: format!(
                    "{}, {} long",
                    in_color(&plan.material, &plan.color),
                    length.of_stock(job.rules.project.units)
                ) + &for_phase(plan),
                unit: stock.word(),
                basis: stock.whole(),
                quantity: Some(bars.into()),
                quantity_from: QuantityFrom::CutList,
                rate,
                formula: AmountFormula::Product,
                parts: bars_by_opening(job, &cut_for, length).collect(),
            });
        }
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

/// The rate of a bar.
pub(super) fn bar_rate(bar: &Bar) -> Rate {
    Rate { price: bar.price, example: bar.example, at: bar.at }
}

/// The rate where no bar of a material has a price: the place of the first that could give one.
pub(super) fn unpriced_bar_rate(rules: &Rules, material: &str) -> Rate {
    let first = rules.bars.iter().find(|bar| *bar.material == *material && bar.price.is_none());
    Rate { at: first.and_then(|bar| bar.at), ..Rate::UNKNOWN }
}

/// What is lacking where a bar has no price.
pub(super) fn unpriced_bar(material: &str) -> Lacking {
    Lacking::Price { what: material.to_owned(), sheet: BARS.sheet }
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

/// How many bars each opening takes: of order lines by the length (in meters) that each uses, of a
/// line's part by its blinds.
pub(super) fn bars_by_opening<'a>(
    job: Job<'a>,
    lengths: &'a BTreeMap<usize, Decimal>,
    bar: Length,
) -> impl Iterator<Item = (OpeningIndex, Decimal)> + 'a {
    let lines = lengths.iter().filter_map(move |(&number, &meters)| Some((job.order.line(number)?, meters)));
    lines.flat_map(move |(line, meters)| {
        let each = meters / bar.meters() / Decimal::from(line.quantity);
        line.openings.iter().map(move |&opening| (opening, each * job.quantity(opening)))
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
        if rate.price.is_none() || item.pack_of.is_none() {
            ledger.lack(Section::Parts, unpriced_item(item, job.rules), rate.at, users(job, &item.ware));
        }
        ledger.enter(match item.ware {
            Ware::NotChosen => Entry {
                section: Section::Parts,
                item: format!("fixings {}", item.item),
                unit: "each",
                basis: "what the brackets are fixed to is unknown",
                quantity: Some(item.total().into()),
                quantity_from: QuantityFrom::Hardware,
                rate,
                formula: AmountFormula::Product,
                parts: pieces,
            },
            _ if by_the_piece => Entry {
                section: Section::Parts,
                item: item.item.to_string(),
                unit: "each",
                basis: "single pieces: spares, and what boxes lack",
                quantity: Some(item.pieces.into()),
                quantity_from: QuantityFrom::Hardware,
                rate,
                formula: AmountFormula::Product,
                parts: pieces,
            },
            _ => Entry {
                section: Section::Parts,
                item: item.item.to_string(),
                unit: "pack",
                basis: "whole packs",
                quantity: item.packs.map(Decimal::from),
                quantity_from: QuantityFrom::Hardware,
                rate,
                formula: AmountFormula::Product,
                parts: item.pack_of.map_or_else(Vec::new, |pack| in_packs(pieces, pack)),
            },
        });
    }
}

/// Pieces as parts of packs of so many.
fn in_packs(mut pieces: Parts, pack_of: u32) -> Parts {
    for (_, piece) in &mut pieces {
        *piece /= Decimal::from(pack_of);
    }
    pieces
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

/// The price of a pack, in whole minor units. A wand's is for its own length.
fn pack_rate(ledger: &Ledger, item: &HardwareItem, rules: &Rules) -> Rate {
    if let Some(fixing) = item.ware.fixing(rules) {
        return Rate { price: fixing.price, example: fixing.example, at: fixing.at };
    }
    let Some(part) = item.ware.part_price(rules) else { return Rate::UNKNOWN };
    let lengths = match (&item.ware, part.length) {
        (Ware::Wand(length), Some(priced)) => length.meters() / priced.meters(),
        _ => Decimal::ONE,
    };
    let price = part.each.map(|each| ledger.round(each * lengths * Decimal::from(part.pack_of)));
    Rate { price, example: part.example, at: part.at }
}

/// The price of one part, in whole minor units.
fn piece_rate(ledger: &Ledger, item: &HardwareItem, rules: &Rules) -> Rate {
    item.ware.part_price(rules).map_or(Rate::UNKNOWN, |part| part_rate(ledger, part))
}

/// The price of one of a part, in whole minor units.
pub(super) fn part_rate(ledger: &Ledger, part: &PartPrice) -> Rate {
    Rate { price: part.each.map(|each| ledger.round(each)), example: part.example, at: part.at }
}

fn unpriced_item(item: &HardwareItem, rules: &Rules) -> Lacking {
    let what = item.ware.price_item(rules).to_string();
    match item.ware {
        Ware::NotChosen => Lacking::Choice,
        Ware::Fixing(_) => Lacking::Price { what, sheet: FIXINGS.sheet },
        _ => Lacking::Price { what, sheet: PRICES.sheet },
    }
}
