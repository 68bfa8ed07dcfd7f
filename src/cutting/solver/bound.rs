//! What no plan can undercut, in exact integers.
//!
//! Weigh the pieces. If no bar of a stock can hold more than a known weight, the weight of all
//! pieces says what the bars must cost. Any weights give a bound; the duals of the master
//! programme give the best (Farley, Operations Research 38, 1990).

use super::instance::{Instance, Open};

/// The bound that these weights prove for what is open; 0 if a stock without end is free.
///
/// With V and c the weight and the cost of the stock without end that holds most for its cost,
/// any bar of cost c' holds at most V' <= V c'/c, but for limited stocks: what these hold beyond
/// it is taken off, for as many as there are. So cost >= (weight x c - sum of excesses) / V.
pub(super) fn cost_at_least(instance: &Instance, open: &Open, weights: &[u64], most: &[u64]) -> u128 {
    let mut best: Option<(u128, u128)> = None;
    for (stock, &held) in instance.stocks().iter().zip(most) {
        let (held, cost) = (u128::from(held), u128::from(stock.cost));
        if stock.limit.is_none() && held > 0 && best.is_none_or(|(most, price)| held * price > most * cost) {
            best = Some((held, cost));
        }
    }
    let Some((most_held, price)) = best.filter(|(_, price)| *price > 0) else {
        return 0;
    };
    let weight: u128 = weights
        .iter()
        .zip(&open.demands)
        .map(|(&weight, &demand)| u128::from(weight) * u128::from(demand))
        .sum();
    let mut excess = 0;
    for ((stock, &held), limit) in instance.stocks().iter().zip(most).zip(&open.limits) {
        if let Some(limit) = limit {
            let beyond = (u128::from(held) * price).saturating_sub(most_held * u128::from(stock.cost));
            excess += beyond * u128::from(*limit);
        }
    }
    let unit = u128::from(instance.common_cost()).max(1);
    // Costs are whole multiples of the costs' common divisor, so the bound is too.
    (weight * price).saturating_sub(excess).div_ceil(most_held).div_ceil(unit) * unit
}
