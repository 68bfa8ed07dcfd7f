//! Blinds bought whole: all of them in `buy`, those from stock in `make`; in `buy` spare louvers, which
//! are ordered finished; and what is taken off for the order.
//!
//! The discount is a share of every amount of the section of blinds, spare louvers among them. It comes
//! off before overhead, so that overhead, profit, contingency and tax are on what is paid. Which
//! candidate is cheapest is decided without it: it is taken on all of them alike.

use std::borrow::Cow;

use rust_decimal::Decimal;

use super::ledger::{Entry, Ledger};
use super::parts::{in_color, part_rate};
use super::queries::Lacking;
use super::rate::{Rate, charge};
use super::{AmountFormula, Commitment, Job, Measure, QuantityFrom, RateOf, Section};
use crate::frozen::Frozen;
use crate::order::{OrderLine, Seat};
use crate::place::CellRef;
use crate::rules::columns::prices::PRICES;
use crate::rules::columns::stock_sizes::STOCK_SIZES;
use crate::rules::{BlindPrice, CostBasis, MADE_BLIND, Rules, SHARE, SPARE_LOUVER, StockId, rate};
use crate::schema::blinds::PaidBy;
use crate::schema::choices::Origin;

/// Enters one line for each order line that is bought: what of it is ordered at the price at which it
/// was, the rest at today's. What is made again and paid by another costs nothing.
pub(super) fn enter(ledger: &mut Ledger, job: Job<'_>) {
    for line in &job.order.lines {
        let bought = line.key.origin == Origin::Stock || job.rules.project.cost_basis == CostBasis::Buy;
        if !bought {
            continue;
        }
        let paid = paid_by_another(line, job.frozen).map(|(by, at)| {
            (Rate::listed(Some(Decimal::ZERO), false, Some(at)), Cow::from(format!("paid by the {by}")))
        });
        for (price, at) in prices_when_ordered(line, job) {
            let is_at = |seat: &Seat| seat.state.is_some() && price_of(seat, job) == price;
            let as_ordered = || (Rate::as_ordered(price, at), "price when it was ordered".into());
            let (rate, basis) = paid.clone().unwrap_or_else(as_ordered);
            enter_seats(ledger, job, line, (rate, basis, ", ordered"), commitment(line, true), is_at);
        }
        if line.count(|seat| seat.state.is_none()) == 0 {
            continue;
        }
        let (rate, basis) = match paid {
            Some(paid) => paid,
            None => match line.key.stock {
                Some(id) => stock_rate(ledger, id, job.rules),
                None => made_rate(ledger, line, job.rules),
            },
        };
        let is_open = |seat: &Seat| seat.state.is_none();
        enter_seats(ledger, job, line, (rate, basis, ""), commitment(line, false), is_open);
    }
}

fn enter_seats(
    ledger: &mut Ledger,
    job: Job<'_>,
    line: &OrderLine,
    (rate, basis, words): (Rate, Cow<'static, str>, &str),
    commitment: Commitment,
    wanted: impl Fn(&Seat) -> bool,
) {
    let parts: Vec<_> =
        line.of_openings(&wanted).map(|(opening, blinds)| (opening, Decimal::from(blinds))).collect();
    let gap = rate.price.is_none().then(|| {
        let (what, at) = match rate.of {
            RateOf::AsOrdered => (Lacking::OrderedPrice, None),
            _ => (unpriced(line, job.rules), rate.at),
        };
        ledger.lack(Section::Blinds, what, at, parts.iter().map(|&(opening, _)| opening))
    });
    ledger.enter(Entry {
        section: Section::Blinds,
        item: name(line, job.rules) + words,
        unit: "each",
        basis,
        quantity: Some(line.count(wanted).into()),
        quantity_from: QuantityFrom::Order,
        rate,
        formula: AmountFormula::Product,
        shared_in: Measure::one("each"),
        parts,
        commitment,
        gap,
    });
}

/// What blinds of a line cost when they were ordered, each price once with the first row that has it.
fn prices_when_ordered(line: &OrderLine, job: Job<'_>) -> Vec<(Option<Decimal>, Option<CellRef>)> {
    let mut prices: Vec<(Option<Decimal>, Option<CellRef>)> = Vec::new();
    for seat in line.seats.iter().filter(|seat| seat.counts() && seat.state.is_some()) {
        let price = price_of(seat, job);
        if prices.iter().all(|(known, _)| *known != price) {
            prices.push((price, seat.kept.map(|kept| job.frozen.blinds()[kept].at)));
        }
    }
    prices
}

fn price_of(seat: &Seat, job: Job<'_>) -> Option<Decimal> {
    job.frozen.blinds()[seat.kept?].price
}

const fn commitment(line: &OrderLine, ordered: bool) -> Commitment {
    match (line.key.remake_of, ordered) {
        (Some(_), _) => Commitment::Remade,
        (None, true) => Commitment::Committed,
        (None, false) => Commitment::Open,
    }
}

/// The price of one blind of a line that is bought, whoever pays: of its stock size, or made.
/// `None` if it is not known, or not bought whole.
pub fn price_each(line: &OrderLine, rules: &Rules) -> Option<Decimal> {
    match (line.key.origin, line.key.stock) {
        (Origin::Stock, Some(id)) => rules.stock_size(id)?.price,
        (Origin::Made, _) if rules.project.cost_basis == CostBasis::Buy => {
            let (width, drop) = (line.key.size.width, line.key.size.drop);
            rules.prices.made_blind(&line.key.product)?.of(width, drop, rules.project.currency)
        }
        (Origin::Stock, None) | (Origin::Made, _) => None,
    }
}

/// Who else pays for a line that is made again, and where that is said.
pub(super) fn paid_by_another(line: &OrderLine, frozen: &Frozen<'_>) -> Option<(PaidBy, CellRef)> {
    let first = frozen.blind(line.key.remake_of?)?;
    Some((first.paid_by_another()?, first.at))
}

/// Enters one line for each kind of spare louver, where the blinds are bought; the project's, for
/// nobody knows which opening will want it.
pub(super) fn enter_spares(ledger: &mut Ledger, job: Job<'_>) {
    let listed = job.rules.prices.parts.iter().find(|part| *part.item == *SPARE_LOUVER);
    let rate = listed.map_or(Rate::UNKNOWN, |part| part_rate(ledger, part));
    let is_bought = job.rules.project.cost_basis == CostBasis::Buy;
    let counted = job.spares.iter().filter(|spare| spare.counts());
    for spare in counted.filter(|spare| is_bought || spare.before.is_some()) {
        let each = Rate { price: listed.and_then(|part| part.each), ..rate };
        let before = spare.before.map(|place| &job.order.spares_before[place]);
        let (rate, words) = match before {
            Some(kept) => (Rate::as_ordered(kept.price, Some(kept.at)), ", ordered"),
            None => {
                let input = ledger.input(SPARE_LOUVER.to_owned(), "each", &each);
                (rate.made(RateOf::Times(input, Decimal::ONE)), "")
            }
        };
        let gap = rate.price.is_none().then(|| {
            let what = Lacking::Price { what: SPARE_LOUVER.to_owned(), sheet: PRICES.sheet };
            // A part's price: an opening whose blind has one is not unpriced for it.
            ledger.lack(Section::Parts, what, rate.at, job.openings_of(&spare.lines))
        });
        ledger.enter(Entry {
            section: Section::Blinds,
            item: format!("{SPARE_LOUVER}, {}{words}", in_color(&spare.material, &spare.color)),
            unit: "each",
            basis: "spare louvers, ordered with the blinds".into(),
            quantity: Some(spare.count.into()),
            quantity_from: QuantityFrom::Order,
            rate,
            formula: AmountFormula::Product,
            shared_in: Measure::one("each"),
            parts: Vec::new(),
            commitment: if before.is_some() { Commitment::Committed } else { Commitment::Open },
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
        commitment: Commitment::Open,
        gap,
    });
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
        Some(size) => Lacking::Price { what: size.name(rules.project.units), sheet: STOCK_SIZES.sheet },
        None => Lacking::Price { what: format!("{MADE_BLIND} of {product}"), sheet: PRICES.sheet },
    }
}

fn stock_rate(ledger: &mut Ledger, id: StockId, rules: &Rules) -> (Rate, Cow<'static, str>) {
    let Some(size) = rules.stock_size(id) else { return (Rate::UNKNOWN, "price of the stock size".into()) };
    let rate = Rate::listed(size.price, size.example, size.at);
    let name = size.name(rules.project.units);
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
    let name = listed.map_or_else(|| MADE_BLIND.to_owned(), BlindPrice::name);
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
