//! A plan mended in places: some of its bars are given up, those that lose most for the prices of
//! the relaxation and a few by chance, and their pieces are cut anew by a dive. What is kept makes
//! the rest small, so that many such tries cost no more than one dive from the beginning.

use super::dive::{Manner, Search};
use super::generate::{End, Relaxed};
use super::instance::Instance;
use super::master::next_share;
use super::plan::Cut;

/// Bars given up at once, try by try.
const GIVEN_UP: [usize; 8] = [8, 14, 24, 40, 10, 18, 60, 100];
/// Bars of one pattern that are looked at singly.
const MOST_ALIKE: u64 = 8;
/// How much chance may add to what a bar loses, as a share of the dearest bar.
const LOSS_BY_CHANCE: f64 = 0.1;
/// How much chance may change the order of the columns in a dive.
const CHANCE: f64 = 0.2;
/// Work for one mending: most plans take far less.
const MENDING: u64 = 100_000_000;
/// Tries without a cheaper plan after which a mending ends.
const MOST_IN_VAIN: usize = 1_000;

/// Mends the best plan until [`MOST_IN_VAIN`] tries were in vain, or the work for it is done.
pub(super) fn mend(search: &mut Search, root: &Relaxed, first_seed: u64) {
    let mut kept_back = search.work;
    search.work = kept_back.portion(MENDING);
    let (mut seed, mut in_vain) = (first_seed, 0);
    while !search.is_over() && in_vain < MOST_IN_VAIN {
        let before = search.rank.cost;
        let given_up = GIVEN_UP[in_vain % GIVEN_UP.len()];
        let kept = without_some(search.instance, &search.best, root, given_up, &mut seed);
        search.cut_rest(&kept, root, Manner { stride: 0.0, chance: CHANCE, end: End::Bound, seed }, 1);
        in_vain = if search.rank.cost < before { 0 } else { in_vain + 1 };
    }
    kept_back.give_back(search.work);
    search.work = kept_back;
}

/// The plan without `given_up` of its bars: those that cost most beyond what their pieces are worth.
fn without_some(
    instance: &Instance,
    cuts: &[Cut],
    root: &Relaxed,
    given_up: usize,
    seed: &mut u64,
) -> Vec<Cut> {
    let priced = root.bound.most.iter().zip(instance.stocks()).filter(|(_, stock)| stock.cost > 0);
    let worth = priced.map(|(most, stock)| *most as f64 / stock.cost as f64).fold(0.0, f64::max);
    let dearest = instance.stocks().iter().map(|stock| stock.cost).max().unwrap_or(0) as f64;
    let mut single: Vec<(f64, usize)> = Vec::new();
    for (at, cut) in cuts.iter().enumerate() {
        let pieces = cut.counts.iter();
        let value: f64 = pieces.map(|&(item, count)| root.bound.weights[item] as f64 * count as f64).sum();
        let loss = instance.stocks()[cut.stock].cost as f64 - value / worth;
        for _ in 0..cut.bars.min(MOST_ALIKE) {
            single.push((loss + LOSS_BY_CHANCE * dearest * next_share(seed), at));
        }
    }
    single.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
    let mut kept = cuts.to_vec();
    for &(_, at) in single.iter().take(given_up) {
        kept[at].bars -= 1;
    }
    kept.retain(|cut| cut.bars > 0);
    kept
}
