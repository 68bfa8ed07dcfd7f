//! Items to stock, as few and as cheap as can be found. Knows only sizes, quantities and costs.
//!
//! The search is a heuristic of sequential value correction (Mukhacheva; Belov and Scheithauer,
//! INFORMS Journal on Computing 19, 2007; from memory): bars are filled one pattern after another
//! with what is worth most, and an item that ended up on wasteful bars is worth more the next time
//! round. First-fit decreasing is among the plans it starts from, so it is never worse.

use std::collections::BTreeMap;

use super::bound::Bound;
use super::fill::{Allowance, Counts, Filling, fill};
use super::instance::{Instance, Item, Stock};

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

/// A plan: every piece once, at least as good as first-fit decreasing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Solution {
    /// The patterns, no two alike.
    pub cuts: Vec<Cut>,
}

/// How good a plan is; less is better, first things first. An offcut counts a token, so that one
/// is not cut up for nothing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Rank {
    cost: u128,
    bars: u64,
    offcuts: u64,
    patterns: usize,
}

/// Steps of the whole search, over all rounds.
const SEARCH_STEPS: u64 = 12_000_000;
/// Steps for the filling of one bar: fewer where there are many lengths, as these fill a bar easily.
const FILLING_STEPS: std::ops::RangeInclusive<u64> = 2_000..=20_000;
/// Rounds for which the steps must suffice.
const ROUNDS_TO_AFFORD: u64 = 8;
/// Rounds of value correction, at most.
const MOST_ROUNDS: usize = 150;
/// Rounds that are made even if the bound is met before, for the sake of fewer patterns.
const LEAST_ROUNDS: usize = 6;
/// What a unit of size is worth at first: fine enough for the corrections.
const WORTH: u64 = 1_024;
/// Into how many lots a pattern's bars are split, round by round: one lot gives few patterns,
/// several leave more choice to the patterns that follow.
const LOTS: [u64; 5] = [1, 2, 1, 4, 3];

/// Finds a plan, and stops early where it meets the bound.
pub fn solve(instance: &Instance, bound: &Bound) -> Solution {
    let patterns = instance.items().len() as u64 + 10;
    let filling_steps =
        (SEARCH_STEPS / ROUNDS_TO_AFFORD / patterns).clamp(*FILLING_STEPS.start(), *FILLING_STEPS.end());
    let mut search = Search { instance, best: None, allowance: Allowance(SEARCH_STEPS), filling_steps };
    for stock in 0..instance.stocks().len() {
        search.first_fit_decreasing(stock);
    }
    let mut values: Vec<u64> = instance.items().iter().map(|item| item.size.saturating_mul(WORTH)).collect();
    for round in 0..MOST_ROUNDS {
        let met = search.best.as_ref().is_some_and(|(rank, _)| meets(rank, bound));
        if search.allowance.0 == 0 && search.best.is_some() || met && round >= LEAST_ROUNDS {
            break;
        }
        search.round(&mut values, LOTS[round % LOTS.len()]);
    }
    Solution { cuts: search.best.map(|(_, cuts)| cuts).unwrap_or_default() }
}

fn meets(rank: &Rank, bound: &Bound) -> bool {
    match bound.bars {
        Some(bars) => rank.bars <= bars,
        None => rank.cost <= bound.cost && rank.offcuts == 0,
    }
}

struct Search<'i> {
    instance: &'i Instance,
    best: Option<(Rank, Vec<Cut>)>,
    allowance: Allowance,
    filling_steps: u64,
}

/// A stock with the filling chosen for it.
struct Choice {
    stock: usize,
    filling: Filling,
}

impl Search<'_> {
    /// Every bar of one bought stock, largest pieces first: the plan that anyone would make by hand.
    fn first_fit_decreasing(&mut self, stock: usize) {
        let kind = self.instance.stocks()[stock];
        if kind.cost().is_none() || self.instance.items().iter().any(|item| item.size > kind.capacity) {
            return;
        }
        let mut left = self.instance.demands();
        let mut cuts = Vec::new();
        while left.iter().any(|count| *count > 0) {
            let mut room = kind.capacity;
            let mut counts = Counts::new();
            for (item, most) in left.iter().enumerate().filter(|(_, most)| **most > 0) {
                let size = self.instance.items()[item].size;
                let count = (room / size).min(*most);
                if count > 0 {
                    counts.push((item, count));
                    room -= count * size;
                }
            }
            let bars = repeats(&counts, &left);
            take(&counts, bars, &mut left);
            cuts.push(Cut { stock, bars, counts });
        }
        self.offer(cuts);
    }

    /// One plan by the values as they stand; the values learn from it.
    fn round(&mut self, values: &mut [u64], lots: u64) {
        let sizes = self.instance.sizes();
        let mut left = self.instance.demands();
        let mut on_hand: Vec<u64> = self.instance.stocks().iter().map(Stock::limit).collect();
        let mut cuts = Vec::new();
        while left.iter().any(|count| *count > 0) {
            let Some(choice) = self.choose(&sizes, values, &left, &on_hand) else {
                return;
            };
            let counts = choice.filling.counts;
            let bars = repeats(&counts, &left).div_ceil(lots).min(on_hand[choice.stock]);
            take(&counts, bars, &mut left);
            on_hand[choice.stock] -= bars;
            let cut = Cut { stock: choice.stock, bars, counts };
            self.learn(&cut, &left, values);
            cuts.push(cut);
        }
        self.offer(cuts);
    }

    /// The stock whose best filling is worth most for its cost; an offcut before any bar.
    fn choose(&mut self, sizes: &[u64], values: &[u64], left: &[u64], on_hand: &[u64]) -> Option<Choice> {
        let mut best: Option<Choice> = None;
        for stock in (0..self.instance.stocks().len()).filter(|stock| on_hand[*stock] > 0) {
            let mut portion = self.allowance.portion(self.filling_steps);
            let filling = fill(sizes, values, left, self.instance.stocks()[stock].capacity, &mut portion);
            self.allowance.give_back(portion);
            let choice = Choice { stock, filling };
            let better = best.as_ref().is_none_or(|best| self.is_better(&choice, best));
            if !choice.filling.counts.is_empty() && better {
                best = Some(choice);
            }
        }
        best
    }

    fn is_better(&self, new: &Choice, old: &Choice) -> bool {
        let (new_stock, old_stock) = (self.instance.stocks()[new.stock], self.instance.stocks()[old.stock]);
        let (new_per, old_per) = match (new_stock.cost(), old_stock.cost()) {
            (None, Some(_)) => return true,
            (Some(_), None) => return false,
            (None, None) => (new_stock.capacity, old_stock.capacity),
            (Some(new_cost), Some(old_cost)) => (new_cost.max(1), old_cost.max(1)),
        };
        // Compared crosswise, new.value / new_per > old.value / old_per; values are far below 2^64.
        new.filling.value.saturating_mul(u128::from(old_per))
            > old.filling.value.saturating_mul(u128::from(new_per))
    }

    /// Moves the value of each item on these bars towards what it cost there: its share of the bar,
    /// waste included, and a little more for large items, which are the hard ones to place.
    fn learn(&self, cut: &Cut, left: &[u64], values: &mut [u64]) {
        let stock = self.instance.stocks()[cut.stock];
        let Some(cost) = stock.cost() else {
            return;
        };
        let Some((ideal_capacity, ideal_cost)) = self.cheapest_by_capacity() else {
            return;
        };
        let used: u64 =
            cut.counts.iter().map(|&(item, count)| self.instance.items()[item].size * count).sum();
        let dearness = (u128::from(cost.max(1)) * u128::from(ideal_capacity) * u128::from(WORTH)
            / u128::from(used.max(1))
            / u128::from(ideal_cost))
        .min(u128::from(4 * WORTH));
        let capacity = u128::from(stock.capacity);
        for &(item, count) in &cut.counts {
            let Item { size, demand } = self.instance.items()[item];
            let paid = u128::from(size) * dearness * (20 * capacity + u128::from(size)) / (20 * capacity);
            let now = u128::from(count * cut.bars);
            let before = u128::from(demand + left[item]) * 5 / 4 + 1;
            let value = (u128::from(values[item]) * before + paid * now) / (before + now);
            values[item] = u64::try_from(value).unwrap_or(u64::MAX).max(1);
        }
    }

    /// Capacity and cost of the bought stock that holds most for its cost.
    fn cheapest_by_capacity(&self) -> Option<(u64, u64)> {
        let bought =
            self.instance.stocks().iter().filter_map(|stock| Some((stock.capacity, stock.cost()?.max(1))));
        bought.reduce(|best, next| {
            let dearer = u128::from(next.1) * u128::from(best.0) >= u128::from(best.1) * u128::from(next.0);
            if dearer { best } else { next }
        })
    }

    /// Keeps a plan if it is better than the best so far.
    fn offer(&mut self, cuts: Vec<Cut>) {
        let cuts = self.tidy(cuts);
        let rank = self.rank(&cuts);
        if self.best.as_ref().is_none_or(|(best, _)| rank < *best) {
            self.best = Some((rank, cuts));
        }
    }

    /// The cheapest bar that holds each filling, and like patterns taken together.
    fn tidy(&self, cuts: Vec<Cut>) -> Vec<Cut> {
        let mut alike: BTreeMap<(usize, Counts), u64> = BTreeMap::new();
        for cut in cuts {
            *alike.entry((self.cheapest_that_holds(&cut), cut.counts)).or_default() += cut.bars;
        }
        alike.into_iter().map(|((stock, counts), bars)| Cut { stock, bars, counts }).collect()
    }

    fn cheapest_that_holds(&self, cut: &Cut) -> usize {
        if self.instance.stocks()[cut.stock].cost().is_none() {
            return cut.stock;
        }
        let used: u64 =
            cut.counts.iter().map(|&(item, count)| self.instance.items()[item].size * count).sum();
        let holding = self.instance.stocks().iter().enumerate().filter(|(_, stock)| stock.capacity >= used);
        holding
            .filter_map(|(position, stock)| Some((stock.cost()?, stock.capacity, position)))
            .min()
            .map_or(cut.stock, |(_, _, position)| position)
    }

    fn rank(&self, cuts: &[Cut]) -> Rank {
        let mut rank = Rank { cost: 0, bars: 0, offcuts: 0, patterns: cuts.len() };
        for cut in cuts {
            match self.instance.stocks()[cut.stock].cost() {
                Some(cost) => {
                    rank.bars += cut.bars;
                    rank.cost += u128::from(cost) * u128::from(cut.bars);
                }
                None => rank.offcuts += cut.bars,
            }
        }
        rank
    }
}

/// How many bars can be cut alike before a piece runs out.
fn repeats(counts: &Counts, left: &[u64]) -> u64 {
    counts.iter().map(|&(item, count)| left[item] / count).min().unwrap_or(0)
}

fn take(counts: &Counts, bars: u64, left: &mut [u64]) {
    for &(item, count) in counts {
        left[item] -= count * bars;
    }
}
