//! Bars of several prices: which to buy, and how to cut the pieces from just those (decomposition:
//! Benders, Numerische Mathematik 4, 1962; Hooker and Ottosson, Mathematical Programming 96, 2003).
//!
//! A [`Covering`] names whole bars that hold the pieces by every weighing so far, which gives the
//! bound. If not even patterns in fractions cut the pieces from these bars, the prices of the
//! pieces are a weighing by which they are too few: one more inequality, and other bars are named.
//! If they do, a dive looks for a plan among these bars; in vain, and a little more may be spent.

use super::bound::lightened;
use super::certificate::{Certificate, Weighing};
use super::covering::{Aim, Bars, Covering};
use super::dive::{Manner, Search};
use super::generate::{Relaxed, relax};
use super::instance::{Instance, Stock};

/// Work for one covering programme.
const COVERING: u64 = 8_000_000;
/// Work for what a bar of one stock can hold by new weights.
const WEIGHING: u64 = 4_000_000;
/// Weighings, at most: each is one more thing to look at wherever bars are chosen.
const MOST_WEIGHINGS: usize = 24;
/// Stocks with a price, at most: the choice of bars goes as many calls deep.
const MOST_KINDS: usize = 60;
/// Of the dearest bar's cost, the part that is first spent beyond the least; then twice as much,
/// and so on.
const FIRST_STEP: u128 = 64;
/// Dives without a better plan after which the search gives up.
const MOST_IN_VAIN: u64 = 40;
/// Share of the bars in fractions that is decided on at once, and how much chance may change.
const MANNERS: [(f64, f64); 2] = [(0.2, 0.0), (0.05, 0.2)];

/// The choice of bars, going on.
struct Buying<'s, 'i> {
    root: &'s Relaxed,
    search: &'s mut Search<'i>,
    weighings: Vec<Weighing>,
    /// Columns that are likely to be wanted whatever is bought.
    likely: Vec<u32>,
}

/// Looks for a plan and a bound where bars have several prices; ends with the proof of the bound.
/// The search's columns are its own from now on.
pub(super) fn buy<'s>(search: &'s mut Search, material: Weighing, root: &'s Relaxed) -> Certificate {
    let instance = search.instance;
    let by_price = lightened(instance, root.bound.weighing(), WEIGHING, &mut search.work);
    let likely = root.bars.iter().map(|(column, _)| *column).collect();
    let mut buying = Buying { root, search, weighings: vec![material, by_price], likely };
    if instance.stocks().iter().filter(|stock| stock.cost > 0).count() <= MOST_KINDS {
        buying.go_on();
    }
    Certificate { cost: buying.search.at_least, weighings: buying.weighings }
}

impl Buying<'_, '_> {
    fn go_on(&mut self) {
        let instance = self.search.instance;
        let unit = u128::from(instance.common_cost()).max(1);
        let dearest = instance.stocks().iter().map(|stock| stock.cost).max().unwrap_or(0);
        let first_step = (u128::from(dearest) / FIRST_STEP).next_multiple_of(unit).max(unit);
        let (mut beyond, mut step, mut in_vain) = (0, first_step, 0);
        let mut covering = self.covering();
        while !self.search.is_over() && in_vain < MOST_IN_VAIN {
            let most = self.search.at_least + beyond;
            let before = self.search.rank.cost;
            let bars = if most < before { self.find(&covering, Aim::Roomiest, most) } else { None };
            if let Some(bars) = &bars {
                if let Some(weighing) = self.cut(bars, most, in_vain) {
                    self.weighings.push(weighing);
                    covering = self.covering();
                    continue;
                }
            }
            if self.search.rank.cost < before || most >= before {
                (beyond, step) = (0, first_step);
            } else {
                (beyond, step) = (beyond + step, 2 * step);
            }
            in_vain = if self.search.rank.cost < before { 0 } else { in_vain + 1 };
        }
    }

    /// The covering programme by all weighings so far, and the bound that it gives.
    fn covering(&mut self) -> Covering {
        let covering = Covering::new(self.search.instance, &self.weighings);
        let under_best = self.search.rank.cost.saturating_sub(1);
        let mut portion = self.search.work.portion(COVERING);
        let least = covering.find(Aim::Cheapest, under_best, &mut portion);
        self.search.work.give_back(portion);
        if let Ok(least) = least {
            let cost = least.map_or(self.search.rank.cost, |bars| bars.cost);
            self.search.at_least = self.search.at_least.max(cost);
        }
        covering
    }

    fn find(&mut self, covering: &Covering, aim: Aim, most: u128) -> Option<Bars> {
        let mut portion = self.search.work.portion(COVERING);
        let bars = covering.find(aim, most, &mut portion);
        self.search.work.give_back(portion);
        bars.ok().flatten()
    }

    /// Looks for a plan that cuts these bars alone, or for the weighing by which they are too few.
    fn cut(&mut self, bars: &Bars, most: u128, seed: u64) -> Option<Weighing> {
        let search = &mut *self.search;
        let whole = search.instance;
        let beyond = longest_without_end(whole);
        let bought = of_these_bars(whole, bars, beyond);
        let mut sub = Search::new(&bought, most, search.work.portion(u64::MAX));
        std::mem::swap(&mut sub.pool, &mut search.pool);
        sub.rank.cost = search.rank.cost;
        let mut too_few = None;
        sub.dive(self.root, Manner { stride: MANNERS[0].0, chance: if seed > 0 {0.2} else {0.0}, seed }, 0);
        if std::env::var("DBG").is_ok() { eprintln!("most {most} n {:?} root dive -> {} left {}", bars.counts, sub.rank.cost, sub.work.0); }
        if !sub.is_over() {
        let relaxed = relax(&bought, &bought.whole(), &mut sub.pool, &self.likely, u128::MAX, &mut sub.work);
        if std::env::var("DBG").is_ok() { eprintln!("   relaxed {} left {}", relaxed.bound.cost, sub.work.0); }
        if relaxed.bound.cost > bars.cost && self.weighings.len() < MOST_WEIGHINGS {
            let mut weighing = relaxed.bound.weighing();
            // Of what is not bought the relaxation does not know what it holds.
            let unknown = bars.counts.iter().map(|count| *count == 0);
            weighing.most.iter_mut().zip(unknown).filter(|(_, unknown)| *unknown).for_each(|(most, _)| *most = u64::MAX);
            weighing.most.truncate(whole.stocks().len());
            let weighing = lightened(whole, weighing, WEIGHING, &mut sub.work);
            too_few = Some(weighing).filter(|weighing| !holds(whole, weighing, bars));
        }
        if relaxed.bound.cost <= most {
            for (stride, chance) in MANNERS {
                if !sub.is_over() {
                    sub.dive(&relaxed, Manner { stride, chance, seed }, 0);
                }
            }
        }
        }
        std::mem::swap(&mut sub.pool, &mut search.pool);
        search.work = sub.work;
        let mut cuts = sub.best;
        for cut in cuts.iter_mut().filter(|cut| cut.stock == bars.counts.len()) {
            cut.stock = beyond;
        }
        search.offer(cuts);
        too_few
    }
}

/// The same pieces, but of these bars; what they do not hold is cut from dearer ones of the stock
/// `beyond`.
fn of_these_bars(instance: &Instance, bars: &Bars, beyond: usize) -> Instance {
    let bought = instance.stocks().iter().zip(&bars.counts);
    let mut stocks: Vec<Stock> =
        bought.map(|(stock, count)| Stock { limit: Some(*count), ..*stock }).collect();
    let beyond = instance.stocks()[beyond];
    let dearer = (beyond.cost + beyond.cost / 2).next_multiple_of(instance.common_cost().max(1));
    stocks.push(Stock { cost: dearer, ..beyond });
    instance.with_stocks(stocks)
}

fn longest_without_end(instance: &Instance) -> usize {
    let stocks = instance.stocks().iter().enumerate().filter(|(_, stock)| stock.limit.is_none());
    stocks.max_by_key(|(_, stock)| stock.capacity).map_or(0, |(position, _)| position)
}

fn holds(instance: &Instance, weighing: &Weighing, bars: &Bars) -> bool {
    let product = |(each, count): (&u64, u64)| u128::from(*each) * u128::from(count);
    let demands = instance.items().iter().map(|item| item.demand);
    let needed: u128 = weighing.weights.iter().zip(demands).map(product).sum();
    let held: u128 = weighing.most.iter().zip(bars.counts.iter().copied()).map(product).sum();
    held >= needed
}
