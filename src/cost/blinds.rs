//! Blinds bought whole: all of them in `buy`, those from stock in `make`; and in `buy` spare louvers, which
//! are ordered finished.

use super::ledger::{Entry, Ledger};
use super::parts::{in_color, part_rate};
use super::queries::Lacking;
use super::rate::Rate;
use super::{AmountFormula, Job, QuantityFrom, Section};
use crate::order::OrderLine;
use crate::rules::columns::prices::PRICES;
use crate::rules::columns::stock_sizes::STOCK_SIZES;
use crate::rules::{CostBasis, MADE_BLIND, Rules, SPARE_LOUVER, StockId};
use crate::spares;

/// Enters one line for each order line that is bought.
pub(super) fn enter(ledger: &mut Ledger, job: Job<'_>) {
    for line in &job.order.lines {
        let bought = line.key.stock.is_some() || job.rules.project.cost_basis == CostBasis::Buy;
        if !bought {
            continue;
        }
        let (rate, basis) = match line.key.stock {
            Some(id) => (stock_rate(id, job.rules), "price of the stock size"),
            None => (made_rate(line, job.rules), "price each + price per m2 (width x drop)"),
        };
        if rate.price.is_none() {
            let what = unpriced(line, job.rules);
            ledger.lack(Section::Blinds, what, rate.at, line.openings.iter().copied());
        }
        ledger.enter(Entry {
            section: Section::Blinds,
            item: name(line, job.rules),
            unit: "each",
            basis,
            quantity: Some(line.quantity.into()),
            quantity_from: QuantityFrom::Order,
            rate,
            formula: AmountFormula::Product,
            parts: line.openings.iter().map(|&opening| (opening, job.quantity(opening))).collect(),
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
        if rate.price.is_none() {
            let what = Lacking::Price { what: SPARE_LOUVER.to_owned(), sheet: PRICES.sheet };
            // A part's price: an opening whose blind has one is not unpriced for it.
            ledger.lack(Section::Parts, what, rate.at, job.openings_of(&spare.lines));
        }
        ledger.enter(Entry {
            section: Section::Blinds,
            item: format!("{SPARE_LOUVER}, {}", in_color(&spare.material, &spare.color)),
            unit: "each",
            basis: "spare louvers, ordered with the blinds",
            quantity: Some(spare.count.into()),
            quantity_from: QuantityFrom::Order,
            rate,
            formula: AmountFormula::Product,
            parts: Vec::new(),
        });
    }
}

/// `line 3: louver-89 white, 105 1/2 in x 77 1/2 in`.
fn name(line: &OrderLine, rules: &Rules) -> String {
    let (key, units) = (&line.key, rules.project.units);
    let (width, drop) = (key.size.width.show(units), key.size.drop.show(units));
    format!("line {}: {} {}, {width} x {drop}", line.line, key.product, key.color)
}

fn unpriced(line: &OrderLine, rules: &Rules) -> Lacking {
    let product = &line.key.product;
    let stock = line.key.stock.and_then(|id| rules.stock_size(id));
    match stock {
        Some(size) => {
            let units = rules.project.units;
            let (width, drop) = (size.nominal_width.show(units), size.nominal_drop.show(units));
            Lacking::Price {
                what: format!("stock size {width} x {drop} of {product}"),
                sheet: STOCK_SIZES.sheet,
            }
        }
        None => Lacking::Price { what: format!("{MADE_BLIND} of {product}"), sheet: PRICES.sheet },
    }
}

fn stock_rate(id: StockId, rules: &Rules) -> Rate {
    rules.stock_size(id).map_or(Rate::UNKNOWN, |size| Rate {
        price: size.price,
        example: size.example,
        at: size.at,
    })
}

/// The price of one made blind, as a seller quotes it: in whole minor units.
fn made_rate(line: &OrderLine, rules: &Rules) -> Rate {
    let Some(listed) = rules.prices.made_blind(&line.key.product) else {
        return Rate::UNKNOWN;
    };
    let price = listed.of(line.key.size.width, line.key.size.drop, rules.project.currency);
    Rate { price, example: listed.example, at: listed.at }
}
