//! Bars of several prices: which of them to buy, and whether the pieces can be cut from just those
//! (logic-based decomposition: Benders, Numerische Mathematik 4, 1962; Hooker and Ottosson,
//! Mathematical Programming 96, 2003).
//!
//! A [`Covering`] names the cheapest bars that hold the pieces by every weighing known so far. If
//! not even fractions of patterns cut all pieces from these, the prices say by which weights the
//! bars are too few: one more weighing. If they do, no plan costs less than these bars.

use super::bound::{by_material, lightened};
use super::certificate::{Certificate, Weighing};
use super::covering::{Aim, Bars, Covering};
use super::dive::{Manner, Search};
use super::generate::{Relaxed, relax};
use super::instance::{Instance, Stock};
use super::work::Work;

/// Work for one covering programme.
const COVERING: u64 = 2_000_000;
/// Work for what a bar of one stock can hold by new weights.
const WEIGHING: u64 = 5_000_000;
/// Weighings, at most.
const MOST_WEIGHINGS: usize = 24;
/// What a bar beyond those bought costs, in hundredths of the dearest.
const BEYOND: u128 = 150;

pub(super) fn buy(search: &mut Search, material: Weighing, root: &Relaxed) -> Certificate {
    let instance = search.instance;
    let mut weighings = vec![material];
    let debug = std::env::var("DBG").is_ok();
    weighings.push(lightened(instance, root.bound.weighing(), WEIGHING, &mut search.work));
    loop {
        let covering = Covering::new(instance, &weighings);
        let mut portion = search.work.portion(COVERING);
        let found = covering.find(Aim::Cheapest, search.rank.cost - 1, &mut portion);
        search.work.give_back(portion);
        let Ok(found) = found else {
            if debug { eprintln!("covering unfinished"); }
            break;
        };
        let Some(bars) = found else {
            search.at_least = search.rank.cost;
            break;
        };
        search.at_least = search.at_least.max(bars.cost);
        if debug { eprintln!("bars {bars:?} best {} left {}", search.rank.cost, search.work.0); }
        if weighings.len() >= MOST_WEIGHINGS { break; }
        let only = only(instance, &bars);
        let mut sub = Search::new(&only, bars.cost, search.work.portion(search.work.0));
        for column in 0..search.pool.len() {
            sub.pool.add(search.pool.stock(column), &search.pool.counts(column));
        }
        let relaxed = relax(&only, &only.whole(), &mut sub.pool, &[], u128::MAX, &mut sub.work);
        search.work.give_back(sub.work);
        if debug { eprintln!("relaxed {} vs {}", relaxed.bound.cost, bars.cost); }
        let mut new = relaxed.bound.weighing();
        new.most.pop();
        for (most, count) in new.most.iter_mut().zip(&bars.counts) { if *count == 0 { *most = u64::MAX >> 24; } }
        let new = lightened(instance, new, WEIGHING, &mut search.work);
        if holds(instance, &new, &bars) { break; }
        weighings.push(new);
    }
    // plan search
    let covering = Covering::new(instance, &weighings);
    let unit = u128::from(instance.common_cost()).max(1);
    let dearest = instance.stocks().iter().map(|s| u128::from(s.cost)).max().unwrap_or(0);
    let mut low = search.at_least;
    let mut step = (dearest / 64 / unit).max(1) * unit;
    let mut round = 0;
    while search.rank.cost > search.at_least && !search.work.is_spent() && round < 40 {
        let high = search.rank.cost - unit;
        if low > high { low = search.at_least; step = (dearest / 64 / unit).max(1) * unit; }
        let most = low;
        round += 1;
        let mut portion = search.work.portion(COVERING);
        let found = covering.find(Aim::Roomiest, most, &mut portion);
        search.work.give_back(portion);
        low = most + step;
        step *= 2;
        let Ok(Some(bars)) = found else {
            if debug { eprintln!("none at {most}"); }
            continue };
        let before = search.rank.cost;
        let w0 = search.work.0;
        attempt(search, &bars, round);
        if debug { eprintln!("try {most} {bars:?} -> {} (was {before}) work {}", search.rank.cost, w0 - search.work.0); }
    }
    Certificate { weighings, cost: search.at_least }
}

fn attempt(search: &mut Search, bars: &Bars, seed: u64) {
    let instance = search.instance;
    let only = only(instance, bars);
    let mut sub = Search::new(&only, bars.cost, search.work.portion(100_000_000));
    for column in 0..search.pool.len() {
        sub.pool.add(search.pool.stock(column), &search.pool.counts(column));
    }
    let relaxed = relax(&only, &only.whole(), &mut sub.pool, &[], u128::MAX, &mut sub.work);
    sub.rank.cost = search.rank.cost;
    if std::env::var("DBG").is_ok() { eprintln!("   relaxed {} work {}", relaxed.bound.cost, sub.work.0); }
    for (k, stride) in [0.2, 0.05].into_iter().enumerate() {
        if sub.is_over() { break; }
        sub.dive(&relaxed, Manner { stride, chance: if k == 0 {0.0} else {0.2}, seed }, 0);
    }
    search.work.give_back(sub.work);
    let longest = instance.stocks().len();
    let mut cuts = std::mem::take(&mut sub.best);
    let over: u64 = cuts.iter().filter(|c| c.stock == longest).map(|c| c.bars).sum();
    if std::env::var("DBG").is_ok() { eprintln!("   sub cost {} over {over}", sub.rank.cost); }
    if cuts.is_empty() { return; }
    for cut in &mut cuts {
        if cut.stock == longest { cut.stock = dear(instance); }
    }
    search.offer(cuts);
}

fn dear(instance: &Instance) -> usize {
    let stocks = instance.stocks();
    let endless = (0..stocks.len()).filter(|at| stocks[*at].limit.is_none());
    endless.max_by_key(|at| stocks[*at].capacity).unwrap_or(0)
}

/// The same pieces, but of these bars alone, and dear ones beyond.
fn only(instance: &Instance, bars: &Bars) -> Instance {
    let stocks = instance.stocks().iter().zip(&bars.counts);
    let mut stocks: Vec<Stock> = stocks.map(|(stock, count)| Stock { limit: Some(*count), ..*stock }).collect();
    let beyond = instance.stocks()[dear(instance)];
    let unit = instance.common_cost();
    stocks.push(Stock { cost: (beyond.cost * 3 / 2).next_multiple_of(unit), ..beyond });
    Instance::new(instance.items().iter().copied(), stocks).unwrap()
}

fn holds(instance: &Instance, weighing: &Weighing, bars: &Bars) -> bool {
    let all: u128 = weighing.weights.iter().zip(instance.items()).map(|(w, i)| u128::from(*w) * u128::from(i.demand)).sum();
    let held: u128 = weighing.most.iter().zip(&bars.counts).map(|(m, n)| u128::from(*m) * u128::from(*n)).sum();
    held >= all
}
