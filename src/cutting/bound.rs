//! What no plan can undercut, in exact integers.
//!
//! Every bound here weighs the pieces so that no bar can hold more than a known weight: then the
//! weight of all pieces says how many bars there must be.

use super::fill::{Allowance, fill};
use super::instance::{Instance, Stock, Supply};

/// What no plan can undercut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bound {
    /// Bars to be bought; `None` with offcuts on hand or several lengths.
    pub bars: Option<u64>,
    /// Cost of the bars to be bought, in the instance's money.
    pub cost: u128,
}

/// Steps within which the best filling of a bar must be proved to serve as a bound.
const PROOF_STEPS: u64 = 200_000;
/// Thresholds tried where a bound has one for each size; more sizes than this are sampled evenly.
const MOST_THRESHOLDS: usize = 96;
/// Steps of the staircase bounds, which round sizes down to a share of the bar.
const MOST_STEPS: u64 = 40;

/// The best of several lower bounds.
pub fn bound(instance: &Instance) -> Bound {
    let by_weight = cost_by_weight(instance);
    let [Stock { capacity, supply: Supply::Bought { cost } }] = *instance.stocks() else {
        return Bound { bars: None, cost: by_weight };
    };
    let price = u128::from(cost);
    let bars = bars_of_one_length(instance, capacity).max(by_weight.div_ceil(price.max(1)));
    Bound { bars: u64::try_from(bars).ok(), cost: bars * price }
}

/// A bound on cost for any stock lengths and offcuts: no bar holds more of the pieces than its
/// best filling, offcuts hold what they can for nothing, and the rest costs at least what the
/// bar does that holds the most for its price.
fn cost_by_weight(instance: &Instance) -> u128 {
    let sizes = instance.sizes();
    let demands = instance.demands();
    let total: u128 =
        instance.items().iter().map(|item| u128::from(item.size) * u128::from(item.demand)).sum();
    let most_held = |capacity: u64| {
        let filling = fill(&sizes, &sizes, &demands, capacity, &mut Allowance(PROOF_STEPS));
        if filling.proven { filling.value } else { u128::from(capacity) }
    };
    let mut on_hand = 0;
    let mut cheapest: Option<(u128, u64)> = None;
    for stock in instance.stocks() {
        let held = most_held(stock.capacity);
        match stock.supply {
            Supply::OnHand { count } => on_hand += held * u128::from(count),
            Supply::Bought { .. } if held == 0 => {}
            Supply::Bought { cost } => {
                let cheaper =
                    cheapest.is_none_or(|(most, price)| u128::from(cost) * most < u128::from(price) * held);
                cheapest = if cheaper { Some((held, cost)) } else { cheapest };
            }
        }
    }
    let rest = total.saturating_sub(on_hand);
    let unit = u128::from(instance.common_cost()).max(1);
    cheapest.map_or(0, |(held, cost)| {
        // Costs are whole multiples of the prices' common divisor, so the bound is too.
        rest.saturating_mul(u128::from(cost)).div_ceil(held).div_ceil(unit) * unit
    })
}

/// Bars of one capacity, at least: the best of the bound L2 (Martello and Toth, Knapsack Problems,
/// 1990, chapter 8) and three families of dual feasible functions (Fekete and Schepers,
/// Mathematical Programming 91, 2001; both from memory), alone and one after the other.
fn bars_of_one_length(instance: &Instance, capacity: u64) -> u128 {
    let items: Vec<(u128, u128)> =
        instance.items().iter().map(|item| (u128::from(item.size), u128::from(item.demand))).collect();
    let capacity = u128::from(capacity);
    let mut bars = staircases(&items, capacity).max(1);
    for threshold in thresholds(&items, capacity) {
        bars = bars.max(martello_toth(&items, capacity, threshold));
        bars = bars.max(large_against_small(&items, capacity, threshold));
        bars = bars.max(staircases(&without_small(&items, capacity, threshold), capacity));
    }
    bars
}

/// Sizes up to half a bar, and 0 for none.
fn thresholds(items: &[(u128, u128)], capacity: u128) -> Vec<u128> {
    let sizes: Vec<u128> =
        items.iter().map(|item| item.0).filter(|size| 2 * size <= capacity).chain([0]).collect();
    let stride = sizes.len().div_ceil(MOST_THRESHOLDS).max(1);
    sizes.into_iter().step_by(stride).collect()
}

/// L2: pieces over half a bar each need their own; those over `capacity - threshold` leave no room
/// for any piece of at least `threshold`, and the others leave what they leave.
fn martello_toth(items: &[(u128, u128)], capacity: u128, threshold: u128) -> u128 {
    let (mut alone, mut halves, mut room, mut small) = (0, 0, 0, 0);
    for &(size, demand) in items {
        if size > capacity - threshold {
            alone += demand;
        } else if 2 * size > capacity {
            halves += demand;
            room += demand * (capacity - size);
        } else if size >= threshold {
            small += demand * size;
        }
    }
    alone + halves + small.saturating_sub(room).div_ceil(capacity)
}

/// Weighs a piece over half a bar by the small pieces (of at least `threshold`) that it displaces.
fn large_against_small(items: &[(u128, u128)], capacity: u128, threshold: u128) -> u128 {
    if threshold == 0 {
        return 0;
    }
    let in_a_bar = capacity / threshold;
    let weight: u128 = items
        .iter()
        .map(|&(size, demand)| {
            if 2 * size > capacity {
                demand * (in_a_bar - (capacity - size) / threshold)
            } else if size >= threshold {
                demand
            } else {
                0
            }
        })
        .sum();
    weight.div_ceil(in_a_bar)
}

/// Pieces that leave no room for one of `threshold` count as a whole bar, those under it as nothing.
fn without_small(items: &[(u128, u128)], capacity: u128, threshold: u128) -> Vec<(u128, u128)> {
    items
        .iter()
        .filter(|(size, _)| *size >= threshold)
        .map(|&(size, demand)| (if size > capacity - threshold { capacity } else { size }, demand))
        .collect()
}

/// Sizes as they are, and rounded to steps: with k steps, a size that is a whole number of
/// (k + 1)th parts of the bar counts as it is, any other as so many kth parts, rounded down.
fn staircases(items: &[(u128, u128)], capacity: u128) -> u128 {
    let as_they_are: u128 = items.iter().map(|(size, demand)| size * demand).sum();
    let stepped = (1..=u128::from(MOST_STEPS)).map(|steps| {
        let weight: u128 = items
            .iter()
            .map(|&(size, demand)| {
                let parts = (steps + 1) * size;
                demand * if parts % capacity == 0 { size * steps } else { parts / capacity * capacity }
            })
            .sum();
        weight.div_ceil(capacity * steps)
    });
    stepped.max().unwrap_or(0).max(as_they_are.div_ceil(capacity))
}
