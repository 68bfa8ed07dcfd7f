//! What no plan can undercut, in exact integers.
//!
//! Weigh the pieces. If no bar of a stock can hold more than a known weight, the weight of all
//! pieces says what the bars must cost. Any weights give a bound; the duals of the master
//! program give the best (Farley, Operations Research 38, 1990).

use super::certificate::{Certificate, Weighing};
use super::instance::{Instance, Open};
use super::knapsack::Knapsack;
use super::work::Work;

/// What no plan can undercut, and the weights that prove it.
#[derive(Clone, Debug)]
pub(super) struct Bound {
    /// What a piece of each item weighs.
    pub(super) weights: Vec<u64>,
    /// What the pieces on one bar of each stock weigh at most.
    pub(super) most: Vec<u64>,
    /// No plan costs less.
    pub(super) cost: u128,
}

impl Bound {
    pub(super) fn weighing(&self) -> Weighing {
        Weighing { weights: self.weights.clone(), most: self.most.clone() }
    }

    /// The bound as it is handed out.
    pub(super) fn certificate(&self) -> Certificate {
        Certificate { weighings: vec![self.weighing()], cost: self.cost }
    }
}

/// Work for a look at what a bar can hold.
const LOOK: u64 = 400_000;

/// Takes the weight off pieces that cost nothing, so that a free stock without end holds none. What
/// other bars hold stays true.
pub(super) fn unweigh_free(instance: &Instance, weights: &mut [u64], most: &mut [u64]) {
    let free_size = instance.free_size();
    for (weight, _) in weights.iter_mut().zip(instance.items()).filter(|(_, item)| item.size <= free_size) {
        *weight = 0;
    }
    for (most, _) in most.iter_mut().zip(instance.stocks()).filter(|(_, stock)| stock.is_free_without_end()) {
        *most = 0;
    }
}

/// The bound that these weights prove for what is open; 0 if a free stock without end holds any.
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

/// The bound by which a piece weighs its size.
pub(super) fn by_material(instance: &Instance, work: &mut Work) -> Bound {
    let mut weights: Vec<u64> = instance.items().iter().map(|item| item.size).collect();
    let mut most: Vec<u64> = instance.stocks().iter().map(|stock| stock.capacity).collect();
    unweigh_free(instance, &mut weights, &mut most);
    let Weighing { weights, most } = lightened(instance, Weighing { weights, most }, 0, work);
    let cost = cost_at_least(instance, &instance.whole(), &weights, &most);
    Bound { weights, most, cost }
}

/// The same weights, with what bars of each stock can hold at most found more nearly. Where a look
/// is not enough, up to `each` of work goes into each stock.
pub(super) fn lightened(instance: &Instance, weighing: Weighing, each: u64, work: &mut Work) -> Weighing {
    let Weighing { weights, mut most } = weighing;
    let sizes = instance.items().iter().map(|item| item.size);
    let mut knapsack = Knapsack::new(sizes, &weights, &instance.whole().demands);
    for (stock, most) in instance.stocks().iter().zip(&mut most) {
        let mut look = work.portion(LOOK);
        let filling = knapsack.fill(stock.capacity, 0, &mut look, |_| {});
        work.give_back(look);
        *most = filling.at_most.min(*most);
        if filling.value < *most && each > 0 {
            let mut portion = work.portion(each);
            *most = knapsack.fill_by_lists(stock.capacity, filling.value, &mut portion).at_most.min(*most);
            work.give_back(portion);
        }
    }
    Weighing { weights, most }
}
