//! Blinds bought whole: all of them in `buy`, those from stock in `make`; in `buy` spare louvers, which
//! are ordered finished; and what is taken off for the order.
//!
//! The discount is a share of every amount of the section of blinds, spare louvers among them. It comes
//! off before overhead, so that overhead, profit, contingency and tax are on what is paid. Which
//! candidate is cheapest is decided without it: it is taken on all of them alike.

use std::borrow::Cow;

use rust_decimal::Decimal;

use super::input::SHARE;
use super::ledger::{Entry, Ledger};
use super::parts::{in_color, part_rate};
use super::queries::Lacking;
use super::rate::{Rate, charge};
use super::{AmountFormula, Job, Measure, QuantityFrom, RateOf, Section};
use crate::order::OrderLine;
use crate::rules::columns::prices::PRICES;
use crate::rules::columns::stock_sizes::STOCK_SIZES;
use crate::rules::{CostBasis, MADE_BLIND, Rules, SPARE_LOUVER, StockId, StockSize, rate};
use crate::spares;

/// Enters one line for each order line that is bought.
pub(super) fn enter(ledger: &mut Ledger, job: Job<'_>) {
    for line in &job.order.lines {
        let bought = line.key.stock.is_some() || job.rules.project.cost_basis == CostBasis::Buy;
        if !bought {
            continue;
        }
        let (rate, basis) = match line.key.stock {
            Some(id) => stock_rate(ledger, id, line, job.rules),
            None => made_rate(ledger, line, job.rules),
        };
        let gap = rate.price.is_none().then(|| {
            let what = unpriced(line, job.rules);
            ledger.lack(Section::Blinds, what, rate.at, line.openings.iter().copied())
        });
        ledger.enter(Entry {
            section: Section::Blinds,
            item: name(line, job.rules),
            unit: "each",
            basis,
            quantity: Some(line.quantity.into()),
            quantity_from: QuantityFrom::Order,
            rate,
            formula: AmountFormula::Product,
            shared_in: Measure::one("each"),
            parts: line.openings.iter().map(|&opening| (opening, job.quantity(opening))).collect(),
            gap,
        });
    }
}

/// Enters one line for each kind of spare louver, where the blinds are bought; the project's, for
/// nobody knows which opening will want it.
pub(super) fn enter_spares(ledger: &mut Ledger, job: Job<'_>) {
    if job.rules.project.cost_basis == CostBasis::Make {
        return;
    }
    let listed = job.rules.prices.parts.iter().find(|part| *part.item == *SPARE_LOUVER);
    let rate = listed.map_or(Rate::UNKNOWN, |part| part_rate(ledger, part));
    for spare in spares::of(job.order, job.rules) {
        let each = Rate { price: listed.and_then(|part| part.each), ..rate };
        let input = ledger.input(SPARE_LOUVER.to_owned(), "each", &each);
        let gap = rate.price.is_none().then(|| {
            let what = Lacking::Price { what: SPARE_LOUVER.to_owned(), sheet: PRICES.sheet };
            // A part's price: an opening whose blind has one is not unpriced for it.
            ledger.lack(Section::Parts, what, rate.at, job.openings_of(&spare.lines))
        });
        ledger.enter(Entry {
            section: Section::Blinds,
            item: format!("{SPARE_LOUVER}, {}", in_color(&spare.material, &spare.color)),
            unit: "each",
            basis: "spare louvers, ordered with the blinds".into(),
            quantity: Some(spare.count.into()),
            quantity_from: QuantityFrom::Order,
            rate: rate.made(RateOf::Times(input, Decimal::ONE)),
            formula: AmountFormula::Product,
            shared_in: Measure::one("each"),
            parts: Vec::new(),
            gap,
        });
    }
}

/// Enters what comes off the blinds, wherever any is bought: also 0 %, for it may be changed.
pub(super) fn enter_discount(ledger: &mut Ledger, job: Job<'_>) {
    let (base, needed_by) = {
        let blinds = ledger.lines().iter().filter(|entered| entered.line.section == Section::Blinds);
        let base: Decimal = blinds.clone().filter_map(|entered| entered.line.amount).sum();
        let openings = blinds.flat_map(|entered| entered.parts.iter().map(|&(opening, _)| opening));
        (base, openings.collect::<Vec<_>>())
    };
    if needed_by.is_empty() {
        return;
    }
    let share = job.rules.rates.discount.map(|percent| percent / Decimal::ONE_HUNDRED);
    let rate = charge(job.rules, rate::DISCOUNT, share);
    let input = ledger.input(rate::DISCOUNT.to_owned(), SHARE, &rate);
    let gap = share
        .is_none()
        .then(|| ledger.lack(Section::Discount, Lacking::Rate { what: rate::DISCOUNT }, rate.at, needed_by));
    ledger.enter(Entry {
        section: Section::Discount,
        item: rate::DISCOUNT.to_owned(),
        unit: "blinds",
        basis: "base x %, before overhead".into(),
        quantity: Some(base),
        quantity_from: QuantityFrom::Sections,
        rate: Rate { price: share.map(|share| -share), ..rate }.made(RateOf::Less(input)),
        formula: AmountFormula::ShareOf(&[Section::Blinds]),
        shared_in: Measure::one("each"),
        parts: Vec::new(),
        gap,
    });
}

/// `line 3: louver-89 white, 105 1/2 in x 77 1/2 in`.
fn name(line: &OrderLine, rules: &Rules) -> String {
    let (key, units) = (&line.key, rules.project.units);
    let (width, drop) = (key.size.width.show(units), key.size.drop.show(units));
    format!("line {}: {} {}, {width} x {drop}", line.line, key.product, key.color)
}

/// `stock size 104 in x 84 in of louver-89`.
fn stock_name(size: &StockSize, product: &str, rules: &Rules) -> String {
    let units = rules.project.units;
    let (width, drop) = (size.nominal_width.show(units), size.nominal_drop.show(units));
    format!("stock size {width} x {drop} of {product}")
}

fn unpriced(line: &OrderLine, rules: &Rules) -> Lacking {
    let product = &line.key.product;
    let stock = line.key.stock.and_then(|id| rules.stock_size(id));
    match stock {
        Some(size) => Lacking::Price { what: stock_name(size, product, rules), sheet: STOCK_SIZES.sheet },
        None => Lacking::Price { what: format!("{MADE_BLIND} of {product}"), sheet: PRICES.sheet },
    }
}

fn stock_rate(
    ledger: &mut Ledger,
    id: StockId,
    line: &OrderLine,
    rules: &Rules,
) -> (Rate, Cow<'static, str>) {
    let Some(size) = rules.stock_size(id) else { return (Rate::UNKNOWN, "price of the stock size".into()) };
    let rate = Rate::listed(size.price, size.example, size.at);
    let name = stock_name(size, &line.key.product, rules);
    let basis = format!("price of {name}");
    (rate.made(RateOf::Input(ledger.input(name, "each", &rate))), basis.into())
}

/// The price of one made blind, as a seller quotes it, in whole minor units; and how it is reached.
fn made_rate(ledger: &mut Ledger, line: &OrderLine, rules: &Rules) -> (Rate, Cow<'static, str>) {
    let listed = rules.prices.made_blind(&line.key.product);
    let size = line.key.size;
    let m2 = listed
        .map_or_else(|| size.width.meters() * size.drop.meters(), |listed| listed.m2(size.width, size.drop));
    let each = listed.map_or(Rate::UNKNOWN, |it| Rate::listed(it.each, it.example, it.at));
    let per_m2 = listed.map_or(Rate::UNKNOWN, |it| Rate::listed(it.per_m2, it.m2_example, it.m2_at));
    let name = match listed.and_then(|listed| listed.product.as_deref()) {
        Some(product) => format!("{MADE_BLIND}, {product}"),
        None => MADE_BLIND.to_owned(),
    };
    let of = RateOf::Area {
        each: ledger.input(name.clone(), "each", &each),
        per_m2: ledger.input(name, "m2", &per_m2),
        m2,
    };
    let price = listed.and_then(|listed| listed.of(size.width, size.drop, rules.project.currency));
    let first_unknown = [each, per_m2].into_iter().find(|part| part.price.is_none()).unwrap_or(each);
    let rate = Rate { price, example: each.example || per_m2.example, at: first_unknown.at, of };
    (rate, format!("price each + price per m2 x {} m2", m2.normalize()).into())
}
