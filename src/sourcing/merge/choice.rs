//! Which of some offers to take, so that each of some needs is served at the least cost in all: a
//! covering or location problem, solved by branch and bound.
//!
//! The bound is Lagrange's: each need pays a price of its own, an offer is worth what its needs pay above
//! what serving them costs, and the prices follow the needs that are served not at all or more than once
//! (Held, Wolfe and Crowder, Validation of subgradient optimization, Mathematical Programming 6, 1974;
//! Beasley, Lagrangean heuristics for location problems, European Journal of Operational Research 65,
//! 1993). Any prices give a valid bound, and all of it is in whole numbers, so that what is proven is.
//! What an offer would add to the bound shuts out those that can be in nothing better.
//!
//! The search ends with the work that it may do, counted in pairs of offer and need looked at; what it
//! has found by then stands, with the least bound of all that is left open.

/// Prices are this many times finer than costs.
const FINER: i64 = 1 << 12;
/// Costs up to which sums of so much finer prices fit in a number.
const MOST_FINE: i64 = 1 << 46;
/// Times that the prices follow the needs: at first, and at each later branch.
const FIRST_ROUNDS: usize = 400;
const LATER_ROUNDS: usize = 60;
/// Rounds without a better bound after which the prices move half as far, out of which the first moves
/// are `START` / `WHOLE` of the gap.
const PATIENCE: usize = 12;
const START: i128 = 256;
const WHOLE: i128 = 128;

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

/// What prices come to.
struct Bound {
    value: i64,
    /// For each offer what it is worth taking, below zero if it is.
    worth: Vec<i64>,
    /// Offers that the bound takes.
    chosen: Vec<usize>,
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
        for offer in 0..self.offers.len() {
            if shut[offer] || self.offers[offer].len() < missing {
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

    /// The best bound that the prices come to, which are left in their place, and shuts what cannot be in
    /// anything better; `None` once the work is used up.
    fn bounded(
        &mut self,
        taken: &[usize],
        shut: &mut [bool],
        served: &[i64],
        prices: &mut Vec<i64>,
        (left, rounds): (usize, usize),
    ) -> Option<Bound> {
        let mut is_taken = vec![false; self.offers.len()];
        for &offer in taken {
            is_taken[offer] = true;
        }
        let fixed = self.taking * i64::try_from(taken.len()).unwrap_or(0);
        let lowest = |need: usize, shut: &[bool]| {
            let open = self.takers[need].iter().filter(|(offer, _)| !shut[*offer]).map(|&(_, cost)| cost);
            open.min().unwrap_or(i64::MAX).min(served[need])
        };
        let floors: Vec<i64> = (0..served.len()).map(|need| lowest(need, shut)).collect();
        if floors.contains(&i64::MAX) {
            // Nothing serves one of them any more.
            return Some(Bound { value: i64::MAX, worth: vec![0; self.offers.len()], chosen: Vec::new() });
        }
        let pairs: usize =
            (0..self.offers.len()).filter(|&offer| !shut[offer]).map(|offer| self.offers[offer].len()).sum();
        let mut best: Option<(Bound, Vec<i64>)> = None;
        let (mut pace, mut waited) = (START, 0);
        for _ in 0..rounds {
            if !self.spend(pairs + served.len()) {
                return None;
            }
            for (price, (&floor, &most)) in prices.iter_mut().zip(floors.iter().zip(served)) {
                *price = (*price).max(floor).min(most);
            }
            let bound = self.bound(shut, &is_taken, prices, fixed, left);
            let value = bound.value;
            let chosen = bound.chosen.clone();
            if best.as_ref().is_none_or(|(least, _)| value > least.value) {
                waited = 0;
                self.completed(taken, &bound, shut, left);
                best = Some((bound, prices.clone()));
            } else {
                waited += 1;
                if waited >= PATIENCE {
                    (pace, waited) = (pace / 2, 0);
                    if let Some((_, at_best)) = &best {
                        prices.clone_from(at_best);
                    }
                }
            }
            let reached = best.as_ref().map_or(value, |(bound, _)| bound.value);
            if self.whole(reached) >= self.best || pace == 0 {
                break;
            }
            // How many offers serve each need beyond the one that should.
            let mut over = vec![-1_i64; served.len()];
            for &(need, cost) in chosen.iter().flat_map(|&offer| &self.offers[offer]) {
                over[need] += i64::from(cost < prices[need]);
            }
            for (need, over) in over.iter_mut().enumerate() {
                let is_at_end = match *over {
                    ..0 => prices[need] >= served[need],
                    0 => true,
                    1.. => prices[need] <= floors[need],
                };
                if is_at_end {
                    *over = 0;
                }
            }
            let norm: i128 = over.iter().map(|&over| i128::from(over) * i128::from(over)).sum();
            if norm == 0 {
                break;
            }
            let gap = i128::from(self.best.saturating_sub(value).max(self.finer));
            for (price, over) in prices.iter_mut().zip(over) {
                let change = gap * pace * i128::from(-over) / (norm * WHOLE);
                *price = price.saturating_add(i64::try_from(change).unwrap_or(0));
            }
        }
        let (bound, at_best) = best?;
        *prices = at_best;
        self.shut_out(&bound, shut, &is_taken, left);
        Some(bound)
    }

    fn bound(&self, shut: &[bool], is_taken: &[bool], prices: &[i64], fixed: i64, left: usize) -> Bound {
        let mut worth = vec![0_i64; self.offers.len()];
        let mut chosen = Vec::new();
        for (offer, served) in self.offers.iter().enumerate() {
            if shut[offer] || is_taken[offer] {
                continue;
            }
            let paid = served.iter().map(|&(need, cost)| (cost - prices[need]).min(0));
            worth[offer] = paid.fold(self.taking, i64::saturating_add);
            if worth[offer] < 0 {
                chosen.push(offer);
            }
        }
        if chosen.len() > left {
            chosen.select_nth_unstable_by_key(left, |&offer| (worth[offer], offer));
            chosen.truncate(left);
        }
        let paid = prices.iter().fold(fixed, |sum, &price| sum.saturating_add(price));
        let value = chosen.iter().fold(paid, |sum, &offer| sum.saturating_add(worth[offer]));
        Bound { value, worth, chosen }
    }

    /// Makes a whole choice of the offers that a bound takes: adds for each need that is not served the offer
    /// worth most, then leaves out what costs more than it saves.
    fn completed(&mut self, taken: &[usize], bound: &Bound, shut: &[bool], left: usize) {
        let mut chosen = [taken, &bound.chosen].concat();
        chosen.sort_unstable();
        let mut served = self.served(&chosen, self.takers.len());
        for need in 0..served.len() {
            if served[need] < i64::MAX {
                continue;
            }
            let open = self.takers[need].iter().filter(|(offer, _)| !shut[*offer]);
            let Some(&(offer, _)) = open.min_by_key(|&&(offer, cost)| (bound.worth[offer], cost, offer))
            else {
                return;
            };
            chosen.push(offer);
            for &(need, cost) in &self.offers[offer] {
                served[need] = served[need].min(cost);
            }
        }
        self.spend(chosen.iter().map(|&offer| self.offers[offer].len()).sum());
        self.without_needless(&mut chosen);
        if chosen.len() <= taken.len() + left {
            self.consider(&chosen);
        }
    }

    /// Leaves out, those first that are worth the least, each offer without which the rest costs no more.
    fn without_needless(&self, chosen: &mut Vec<usize>) {
        // The two lowest costs of each need, and whose the lowest is.
        let lowest = |chosen: &[usize]| {
            let mut lowest = vec![(i64::MAX, usize::MAX, i64::MAX); self.takers.len()];
            for &offer in chosen {
                for &(need, cost) in &self.offers[offer] {
                    let (first, whose, second) = &mut lowest[need];
                    if cost < *first {
                        (*first, *whose, *second) = (cost, offer, *first);
                    } else {
                        *second = (*second).min(cost);
                    }
                }
            }
            lowest
        };
        loop {
            let lowest = lowest(chosen);
            let loss = |offer: usize| {
                let own = self.offers[offer].iter().filter(|&&(need, _)| lowest[need].1 == offer);
                own.fold(0_i64, |sum, &(need, cost)| sum.saturating_add(lowest[need].2.saturating_sub(cost)))
            };
            let least = chosen.iter().enumerate().map(|(at, &offer)| (loss(offer), at)).min();
            match least {
                Some((loss, at)) if loss < self.taking.max(1) => chosen.remove(at),
                _ => return,
            };
        }
    }

    /// Shuts every offer with which the bound would reach the best choice known.
    fn shut_out(&self, bound: &Bound, shut: &mut [bool], is_taken: &[bool], left: usize) {
        // With as many as may be taken, one more pushes the least worthy out.
        let pushed = match bound.chosen.len() < left {
            true => 0,
            false => bound.chosen.iter().map(|&offer| bound.worth[offer]).max().unwrap_or(0),
        };
        let mut chosen = vec![false; self.offers.len()];
        for &offer in &bound.chosen {
            chosen[offer] = true;
        }
        for offer in 0..self.offers.len() {
            let with = bound.value.saturating_add(bound.worth[offer].saturating_sub(pushed));
            if !chosen[offer] && !is_taken[offer] && self.whole(with) >= self.best {
                shut[offer] = true;
            }
        }
    }
}
