//! Bars of several prices: which to buy, and how to cut the pieces from just those (decomposition:
//! Benders, Numerische Mathematik 4, 1962; Hooker and Ottosson, Mathematical Programming 96, 2003).
//!
//! A [`Covering`] names whole bars that hold the pieces by every weighing so far, which gives the
//! bound. If not even patterns in fractions cut the pieces from these bars, the prices of the
//! pieces are a weighing by which they are too few: one more inequality, and other bars are named.
//! If they do, a dive looks for a plan among these bars; in vain, and a little more may be spent.
//!
//! Where that is not enough, dives from fractions of any bars come nearer, and [`mend`] from there:
//! before, they would cost more work than most choices need, and fractions of bars are seldom the
//! least that whole bars cost.

use super::bound::lightened;
use super::certificate::{Certificate, Weighing};
use super::covering::{Aim, Bars, Covering, Unfinished};
use super::dive::{Manner, Search};
use super::generate::{End, Relaxed, relax};
use super::instance::{Instance, Stock};
use super::mend::mend;
use super::work::Work;

/// Work for one covering program.
const COVERING: u64 = 8_000_000;
/// Work for what a bar of one stock can hold by new weights.
const WEIGHING: u64 = 4_000_000;
/// Weighings, at most: each is one more thing to look at wherever bars are chosen.
const MOST_WEIGHINGS: usize = 24;
/// Stocks with a price, at most: the choice of bars goes as many calls deep.
const MOST_PRICED: usize = 60;
/// Of the dearest bar's cost, the part that is first spent beyond the least; then twice as much,
/// and so on.
const FIRST_STEP: u128 = 64;
/// Choices of bars without a better plan after which the search goes on from fractions of any bars.
const FIRST_IN_VAIN: u64 = 8;
/// Choices of bars without a better plan after which the choice ends.
const LAST_IN_VAIN: u64 = 20;
/// Share of the bars in fractions that a dive decides on at once.
const STRIDES: [f64; 2] = [0.2, 0.05];
/// How much chance may change the order of the columns when bars are chosen a second time.
const CHANCE: f64 = 0.2;

/// The choice of bars, going on.
struct Buying<'s, 'i> {
    search: &'s mut Search<'i>,
    /// The relaxation with all the bars that there are.
    root: &'s Relaxed,
    weighings: Vec<Weighing>,
    covering: Covering,
    /// Choices of bars so far: each has a chance of its own.
    choices: u64,
}

/// Whether bars have several prices, and not so many that they cannot be chosen from.
pub(super) fn is_choice(instance: &Instance) -> bool {
    let stocks = instance.stocks();
    let priced = stocks.iter().filter(|stock| stock.cost > 0).count();
    priced <= MOST_PRICED && stocks.iter().any(|stock| stock.cost != stocks[0].cost)
}

/// Looks for a plan where bars have several prices, and hands back the proof of its bound. The
/// search's columns may be of a stock of its own from then on.
pub(super) fn buy(search: &mut Search, material: Weighing, root: &Relaxed) -> Certificate {
    let instance = search.instance;
    let by_price = lightened(instance, root.bound.weighing(), WEIGHING, &mut search.work);
    let weighings = vec![material, by_price];
    let covering = Covering::new(instance, &weighings);
    let mut buying = Buying { search, root, weighings, covering, choices: 0 };
    buying.raise_bound();
    buying.search_on(FIRST_IN_VAIN);
    for stride in STRIDES {
        if !buying.search.is_over() {
            buying.search.dive(root, Manner { stride, chance: 0.0, end: End::Bound, seed: 0 }, 0);
        }
    }
    mend(buying.search, root, 0);
    buying.search_on(LAST_IN_VAIN);
    mend(buying.search, root, 1);
    Certificate { cost: buying.search.at_least, weighings: buying.weighings }
}

impl Buying<'_, '_> {
    /// Chooses bars for the least there can be, then for more and more beyond it, and from the
    /// least again whenever that was as much as the best plan costs.
    fn search_on(&mut self, most_in_vain: u64) {
        let instance = self.search.instance;
        let unit = u128::from(instance.common_cost()).max(1);
        let dearest = instance.stocks().iter().map(|stock| stock.cost).max().unwrap_or(0);
        let first_step = (u128::from(dearest) / FIRST_STEP).next_multiple_of(unit).max(unit);
        let (mut beyond, mut step, mut in_vain) = (0, first_step, 0);
        while !self.search.is_over() && in_vain < most_in_vain {
            let before = self.search.rank.cost;
            let most = self.search.at_least + beyond;
            let affordable = most < before;
            let bars = if affordable { self.find(Aim::Roomiest, most).ok().flatten() } else { None };
            if let Some(weighing) = bars.and_then(|bars| self.cut(&bars, most)) {
                self.weighings.push(weighing);
                self.covering = Covering::new(instance, &self.weighings);
                self.raise_bound();
            } else if self.search.rank.cost < before {
                (beyond, step, in_vain) = (0, first_step, 0);
            } else {
                (beyond, step) = if affordable { (beyond + step, 2 * step) } else { (0, first_step) };
                in_vain += 1;
            }
            self.choices += 1;
        }
    }

    /// The cheapest bars cost no more than any plan; where none are cheaper than the best plan, it
    /// is proven.
    fn raise_bound(&mut self) {
        let best = self.search.rank.cost;
        if let Ok(least) = self.find(Aim::Cheapest, best.saturating_sub(1)) {
            let cost = least.map_or(best, |bars| bars.cost);
            self.search.at_least = self.search.at_least.max(cost);
        }
    }

    fn find(&mut self, aim: Aim, most: u128) -> Result<Option<Bars>, Unfinished> {
        let mut portion = self.search.work.portion(COVERING);
        let bars = self.covering.find(aim, most, &mut portion);
        self.search.work.give_back(portion);
        bars
    }

    /// Looks for a plan that cuts these bars and costs at most so much; if the bars are too few,
    /// hands back the weighing that says so.
    fn cut(&mut self, bars: &Bars, most: u128) -> Option<Weighing> {
        let seed = self.choices;
        let search = &mut *self.search;
        let instance = search.instance;
        let beyond = longest_without_end(instance);
        let bought = of_these_bars(instance, bars, beyond);
        let mut among = Search::new(&bought, most, std::mem::replace(&mut search.work, Work(0)));
        std::mem::swap(&mut among.pool, &mut search.pool);
        among.rank.cost = search.rank.cost;
        let chance = if seed == 0 { 0.0 } else { CHANCE };
        among.dive(self.root, Manner { stride: STRIDES[0], chance, end: End::Bound, seed }, 0);
        let mut too_few = None;
        if !among.is_over() {
            let likely: Vec<u32> = self.root.bars.iter().map(|(column, _)| *column).collect();
            let whole = bought.whole();
            let relaxed =
                relax(&bought, &whole, &mut among.pool, &likely, u128::MAX, End::Bound, &mut among.work);
            if relaxed.bound.cost > bars.cost && self.weighings.len() < MOST_WEIGHINGS {
                too_few = weighing_against(instance, bars, &relaxed, &mut among.work);
            }
            for stride in STRIDES.into_iter().filter(|_| relaxed.bound.cost <= most) {
                if !among.is_over() {
                    among.dive(&relaxed, Manner { stride, chance, end: End::Bound, seed }, 0);
                }
            }
        }
        std::mem::swap(&mut among.pool, &mut search.pool);
        search.work = among.work;
        let mut cuts = among.best;
        for cut in cuts.iter_mut().filter(|cut| cut.stock == bars.counts.len()) {
            cut.stock = beyond;
        }
        search.offer(cuts);
        too_few
    }
}

/// The weighing by which these bars are too few, if the prices of the relaxation are one.
fn weighing_against(
    instance: &Instance,
    bars: &Bars,
    relaxed: &Relaxed,
    work: &mut Work,
) -> Option<Weighing> {
    let Weighing { weights, most } = relaxed.bound.weighing();
    // The relaxation does not look at what is not bought.
    let known = most.iter().zip(&bars.counts);
    let most = known.map(|(most, count)| if *count > 0 { *most } else { u64::MAX }).collect();
    let weighing = lightened(instance, Weighing { weights, most }, WEIGHING, work);
    let product = |(each, count): (&u64, u64)| u128::from(*each) * u128::from(count);
    let demands = instance.items().iter().map(|item| item.demand);
    let needed: u128 = weighing.weights.iter().zip(demands).map(product).sum();
    let held: u128 = weighing.most.iter().zip(bars.counts.iter().copied()).map(product).sum();
    (held < needed).then_some(weighing)
}

/// The same pieces, but of these bars; what they do not hold is cut from dearer ones of the stock
/// `beyond`.
fn of_these_bars(instance: &Instance, bars: &Bars, beyond: usize) -> Instance {
    let bought = instance.stocks().iter().zip(&bars.counts);
    let limited = |(stock, count): (&Stock, &u64)| Stock {
        limit: if stock.is_free_without_end() { None } else { Some(*count) },
        ..*stock
    };
    let mut stocks: Vec<Stock> = bought.map(limited).collect();
    let beyond = instance.stocks()[beyond];
    let dearer = (beyond.cost + beyond.cost / 2).next_multiple_of(instance.common_cost().max(1));
    stocks.push(Stock { cost: dearer, ..beyond });
    instance.with_stocks(stocks)
}

fn longest_without_end(instance: &Instance) -> usize {
    let stocks = instance.stocks().iter().enumerate().filter(|(_, stock)| stock.limit.is_none());
    stocks.max_by_key(|(_, stock)| stock.capacity).map_or(0, |(position, _)| position)
}
