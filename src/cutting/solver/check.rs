//! The check of a plan and of its proof.
//!
//! It shares no code with the search. It counts the pieces of the plan, and finds anew, with a dynamic
//! program of its own, what the pieces on one bar can weigh at most; the bound then follows in one
//! line of whole numbers, or from whole bars ([`whole_bars`](super::whole_bars)).

use super::certificate::{Certificate, Doubt, Weighing};
use super::instance::{Instance, Stock};
use super::plan::Cut;
use super::whole_bars::{all_weigh, cheaper};

/// States that the check of one bar may look at.
const MOST_STATES: u64 = 100_000_000;

/// Checks that a plan cuts every piece once, that no bar is over-full and no stock over-drawn,
/// and that no plan costs less than the certificate says. Hands back the plan's cost.
///
/// # Errors
/// The first [`Doubt`].
pub fn check(instance: &Instance, cuts: &[Cut], certificate: &Certificate) -> Result<u128, Doubt> {
    let cost = check_plan(instance, cuts)?;
    check_weights(instance, certificate)?;
    check_bound(instance, certificate)?;
    if cost < certificate.cost {
        return Err(Doubt::UnderBound { cost });
    }
    Ok(cost)
}

fn check_plan(instance: &Instance, cuts: &[Cut]) -> Result<u128, Doubt> {
    let mut pieces = vec![0_u128; instance.items().len()];
    let mut bars = vec![0_u128; instance.stocks().len()];
    for (number, cut) in cuts.iter().enumerate() {
        let stock = instance.stocks().get(cut.stock).ok_or(Doubt::OverFull(number))?;
        let mut length = 0_u128;
        for &(item, count) in &cut.counts {
            let size = instance.items().get(item).ok_or(Doubt::OverFull(number))?.size;
            length += u128::from(size) * u128::from(count);
            pieces[item] += u128::from(count) * u128::from(cut.bars);
        }
        if length > u128::from(stock.capacity) {
            return Err(Doubt::OverFull(number));
        }
        bars[cut.stock] += u128::from(cut.bars);
    }
    for (item, (&cut, wanted)) in pieces.iter().zip(instance.items()).enumerate() {
        if cut != u128::from(wanted.demand) {
            return Err(Doubt::Pieces { item, cut, wanted: wanted.demand });
        }
    }
    let mut cost = 0;
    for (position, (&used, stock)) in bars.iter().zip(instance.stocks()).enumerate() {
        if stock.limit.is_some_and(|limit| used > u128::from(limit)) {
            return Err(Doubt::Limit(position));
        }
        cost += used * u128::from(stock.cost);
    }
    Ok(cost)
}

fn check_weights(instance: &Instance, certificate: &Certificate) -> Result<(), Doubt> {
    let mut steps = MOST_STATES;
    for Weighing { weights, most } in &certificate.weighings {
        if weights.len() != instance.items().len() || most.len() != instance.stocks().len() {
            return Err(Doubt::OtherInstance);
        }
        for (position, (stock, most)) in instance.stocks().iter().zip(most).enumerate() {
            if outweighs(instance, weights, stock, *most, &mut steps)? {
                return Err(Doubt::Heavier(position));
            }
        }
    }
    Ok(())
}

/// One weighing may be enough, with bars in fractions; if not, whole bars are tried.
fn check_bound(instance: &Instance, certificate: &Certificate) -> Result<(), Doubt> {
    let of_each = certificate.weighings.iter().map(|weighing| proved_cost(instance, weighing));
    let in_fractions = of_each.max().unwrap_or(0);
    if certificate.cost <= in_fractions {
        return Ok(());
    }
    match cheaper(instance, certificate)? {
        Some(proved) => Err(Doubt::Bound { proved: proved.max(in_fractions) }),
        None => Ok(()),
    }
}

/// Whether some pieces for a bar of this stock weigh more than `most`: all lengths that pieces can
/// come to, item by item, each with the most it can weigh. A length that could not pass `most`
/// even if the rest of the bar were filled with the heaviest of what follows is given up.
fn outweighs(
    instance: &Instance,
    weights: &[u64],
    stock: &Stock,
    most: u64,
    steps: &mut u64,
) -> Result<bool, Doubt> {
    let most = u128::from(most);
    let mut order: Vec<(u128, u128, u64)> = (instance.items().iter().zip(weights))
        .filter(|(item, _)| item.size <= stock.capacity)
        .map(|(item, weight)| (u128::from(item.size), u128::from(*weight), item.demand))
        .collect();
    // Heaviest for its length first: weight / size descending, compared crosswise.
    order.sort_by(|a, b| (b.1 * a.0).cmp(&(a.1 * b.0)));
    let capacity = u128::from(stock.capacity);
    let mut reached: Vec<(u128, u128)> = vec![(0, 0)];
    for &(size, weight, demand) in &order {
        reached.retain(|&(length, so_far)| (capacity - length) * weight > (most - so_far) * size);
        let mut longer = reached.clone();
        for &(length, so_far) in &reached {
            for count in 1..=u128::from(demand).min((capacity - length) / size) {
                longer.push((length + count * size, so_far + count * weight));
            }
        }
        *steps = steps.checked_sub(longer.len() as u64).ok_or(Doubt::TooManySteps)?;
        if longer.iter().any(|(_, weight)| *weight > most) {
            return Ok(true);
        }
        longer.sort_unstable_by(|a, b| a.0.cmp(&b.0).then(b.1.cmp(&a.1)));
        let mut heaviest = None;
        longer.retain(|&(_, weight)| {
            let heavier = heaviest.is_none_or(|heaviest| weight > heaviest);
            heaviest = if heavier { Some(weight) } else { heaviest };
            heavier
        });
        reached = longer;
    }
    Ok(false)
}

/// What one weighing proves, if bars could be bought in fractions.
///
/// Let V be what a bar of cost c holds. If every stock without end holds at most V c'/c for its
/// cost c', then bars of total cost K hold at most K V / c, and what limited stocks hold beyond
/// that share. So K >= (all weights x c - what is beyond x c) / V, rounded up to a sum of costs.
fn proved_cost(instance: &Instance, weighing: &Weighing) -> u128 {
    let weight = all_weigh(instance, weighing);
    let stocks: Vec<(Option<u64>, u128, u128)> = (instance.stocks().iter().zip(&weighing.most))
        .map(|(stock, most)| (stock.limit, u128::from(stock.cost), u128::from(*most)))
        .collect();
    let endless = || stocks.iter().filter(|stock| stock.0.is_none() && stock.2 > 0);
    let dominant = endless().find(|one| endless().all(|other| one.2 * other.1 >= other.2 * one.1));
    let Some(&(_, price, held)) = dominant.filter(|stock| stock.1 > 0) else {
        return 0;
    };
    // A sum past 128 bits, which no search hands out, proves less than it might, never more.
    let mut scaled = weight.saturating_mul(price);
    for &(limit, cost, most) in &stocks {
        let beyond = (most * price).saturating_sub(held * cost);
        scaled = scaled.saturating_sub(beyond.saturating_mul(u128::from(limit.unwrap_or(0))));
    }
    let step = u128::from(instance.common_cost()).max(1);
    scaled.div_ceil(held).next_multiple_of(step)
}
