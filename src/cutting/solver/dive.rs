//! From bars in fractions to whole bars: diving (Vance, Computational Optimization and
//! Applications 9, 1998; Belov and Scheithauer, European Journal of Operational Research 171,
//! 2006) with columns generated anew for what is left, and limited discrepancies (Harvey and
//! Ginsberg, 1995; Sadykov and others, INFORMS Journal on Computing 31, 2019).

use super::columns::Pool;
use super::correction::fill_in_turn;
use super::generate::{End, Relaxed, relax};
use super::instance::{Instance, Open};
use super::knapsack::Counts;
use super::master::next_share;
use super::plan::{Cut, Rank, tidied};
use super::work::Work;

/// The best plan so far, and the bound that would end the search.
pub(super) struct Search<'i> {
    pub(super) instance: &'i Instance,
    pub(super) pool: Pool,
    pub(super) best: Vec<Cut>,
    pub(super) rank: Rank,
    /// No plan costs less.
    pub(super) at_least: u128,
    pub(super) work: Work,
}

/// How a dive goes about it.
#[derive(Clone, Copy)]
pub(super) struct Manner {
    /// Of the bars still in fractions, the share that is decided between two relaxations.
    pub(super) stride: f64,
    /// By how much chance may change which bar seems nearest to a whole one.
    pub(super) chance: f64,
    /// When the relaxations on the way end.
    pub(super) end: End,
    pub(super) seed: u64,
}

/// Columns tried in one place, at most.
const MOST_TRIES: usize = 8;

/// Bars decided so far.
#[derive(Clone)]
struct Decided {
    cuts: Vec<Cut>,
    cost: u128,
    open: Open,
}

impl<'i> Search<'i> {
    pub(super) fn new(instance: &'i Instance, at_least: u128, work: Work) -> Search<'i> {
        let worst = Rank { cost: u128::MAX, bars: u64::MAX, offcuts: u64::MAX, patterns: usize::MAX };
        Search { instance, pool: Pool::new(), best: Vec::new(), rank: worst, at_least, work }
    }

    /// Whether the plan is proven to be least, or the work is done.
    pub(super) fn is_over(&self) -> bool {
        self.rank.cost <= self.at_least || self.work.is_spent()
    }

    /// Keeps a plan if it is better than the best so far.
    pub(super) fn offer(&mut self, cuts: Vec<Cut>) {
        let cuts = tidied(self.instance, cuts);
        let rank = Rank::of(self.instance, &cuts);
        if !cuts.is_empty() && rank < self.rank {
            self.rank = rank;
            self.best = cuts;
        }
    }

    /// One dive, and more where it departs from its first choice in up to `discrepancies` places.
    pub(super) fn dive(&mut self, root: &Relaxed, mut manner: Manner, discrepancies: usize) {
        let start = Decided { cuts: Vec::new(), cost: 0, open: self.instance.whole() };
        self.descend(start, root, &mut manner, discrepancies);
    }

    /// Keeps these bars, and dives for the pieces that they leave if a better plan may come of it.
    pub(super) fn cut_rest(
        &mut self,
        kept: &[Cut],
        root: &Relaxed,
        mut manner: Manner,
        discrepancies: usize,
    ) {
        let mut start = Decided { cuts: Vec::new(), cost: 0, open: self.instance.whole() };
        for cut in kept {
            self.decide(&mut start, cut.stock, &cut.counts, cut.bars);
        }
        self.go_on(start, root, &mut manner, discrepancies);
    }

    fn descend(&mut self, mut at: Decided, relaxed: &Relaxed, manner: &mut Manner, discrepancies: usize) {
        let mut candidates: Vec<(f64, u32)> = Vec::new();
        for &(column, bars) in &relaxed.bars {
            let whole = (bars + 1e-6) as u64;
            let counts = self.pool.counts(column);
            if whole > 0 {
                self.decide(&mut at, self.pool.stock(column), &counts, whole);
            }
            let rest = bars - whole as f64;
            if rest > 1e-6 {
                candidates.push((rest + manner.chance * next_share(&mut manner.seed), column));
            }
        }
        self.complete(&at, relaxed);
        candidates.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        let in_fractions: f64 = candidates.iter().map(|(rest, _)| rest).sum();
        let stride = (in_fractions * manner.stride).max(1.0) as usize;
        if candidates.is_empty() {
            // All whole bars, and pieces left over only where numbers were not quite whole.
            return;
        }
        let mut taken = 0;
        for first in 0..candidates.len().min(MOST_TRIES) {
            let mut next = at.clone();
            for &(_, column) in candidates[first..].iter().take(stride) {
                let counts = self.pool.counts(column);
                self.decide(&mut next, self.pool.stock(column), &counts, 1);
            }
            if next.open == at.open {
                continue;
            }
            if next.open.is_done() {
                self.offer(next.cuts);
            } else {
                taken += usize::from(self.go_on(next, relaxed, manner, discrepancies - taken));
            }
            if self.is_over() || taken > discrepancies {
                return;
            }
        }
    }

    /// Relaxes what is left, and dives on if it may still beat the best.
    fn go_on(&mut self, at: Decided, before: &Relaxed, manner: &mut Manner, discrepancies: usize) -> bool {
        let unit = u128::from(self.instance.common_cost()).max(1);
        let Some(hopeless) = self.rank.cost.checked_sub(unit + at.cost) else {
            return false;
        };
        let likely: Vec<u32> = before.bars.iter().map(|(column, _)| *column).collect();
        let relaxed =
            relax(self.instance, &at.open, &mut self.pool, &likely, hopeless, manner.end, &mut self.work);
        let hopeful = relaxed.bound.cost <= hopeless && !self.work.is_spent();
        if hopeful {
            self.descend(at, &relaxed, manner, discrepancies);
        }
        hopeful
    }

    /// Decides on up to `bars` bars, as far as pieces and stock allow.
    fn decide(&self, at: &mut Decided, stock: usize, counts: &Counts, bars: u64) {
        let bars = bars.min(at.open.repeats(stock, counts));
        if bars > 0 {
            at.open.take(stock, counts, bars);
            at.cost += u128::from(self.instance.stocks()[stock].cost) * u128::from(bars);
            at.cuts.push(Cut { stock, bars, counts: counts.clone() });
        }
    }

    /// A whole plan at once from what is decided, filling bars in turn by the relaxation's prices.
    fn complete(&mut self, at: &Decided, relaxed: &Relaxed) {
        let mut values: Vec<u64> = relaxed.bound.weights.iter().map(|weight| (*weight).max(1)).collect();
        let rest = fill_in_turn(self.instance, at.open.clone(), &mut values, 1, 8_000, &mut self.work);
        let mut cuts = at.cuts.clone();
        cuts.extend(rest);
        self.offer(cuts);
    }
}
