//! The search for a plan, from what anyone would do by hand to what takes longest.
//!
//! A proof that cannot be checked to its end within the check's own limit of steps counts as none:
//! the plan stands, its bound is 0.

use super::bound::by_material;
use super::buying::{buy, is_choice};
use super::certificate::Certificate;
use super::correction::{by_size, fill_in_turn, first_fit_decreasing};
use super::dive::{Manner, Search};
use super::generate::{End, Relaxed, relax};
use super::instance::Instance;
use super::plan::Cut;
use super::polish::polished;
use super::work::Work;

/// A plan, at least as good as first-fit decreasing, and what no plan can undercut.
#[derive(Clone, Debug)]
pub struct Solution {
    /// The patterns, no two alike.
    pub cuts: Vec<Cut>,
    /// The proof of the bound. The plan is proven to be least if its bars cost no more than that.
    pub certificate: Certificate,
    /// Work that was not needed.
    pub unused: Work,
}

/// Work for value correction, for each item.
const CORRECTION: u64 = 200_000;
/// Work for the filling of one bar in value correction.
const FILLING: u64 = 20_000;
/// Rounds of value correction, at most.
const MOST_ROUNDS: usize = 30;
/// Rounds that are made even if the bound is met before, for the sake of fewer patterns.
const LEAST_ROUNDS: usize = 6;
/// Into how many lots a pattern's bars are split, round by round.
const LOTS: [u64; 5] = [1, 2, 1, 4, 3];
/// Of the work left, the tenths that the first relaxation may take; the rest is for dives.
const ROOT_TENTHS: u64 = 7;
/// Dives without a better plan after which the search gives up.
const MOST_IN_VAIN: u32 = 12;
/// Work for the choice of bars where they have several costs: what it does not settle soon, it
/// seldom does.
const SEVERAL_COSTS: u64 = 1_000_000_000;
/// Share of the bars in fractions that the first two dives decide on at once; later ones decide
/// bar by bar.
const STRIDES: [f64; 2] = [0.2, 0.05];
/// How much chance may change the order of the columns from the third dive on.
const CHANCE: f64 = 0.3;

/// Finds a plan with so much work, and stops early where it is proven to be least.
pub fn solve(instance: &Instance, work: Work) -> Solution {
    let mut work = work;
    let mut bound = by_material(instance, &mut work);
    let material = bound.weighing();
    let mut certificate = bound.certificate();
    let mut search = Search::new(instance, bound.cost, work);
    start(&mut search);
    if !search.is_over() {
        let root = relax_whole(&mut search, End::Bound, &[]);
        if root.bound.cost > bound.cost {
            bound = root.bound.clone();
            certificate = bound.certificate();
            search.at_least = bound.cost;
        }
        if !is_choice(instance) {
            dives(&mut search, root);
        } else if !search.is_over() {
            let mut kept = search.work;
            search.work = kept.portion(SEVERAL_COSTS);
            certificate = buy(&mut search, material, &root);
            search.work.give_back(kept);
        }
    }
    let cuts = polished(instance, search.best, &mut search.work);
    Solution { cuts, certificate, unused: search.work }
}

/// First-fit decreasing, and rounds of value correction; their bars are the first columns.
fn start(search: &mut Search) {
    let instance = search.instance;
    for stock in 0..instance.stocks().len() {
        if let Some(cuts) = first_fit_decreasing(instance, stock) {
            search.offer(cuts);
        }
    }
    let mut values = by_size(instance);
    let mut portion = search.work.portion(CORRECTION * instance.items().len() as u64);
    for round in 0..MOST_ROUNDS {
        let met = search.rank.cost <= search.at_least;
        if met && round >= LEAST_ROUNDS || portion.is_spent() {
            break;
        }
        let lots = LOTS[round % LOTS.len()];
        let cuts = fill_in_turn(instance, instance.whole(), &mut values, lots, FILLING, &mut portion);
        for cut in &cuts {
            search.pool.add(cut.stock, &cut.counts);
        }
        search.offer(cuts);
    }
    search.work.give_back(portion);
}

fn relax_whole(search: &mut Search, end: End, likely: &[u32]) -> Relaxed {
    let mut portion = search.work.portion(search.work.0 / 10 * ROOT_TENTHS);
    let whole = search.instance.whole();
    let root = relax(search.instance, &whole, &mut search.pool, likely, u128::MAX, end, &mut portion);
    search.work.give_back(portion);
    root
}

fn dives(search: &mut Search, mut root: Relaxed) {
    let mut in_vain = 0;
    for attempt in 0.. {
        if search.is_over() || in_vain > MOST_IN_VAIN {
            return;
        }
        // The first dives need no more than the bound. If they fail, their bars in fractions may
        // have wasted what the last bars lacked.
        let end = if attempt < STRIDES.len() { End::Bound } else { End::Least };
        if attempt == STRIDES.len() {
            let likely: Vec<u32> = root.bars.iter().map(|(column, _)| *column).collect();
            root = relax_whole(search, end, &likely);
        }
        let before = search.rank;
        let manner = Manner {
            stride: STRIDES.get(attempt).copied().unwrap_or(0.0),
            chance: if attempt < STRIDES.len() { 0.0 } else { CHANCE },
            end,
            seed: attempt as u64 + 1,
        };
        search.dive(&root, manner, usize::from(attempt >= STRIDES.len()));
        in_vain = if search.rank < before { 0 } else { in_vain + 1 };
    }
}
