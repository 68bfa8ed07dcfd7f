//! The fewest units that show every case together: a set cover, by branch and bound. Of equal covers the one
//! with the fewest blinds to fit is taken, then the one whose units come first in the survey.
//!
//! A unit that shows no more than another, with no fewer blinds, is left out before. Then the case that the
//! fewest units show is settled by each of them in turn. No cover of what is left has fewer units than there
//! are cases of which no unit shows two. Work is counted, never timed; where it does not suffice, the best
//! cover so far is not proven.

use std::cmp::Reverse;
use std::collections::BTreeMap;

/// A unit that could be in the cover.
pub(super) struct Candidate {
    /// The cases that it shows, by number.
    pub shows: Vec<usize>,
    /// Blinds that are to be fitted there.
    pub blinds: u64,
}

/// The units that were chosen.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Cover {
    /// Their places among the candidates, in order.
    pub units: Vec<usize>,
    /// Whether no other cover is better.
    pub proven: bool,
}

/// Looks at a candidate, at most: some tenths of a second.
const MOST_WORK: u64 = 4_000_000;

/// Covers that many cases, each of which some candidate shows.
pub(super) fn smallest(cases: usize, candidates: &[Candidate]) -> Cover {
    let mut search = Search::of(cases, candidates);
    search.best = search.greedy();
    let open = Set::all(cases);
    search.go_on(&open, &mut Vec::new(), 0);
    let Search { best, work, .. } = search;
    Cover { units: best.map_or_else(Vec::new, |best| best.2), proven: work <= MOST_WORK }
}

/// A set of cases.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord)]
struct Set(Vec<u64>);

impl Set {
    fn none(cases: usize) -> Set {
        Set(vec![0; cases.div_ceil(64)])
    }

    fn all(cases: usize) -> Set {
        let mut all = Set::none(cases);
        (0..cases).for_each(|case| all.add(case));
        all
    }

    fn add(&mut self, case: usize) {
        self.0[case / 64] |= 1 << (case % 64);
    }

    fn has(&self, case: usize) -> bool {
        self.0[case / 64] >> (case % 64) & 1 == 1
    }

    fn without(&self, other: &Set) -> Set {
        Set(self.0.iter().zip(&other.0).map(|(own, other)| own & !other).collect())
    }

    fn shared(&self, other: &Set) -> u32 {
        self.0.iter().zip(&other.0).map(|(own, other)| (own & other).count_ones()).sum()
    }

    fn is_within(&self, other: &Set) -> bool {
        self.0.iter().zip(&other.0).all(|(own, other)| own & !other == 0)
    }

    fn is_empty(&self) -> bool {
        self.0.iter().all(|own| *own == 0)
    }

    fn cases(&self) -> impl Iterator<Item = usize> + '_ {
        (0..self.0.len() * 64).filter(|case| self.has(*case))
    }
}

/// A candidate that is not left out.
struct Kept {
    place: usize,
    shows: Set,
    blinds: u64,
}

/// What makes one cover better than another: less is better.
type Worth = (usize, u64, Vec<usize>);

struct Search {
    kept: Vec<Kept>,
    /// The kept ones that show each case.
    showing: Vec<Vec<usize>>,
    /// Whether all covers with one of the kept are seen already.
    is_seen: Vec<bool>,
    fewest_blinds: u64,
    best: Option<Worth>,
    work: u64,
}

impl Search {
    fn of(cases: usize, candidates: &[Candidate]) -> Search {
        let mut best_of: BTreeMap<Set, (u64, usize)> = BTreeMap::new();
        for (place, candidate) in candidates.iter().enumerate() {
            let mut shows = Set::none(cases);
            candidate.shows.iter().for_each(|case| shows.add(*case));
            let best = best_of.entry(shows).or_insert((candidate.blinds, place));
            *best = (*best).min((candidate.blinds, place));
        }
        let mut sets: Vec<(Set, (u64, usize))> = best_of.into_iter().collect();
        sets.sort_by_key(|(shows, worth)| (Reverse(shows.cases().count()), *worth));
        let mut kept: Vec<Kept> = Vec::new();
        for (shows, (blinds, place)) in sets {
            let is_needless = shows.is_empty()
                || kept.iter().any(|other| {
                    (other.blinds, other.place) <= (blinds, place) && shows.is_within(&other.shows)
                });
            if !is_needless {
                kept.push(Kept { place, shows, blinds });
            }
        }
        let showing =
            (0..cases).map(|case| (0..kept.len()).filter(|&unit| kept[unit].shows.has(case)).collect());
        Search {
            showing: showing.collect(),
            is_seen: vec![false; kept.len()],
            fewest_blinds: kept.iter().map(|unit| unit.blinds).min().unwrap_or(0),
            kept,
            best: None,
            work: 0,
        }
    }

    /// One unit after another, each that shows the most of what is still open.
    fn greedy(&self) -> Option<Worth> {
        let mut open = self.showing.len();
        let mut left = Set::all(open);
        let mut chosen = Vec::new();
        while open > 0 {
            let key = |unit: &usize| {
                let kept = &self.kept[*unit];
                (Reverse(kept.shows.shared(&left)), kept.blinds, kept.place)
            };
            let next = (0..self.kept.len()).min_by_key(key)?;
            left = left.without(&self.kept[next].shows);
            let still = left.cases().count();
            if still == open {
                return None;
            }
            open = still;
            chosen.push(next);
        }
        Some(self.worth(&chosen))
    }

    fn worth(&self, chosen: &[usize]) -> Worth {
        let mut places: Vec<usize> = chosen.iter().map(|&unit| self.kept[unit].place).collect();
        places.sort_unstable();
        (chosen.len(), chosen.iter().map(|&unit| self.kept[unit].blinds).sum(), places)
    }

    /// Units that what is open needs at the least.
    fn at_least(&mut self, open: &Set) -> usize {
        let mut left = open.clone();
        let mut count = 0;
        while let Some(case) = left.cases().min_by_key(|case| self.showing[*case].len()) {
            count += 1;
            for &unit in &self.showing[case] {
                left = left.without(&self.kept[unit].shows);
            }
            self.work += self.showing[case].len() as u64;
            left.0[case / 64] &= !(1 << (case % 64));
        }
        count
    }

    fn go_on(&mut self, open: &Set, chosen: &mut Vec<usize>, blinds: u64) {
        if open.is_empty() {
            let worth = self.worth(chosen);
            if self.best.as_ref().is_none_or(|best| worth < *best) {
                self.best = Some(worth);
            }
            return;
        }
        let more = self.at_least(open);
        let bound =
            (chosen.len() + more, blinds.saturating_add(self.fewest_blinds.saturating_mul(more as u64)));
        if self.work > MOST_WORK || self.best.as_ref().is_some_and(|best| bound > (best.0, best.1)) {
            return;
        }
        let open_to = |search: &Search, case: usize| -> Vec<usize> {
            search.showing[case].iter().copied().filter(|unit| !search.is_seen[*unit]).collect()
        };
        let Some(case) = open.cases().min_by_key(|case| open_to(self, *case).len()) else { return };
        let mut units = open_to(self, case);
        self.work += units.len() as u64;
        units.sort_by_key(|unit| {
            let kept = &self.kept[*unit];
            (Reverse(kept.shows.shared(open)), kept.blinds, kept.place)
        });
        for &unit in &units {
            chosen.push(unit);
            let left = open.without(&self.kept[unit].shows);
            self.go_on(&left, chosen, blinds + self.kept[unit].blinds);
            chosen.pop();
            self.is_seen[unit] = true;
        }
        units.iter().for_each(|unit| self.is_seen[*unit] = false);
    }
}

#[cfg(test)]
mod tests {
    use super::{Candidate, Cover, smallest};

    /// The best of all covers there are.
    fn of_all(cases: usize, candidates: &[Candidate]) -> Option<Vec<usize>> {
        let covers = (0_u32..1 << candidates.len()).filter_map(|subset| {
            let units: Vec<usize> = (0..candidates.len()).filter(|unit| subset >> unit & 1 == 1).collect();
            let is_shown = |case: usize| units.iter().any(|unit| candidates[*unit].shows.contains(&case));
            let blinds: u64 = units.iter().map(|unit| candidates[*unit].blinds).sum();
            (0..cases).all(is_shown).then_some((units.len(), blinds, units))
        });
        covers.min().map(|(_, _, units)| units)
    }

    #[test]
    fn no_cover_of_a_small_job_is_better() {
        let mut state = 88_172_645_463_325_252_u64;
        // Numbers by chance, the same in every run (G. Marsaglia, Xorshift RNGs, 2003).
        let mut below = |many: u64| {
            state ^= state << 13;
            state ^= state >> 7;
            state ^= state << 17;
            state % many
        };
        for job in 0..600 {
            let (cases, units) = (1 + below(9) as usize, 1 + below(11) as usize);
            let odds = 2 + below(4);
            let candidates: Vec<Candidate> = (0..units)
                .map(|_| Candidate {
                    shows: (0..cases).filter(|_| below(odds) == 0).collect(),
                    blinds: 1 + below(4),
                })
                .collect();
            if let Some(units) = of_all(cases, &candidates) {
                assert_eq!(smallest(cases, &candidates), Cover { units, proven: true }, "job {job}");
            }
        }
    }

    #[test]
    fn ten_thousand_units_of_many_cases_end() {
        let candidates: Vec<Candidate> = (0..10_000_usize)
            .map(|unit| Candidate {
                shows: (0..130).filter(|case| (unit * 7919 + case * case * 31) % 37 == 0).collect(),
                blinds: 1 + unit as u64 % 9,
            })
            .collect();
        let cover = smallest(130, &candidates);
        let is_shown = |case: usize| cover.units.iter().any(|unit| candidates[*unit].shows.contains(&case));
        assert!((0..130).all(is_shown));
    }
}
