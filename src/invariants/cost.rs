//! Money that adds up, and prices that are not known.

use rust_decimal::Decimal;

use super::breach::equal;
use super::{Fault, Invariant};
use crate::cost::{AmountFormula, Commitment, CostLine, QuantityFrom, Section};
use crate::order::OrderLine;
use crate::report::Report;
use crate::rules::{CostBasis, TaxOn};
use crate::schema::choices::Origin;

pub(super) const INVARIANTS: &[Invariant] = &[
    Invariant::of_whole(
        "an amount is quantity x rate, rounded once, and unknown with either",
        amounts_are_products,
    ),
    Invariant::of_whole("the total is its lines and the tax, and unknown with any of them", totals_are_sums),
    Invariant::of_whole("committed, open and remade make the total", commitments_make_the_total),
    Invariant::of_whole("what has no price in the rules has no amount, and never 0", unpriced_has_no_amount),
];

fn of_line(line: &CostLine, found: impl Into<String>) -> Fault {
    Fault::at(format!("the cost of {}", line.item), found)
}

fn amounts_are_products(report: &Report<'_>) -> Result<(), Fault> {
    let currency = report.rules.project.currency;
    for line in &report.cost.lines {
        let amount = line.quantity.zip(line.rate).map(|(quantity, rate)| match line.formula {
            AmountFormula::Product | AmountFormula::ShareOf(_) => currency.round(quantity * rate),
            AmountFormula::MinutesAtHourlyRate => currency.round(quantity * rate / Decimal::from(60)),
        });
        if line.amount != amount {
            return Err(of_line(line, "has an amount that is not of its quantity and rate"));
        }
    }
    Ok(())
}

fn totals_are_sums(report: &Report<'_>) -> Result<(), Fault> {
    let (cost, project) = (&report.cost, &report.rules.project);
    let (mut known, mut taxed) = (Decimal::ZERO, Decimal::ZERO);
    let (mut all_known, mut all_taxed_known) = (true, true);
    for line in &cost.lines {
        let is_taxed = match project.tax_on {
            TaxOn::All => true,
            TaxOn::Materials => matches!(line.section, Section::Blinds | Section::Discount | Section::Parts),
        };
        let amount = line.amount.unwrap_or_default();
        known += amount;
        taxed += if is_taxed { amount } else { Decimal::ZERO };
        all_known &= line.amount.is_some();
        all_taxed_known &= !is_taxed || line.amount.is_some();
    }
    let tax = project.currency.round(taxed * (project.tax / Decimal::ONE_HUNDRED));
    equal("the cost", "as its subtotal", cost.subtotal, known)?;
    equal("the cost", "as its tax", cost.known_tax, tax)?;
    let stated = (cost.tax, cost.total);
    if stated != (all_taxed_known.then_some(tax), all_known.then_some(known + tax)) {
        return Err(Fault::at("the cost", "has a total or a tax of what is not known"));
    }
    Ok(())
}

fn commitments_make_the_total(report: &Report<'_>) -> Result<(), Fault> {
    for commitment in [Commitment::Committed, Commitment::Open, Commitment::Remade] {
        let lines = report.cost.lines.iter().filter(|line| line.commitment == commitment);
        let sum: Decimal = lines.filter_map(|line| line.amount).sum();
        let tax = if commitment == Commitment::Open { report.cost.known_tax } else { Decimal::ZERO };
        equal("the cost", &format!("as {}", commitment.word()), report.settled(commitment), sum + tax)?;
    }
    Ok(())
}

/// Lines of the cost without a rate; one that was typed in its place is beside the point.
fn without_rate<'a>(report: &'a Report<'_>, from: QuantityFrom) -> impl Iterator<Item = &'a CostLine> {
    let lines = report.cost.lines.iter().filter(move |line| line.quantity_from == from);
    lines.filter(|line| line.printed_rate.is_none() || line.rate.is_none() || line.printed_quantity.is_none())
}

fn unpriced_has_no_amount(report: &Report<'_>) -> Result<(), Fault> {
    let counted =
        |from| -> Decimal { without_rate(report, from).filter_map(|line| line.printed_quantity).sum() };
    let blinds: u64 = report.order.lines.iter().filter(|line| has_no_price(report, line)).map(open).sum();
    if counted(QuantityFrom::Order) < blinds.into() {
        return Err(Fault::at("the cost", format!("has fewer than {blinds} blinds without a price")));
    }
    let items = report.hardware.items.iter().filter(|item| item.needed + item.spare > item.comes_with_blinds);
    let items = items.filter(|item| match item.ware.fixing(report.rules) {
        Some(fixing) => fixing.price.is_none(),
        None => item.ware.part_price(report.rules).is_none_or(|part| part.each.is_none()),
    });
    let items = items.count();
    if without_rate(report, QuantityFrom::Hardware).count() < items {
        return Err(Fault::at("the cost", format!("has fewer than {items} parts without a price")));
    }
    if report.rules.project.cost_basis == CostBasis::Buy {
        return Ok(());
    }
    let mut bars = 0;
    for plan in &report.cuts.plans {
        let listed = |length| {
            report.rules.bars.iter().filter(move |bar| bar.material == plan.material && bar.length == length)
        };
        let unpriced =
            plan.bought.iter().filter(|(length, ..)| listed(*length).all(|bar| bar.price.is_none()));
        bars += unpriced.map(|(_, _, count)| count).sum::<u64>();
    }
    match counted(QuantityFrom::CutList) < bars.into() {
        true => Err(Fault::at("the cost", format!("has fewer than {bars} bars without a price"))),
        false => Ok(()),
    }
}

/// Whether a line is bought at our cost, and the rules have no price of it.
fn has_no_price(report: &Report<'_>, line: &OrderLine) -> bool {
    let rules = report.rules;
    let first = line.key.remake_of.and_then(|first| report.frozen.blind(first));
    if first.is_some_and(|first| first.paid_by_another().is_some()) {
        return false;
    }
    match line.key.origin {
        Origin::Stock => {
            let size = rules.stock_sizes.iter().find(|size| Some(size.id) == line.key.stock);
            size.is_some_and(|size| size.price.is_none())
        }
        Origin::Made => {
            let listed = rules.prices.made_blind(&line.key.product);
            rules.project.cost_basis == CostBasis::Buy
                && listed.is_none_or(|listed| listed.each.is_none() || listed.per_m2.is_none())
        }
    }
}

/// Blinds of a line that are not ordered yet.
fn open(line: &OrderLine) -> u64 {
    let open = line.seats.iter().filter(|seat| seat.state.is_none());
    open.map(|seat| 1 + seat.last - seat.first).sum()
}
