//! Plans and which of two is better.

use std::collections::BTreeMap;

use super::instance::Instance;
use super::knapsack::Counts;

/// Bars that are cut alike.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cut {
    /// Position of the stock.
    pub stock: usize,
    /// How many bars.
    pub bars: u64,
    /// Position of each item on one bar and how many of it; by position.
    pub counts: Counts,
}

/// How good a plan is; less is better, first things first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Rank {
    pub(super) cost: u128,
    /// Bars that cost something.
    pub(super) bars: u64,
    /// Bars that do not: one is not cut up for nothing.
    pub(super) offcuts: u64,
    pub(super) patterns: usize,
}

impl Rank {
    pub(super) fn of(instance: &Instance, cuts: &[Cut]) -> Rank {
        let mut rank = Rank { cost: 0, bars: 0, offcuts: 0, patterns: cuts.len() };
        for cut in cuts {
            match instance.stocks()[cut.stock].cost {
                0 => rank.offcuts += cut.bars,
                cost => {
                    rank.bars += cut.bars;
                    rank.cost += u128::from(cost) * u128::from(cut.bars);
                }
            }
        }
        rank
    }
}

/// The size that a bar's pieces come to.
pub(super) fn used(instance: &Instance, counts: &[(usize, u64)]) -> u64 {
    counts.iter().map(|&(item, count)| instance.items()[item].size * count).sum()
}

/// The cheapest bar that holds each filling, and like patterns taken together.
pub(super) fn tidied(instance: &Instance, cuts: Vec<Cut>) -> Vec<Cut> {
    let mut alike: BTreeMap<(usize, Counts), u64> = BTreeMap::new();
    for cut in cuts {
        *alike.entry((cheapest_that_holds(instance, &cut), cut.counts)).or_default() += cut.bars;
    }
    alike.into_iter().map(|((stock, counts), bars)| Cut { stock, bars, counts }).collect()
}

fn cheapest_that_holds(instance: &Instance, cut: &Cut) -> usize {
    let used = used(instance, &cut.counts);
    let own = instance.stocks()[cut.stock];
    let holding = instance.stocks().iter().enumerate();
    holding
        .filter(|(_, stock)| stock.limit.is_none() && stock.capacity >= used && stock.cost <= own.cost)
        .map(|(position, stock)| (stock.cost, stock.capacity, position))
        .min()
        .map_or(cut.stock, |(_, _, position)| position)
}
