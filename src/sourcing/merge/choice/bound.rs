//! The least that a choice can cost, by Lagrange's relaxation: each need pays a price of its own, an offer is
//! worth what its needs pay above what serving them costs, and the prices follow the needs that are served not
//! at all or more than once (Held, Wolfe and Crowder, Validation of subgradient optimization, Mathematical
//! Programming 6, 1974; Beasley, Lagrangean heuristics for location problems, European Journal of Operational
//! Research 65, 1993). Any prices give a valid bound, and all of it is in whole numbers, so that what is proven
//! is.

use super::Search;

/// Rounds without a better bound after which the prices move half as far, out of which the first moves
/// are `START` / `WHOLE` of the gap.
const PATIENCE: usize = 12;
const START: i128 = 256;
const WHOLE: i128 = 128;

/// What prices come to.
pub(super) struct Bound {
    pub(super) value: i64,
    /// For each offer what it is worth taking, below zero if it is.
    pub(super) worth: Vec<i64>,
    /// Offers that the bound takes.
    pub(super) chosen: Vec<usize>,
}

impl Search<'_> {
    /// The best bound that the prices come to, which are left in their place, and shuts what cannot be in
    /// anything better; `None` if the work does not last for any.
    pub(super) fn bounded(
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
                break;
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
