//! Which of some offers to take, so that each of some needs is served at the least cost in all: a
//! covering or location problem, solved by branch and bound.
//!
//! A bound (`bound`) shuts out what cannot be in anything better, and is made into a whole choice at times
//! (`whole`). The search ends with the work that it may do, counted in pairs of offer and need looked at; what
//! it has found by then stands, with the least bound of all that is left open.

mod bound;
mod whole;

/// Prices are this many times finer than costs.
const FINER: i64 = 1 << 12;
/// Costs up to which sums of so much finer prices fit in a number.
const MOST_FINE: i64 = 1 << 46;
/// Times that the prices follow the needs: at first, and at each later branch.
const FIRST_ROUNDS: usize = 400;
const LATER_ROUNDS: usize = 60;

/// What an offer costs for a need that it serves.
#[derive(Clone, Copy, Debug)]
pub(super) struct Serves {
    pub(super) need: usize,
    pub(super) cost: i64,
}

/// Offers, of which some are taken.
pub(super) struct Choice {
    /// How many needs there are.
    pub(super) needs: usize,
    /// What each offer serves, by need; costs are not below zero.
    pub(super) offers: Vec<Vec<Serves>>,
    /// What taking an offer costs.
    pub(super) taking: i64,
    /// Offers that may be taken at most.
    pub(super) most: usize,
}

/// What was found.
pub(super) struct Found {
    /// Positions of offers that cost less than what was known before; `None` if none were found.
    pub(super) better: Option<Vec<usize>>,
    /// Nothing costs less.
    pub(super) at_least: i64,
}

impl Choice {
    /// Looks for offers that cost less than `known`, which some choice does cost, for as long as there is
    /// `work`, of which it takes away what it did.
    pub(super) fn solve(&self, known: i64, work: &mut u64) -> Found {
        let costs = || self.offers.iter().flatten().map(|serves| serves.cost);
        let grain = costs().fold(self.taking, gcd).max(1);
        let dearest = costs().max().unwrap_or(0);
        let needs = i64::try_from(self.needs).unwrap_or(i64::MAX);
        let all = needs.saturating_mul(dearest.saturating_add(self.taking)) / grain;
        let finer = if all.max(known / grain) < MOST_FINE { FINER } else { 1 };
        let mut takers = vec![Vec::new(); self.needs];
        for (offer, served) in self.offers.iter().enumerate() {
            for serves in served {
                if let Some(takers) = takers.get_mut(serves.need) {
                    takers.push((offer, serves.cost / grain * finer));
                }
            }
        }
        let scaled = |serves: &Serves| (serves.need, serves.cost / grain * finer);
        let offers = self.offers.iter().map(|served| served.iter().map(scaled).collect()).collect();
        let mut search = Search {
            offers,
            takers,
            taking: self.taking / grain * finer,
            finer,
            // What is known may be of other offers than these, and no whole number of grains.
            best: (known.saturating_add(grain - 1) / grain).saturating_mul(finer),
            better: None,
            open: i64::MAX,
            work,
        };
        let least: Vec<i64> = search
            .takers
            .iter()
            .map(|takers| takers.iter().map(|&(_, cost)| cost).min().unwrap_or(0))
            .collect();
        let taking = search.taking / needs.max(1);
        let prices = least.iter().map(|&cost| cost + taking).collect();
        let shut = vec![false; self.offers.len()];
        search.visit(&mut Vec::new(), shut, prices, self.most, 0, FIRST_ROUNDS);
        let at_least = search.best.min(search.whole(search.open)) / finer * grain;
        Found { better: search.better, at_least: at_least.min(known) }
    }
}

fn gcd(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { gcd(b, a % b) }
}

struct Search<'w> {
    offers: Vec<Vec<(usize, i64)>>,
    takers: Vec<Vec<(usize, i64)>>,
    taking: i64,
    finer: i64,
    /// What the best choice known costs.
    best: i64,
    better: Option<Vec<usize>>,
    /// The least bound of what the work did not last for.
    open: i64,
    work: &'w mut u64,
}

impl Search<'_> {
    /// A bound rounded up to what a choice may cost.
    fn whole(&self, bound: i64) -> i64 {
        bound.saturating_add(self.finer - 1).div_euclid(self.finer).saturating_mul(self.finer)
    }

    fn spend(&mut self, pairs: usize) -> bool {
        let pairs = u64::try_from(pairs).unwrap_or(u64::MAX);
        *self.work = self.work.saturating_sub(pairs);
        *self.work > 0
    }

    /// What each need costs with the offers taken; `i64::MAX` where none serves it.
    fn served(&self, taken: &[usize], needs: usize) -> Vec<i64> {
        let mut served = vec![i64::MAX; needs];
        for &(need, cost) in taken.iter().flat_map(|&offer| &self.offers[offer]) {
            served[need] = served[need].min(cost);
        }
        served
    }

    /// Keeps offers as the best choice if they serve every need and cost less.
    fn consider(&mut self, taken: &[usize]) {
        let served = self.served(taken, self.takers.len());
        let taking = self.taking.saturating_mul(i64::try_from(taken.len()).unwrap_or(i64::MAX));
        let cost = served.iter().fold(taking, |sum, &cost| sum.saturating_add(cost));
        if cost < self.best {
            self.best = cost;
            self.better = Some(taken.to_vec());
        }
    }

    /// Looks through all choices that have the offers taken and none of those that are shut; `least` is a
    /// bound of them.
    fn visit(
        &mut self,
        taken: &mut Vec<usize>,
        mut shut: Vec<bool>,
        mut prices: Vec<i64>,
        most: usize,
        least: i64,
        rounds: usize,
    ) {
        self.consider(taken);
        if self.whole(least) >= self.best || taken.len() >= most {
            return;
        }
        let served = self.served(taken, self.takers.len());
        let left = most - taken.len();
        if left == 1 {
            return self.finish(taken, &shut, &served, least);
        }
        let Some(bound) = self.bounded(taken, &mut shut, &served, &mut prices, (left, rounds)) else {
            self.open = self.open.min(least);
            return;
        };
        let least = least.max(bound.value);
        if self.whole(least) >= self.best {
            return;
        }
        if *self.work == 0 {
            self.open = self.open.min(least);
            return;
        }
        let is_open = |&&(offer, _): &&(usize, i64)| !shut[offer] && !taken.contains(&offer);
        let unserved = (0..served.len()).filter(|&need| served[need] == i64::MAX);
        let choices = unserved.map(|need| (self.takers[need].iter().filter(is_open).count(), need)).min();
        let mut branches: Vec<usize> = match choices {
            Some((_, need)) => self.takers[need].iter().filter(is_open).map(|&(offer, _)| offer).collect(),
            // All are served: what is left is to take any other that pays.
            None => (0..self.offers.len()).filter(|&offer| !shut[offer] && !taken.contains(&offer)).collect(),
        };
        branches.sort_by_key(|&offer| (bound.worth[offer], offer));
        for offer in branches {
            taken.push(offer);
            shut[offer] = true;
            let mut within = shut.clone();
            within[offer] = false;
            self.visit(taken, within, prices.clone(), most, least, LATER_ROUNDS);
            taken.pop();
        }
    }

    /// The last offer that may be taken: each is tried.
    fn finish(&mut self, taken: &mut Vec<usize>, shut: &[bool], served: &[i64], least: i64) {
        let base = self.taking * i64::try_from(taken.len() + 1).unwrap_or(0);
        let (mut missing, mut sum) = (0_usize, base);
        for &cost in served {
            if cost == i64::MAX { missing += 1 } else { sum += cost }
        }
        let mut best = None;
        for (offer, is_shut) in shut.iter().enumerate() {
            if *is_shut || self.offers[offer].len() < missing {
                continue;
            }
            if !self.spend(self.offers[offer].len()) {
                self.open = self.open.min(least);
                break;
            }
            let (mut reached, mut cost) = (0, sum);
            for &(need, own) in &self.offers[offer] {
                match served[need] {
                    i64::MAX => (reached, cost) = (reached + 1, cost + own),
                    other => cost += (own - other).min(0),
                }
            }
            if reached == missing && best.is_none_or(|(least, _)| cost < least) {
                best = Some((cost, offer));
            }
        }
        if let Some((_, offer)) = best {
            taken.push(offer);
            self.consider(taken);
            taken.pop();
        }
    }
}
