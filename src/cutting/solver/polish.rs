//! What is free once the cost is least: fewer patterns, and one long offcut rather than many
//! short ones.

use std::collections::BTreeMap;

use super::instance::Instance;
use super::knapsack::{Counts, Knapsack};
use super::plan::{Cut, tidied, used};
use super::work::Work;

/// Patterns past which polishing would take longer than it is worth.
const MOST_PATTERNS: usize = 2_000;
/// Work for filling one bar out of two.
const FILLING: u64 = 40_000;

/// The same bars at the same cost, cut so that fewer patterns and longer offcuts come of it.
pub(super) fn polished(instance: &Instance, cuts: Vec<Cut>, work: &mut Work) -> Vec<Cut> {
    if cuts.len() > MOST_PATTERNS {
        return cuts;
    }
    let cuts = with_pairs_as_one(instance, cuts);
    let before = cuts.len();
    let gathered = tidied(instance, gathered(instance, cuts.clone(), work));
    if gathered.len() <= before { gathered } else { cuts }
}

/// Two patterns whose pieces can be shared out evenly over all their bars become one.
fn with_pairs_as_one(instance: &Instance, mut cuts: Vec<Cut>) -> Vec<Cut> {
    let mut one = 0;
    while one < cuts.len() {
        let pair = (one + 1..cuts.len())
            .find_map(|other| Some((other, evenly(instance, &cuts[one], &cuts[other])?)));
        match pair {
            Some((other, both)) => {
                cuts.remove(other);
                cuts[one] = both;
            }
            None => one += 1,
        }
    }
    cuts
}

fn evenly(instance: &Instance, one: &Cut, other: &Cut) -> Option<Cut> {
    if one.stock != other.stock {
        return None;
    }
    let bars = one.bars + other.bars;
    let mut pieces: BTreeMap<usize, u64> = BTreeMap::new();
    for cut in [one, other] {
        for &(item, count) in &cut.counts {
            *pieces.entry(item).or_default() += count * cut.bars;
        }
    }
    let even = pieces.values().all(|pieces| pieces % bars == 0);
    let counts: Counts = pieces.into_iter().map(|(item, pieces)| (item, pieces / bars)).collect();
    let fits = even && used(instance, &counts) <= instance.stocks()[one.stock].capacity;
    fits.then_some(Cut { stock: one.stock, bars, counts })
}

/// Fills up the bars that are cut once out of the one with most to spare, as long as that helps.
/// Only bars with a pattern of their own are changed, so that no pattern is added.
fn gathered(instance: &Instance, mut cuts: Vec<Cut>, work: &mut Work) -> Vec<Cut> {
    let spare = |cut: &Cut| instance.stocks()[cut.stock].capacity - used(instance, &cut.counts);
    let single = |cut: &Cut| cut.bars == 1 && instance.stocks()[cut.stock].cost > 0;
    let Some(emptiest) = (0..cuts.len()).filter(|at| single(&cuts[*at])).max_by_key(|at| spare(&cuts[*at]))
    else {
        return cuts;
    };
    for at in 0..cuts.len() {
        if at == emptiest || !single(&cuts[at]) || spare(&cuts[at]) == 0 {
            continue;
        }
        let mut pieces: BTreeMap<usize, u64> = BTreeMap::new();
        for &(item, count) in cuts[emptiest].counts.iter().chain(&cuts[at].counts) {
            *pieces.entry(item).or_default() += count;
        }
        let sizes: Vec<u64> = pieces.keys().map(|item| instance.items()[*item].size).collect();
        let counts: Vec<u64> = pieces.values().copied().collect();
        let items: Vec<usize> = pieces.keys().copied().collect();
        let mut portion = work.portion(FILLING);
        let filled = used(instance, &cuts[at].counts);
        let capacity = instance.stocks()[cuts[at].stock].capacity;
        let filling = Knapsack::new(sizes.iter().copied(), &sizes, &counts).fill(
            capacity,
            filled,
            &mut portion,
            |_| {},
        );
        work.give_back(portion);
        if filling.counts.is_empty() {
            continue;
        }
        let new: Counts = filling.counts.iter().map(|&(at, count)| (items[at], count)).collect();
        for (item, count) in &new {
            if let Some(pieces) = pieces.get_mut(item) {
                *pieces -= count;
            }
        }
        cuts[at].counts = new;
        cuts[emptiest].counts = pieces.into_iter().filter(|(_, count)| *count > 0).collect();
    }
    cuts.retain(|cut| !cut.counts.is_empty());
    cuts
}
