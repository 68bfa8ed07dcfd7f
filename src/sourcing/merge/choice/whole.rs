//! A whole choice made of the offers that a bound takes.

use super::Search;
use super::bound::Bound;

impl Search<'_> {
    /// Makes a whole choice of the offers that a bound takes: adds for each need that is not served the offer
    /// worth most, then leaves out what costs more than it saves.
    pub(super) fn completed(&mut self, taken: &[usize], bound: &Bound, shut: &[bool], left: usize) {
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
        self.without_needless(&mut chosen);
        if chosen.len() <= taken.len() + left {
            self.consider(&chosen);
        }
    }

    /// Leaves out, those first that are worth the least, each offer without which the rest costs no more.
    fn without_needless(&mut self, chosen: &mut Vec<usize>) {
        // The two lowest costs of each need, and whose the lowest is.
        let lowest = |search: &Self, chosen: &[usize]| {
            let mut lowest = vec![(i64::MAX, usize::MAX, i64::MAX); search.takers.len()];
            for &offer in chosen {
                for &(need, cost) in &search.offers[offer] {
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
        while self.spend(2 * chosen.iter().map(|&offer| self.offers[offer].len()).sum::<usize>()) {
            let lowest = lowest(self, chosen);
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
}
