//! The fewest units that show every case together: a set cover, by branch and bound. Of equal covers the one
//! with the fewest blinds to fit is taken, then the one whose units come first in the survey.
//!
//! A unit that alone shows some case is in every cover, so it is taken first, and what it shows is done with;
//! of units that show the same, one is enough. What is left is most often nothing. Else the case that the
//! fewest units show is settled by each of them in turn; no cover of what is open has fewer units than there
//! are cases of which no unit shows two. All looks are counted, never timed; where they do not suffice, the
//! best cover so far is not proven.

use std::cmp::Reverse;
use std::collections::{BTreeMap, BinaryHeap};

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

/// Looks at cases and units, at most: some tenths of a second.
const MOST_WORK: u64 = 20_000_000;

/// Covers that many cases, each of which some candidate shows.
pub(super) fn smallest(cases: usize, candidates: &[Candidate]) -> Cover {
    let mut units = Vec::new();
    let mut left = different(candidates.iter().enumerate().map(|(place, candidate)| {
        let mut shows = candidate.shows.clone();
        shows.sort_unstable();
        (shows, (candidate.blinds, place))
    }));
    loop {
        let mut showing = vec![0_u32; cases];
        left.iter().flat_map(|unit| &unit.shows).for_each(|case| showing[*case] += 1);
        let is_alone = |unit: &Unit| unit.shows.iter().any(|case| showing[*case] == 1);
        let (alone, others): (Vec<Unit>, Vec<Unit>) = left.into_iter().partition(is_alone);
        if alone.is_empty() {
            left = others;
            break;
        }
        let mut is_shown = vec![false; cases];
        alone.iter().flat_map(|unit| &unit.shows).for_each(|case| is_shown[*case] = true);
        units.extend(alone.iter().map(|unit| unit.worth.1));
        left = different(
            others
                .into_iter()
                .map(|unit| (unit.shows.into_iter().filter(|case| !is_shown[*case]).collect(), unit.worth)),
        );
    }
    let mut search = Search::of(left);
    search.best = search.greedy();
    if search.work <= MOST_WORK {
        let open = Set::all(search.showing.len());
        search.go_on(&open, &mut Vec::new(), 0);
    }
    let Search { best, work, .. } = search;
    units.extend(best.map_or_else(Vec::new, |best| best.2));
    units.sort_unstable();
    Cover { units, proven: work <= MOST_WORK }
}

/// A unit that may be in the cover: what it shows, in order, and its blinds and place.
struct Unit {
    shows: Vec<usize>,
    worth: (u64, usize),
}

/// Units that show something, of those that show the same the best.
fn different(units: impl Iterator<Item = (Vec<usize>, (u64, usize))>) -> Vec<Unit> {
    let mut best: BTreeMap<Vec<usize>, (u64, usize)> = BTreeMap::new();
    for (shows, worth) in units.filter(|(shows, _)| !shows.is_empty()) {
        let known = best.entry(shows).or_insert(worth);
        *known = (*known).min(worth);
    }
    best.into_iter().map(|(shows, worth)| Unit { shows, worth }).collect()
}

/// A set of cases that are open.
#[derive(Clone)]
struct Set(Vec<u64>);

impl Set {
    fn none(cases: usize) -> Set {
        Set(vec![0; cases.div_ceil(64)])
    }

    fn all(cases: usize) -> Set {
        let mut all = Set::none(cases);
        (0..cases).for_each(|case| all.0[case / 64] |= 1 << (case % 64));
        all
    }

    fn has(&self, case: usize) -> bool {
        self.0[case / 64] >> (case % 64) & 1 == 1
    }

    fn take_out(&mut self, cases: &[usize]) {
        cases.iter().for_each(|case| self.0[case / 64] &= !(1 << (case % 64)));
    }

    fn shared(&self, cases: &[usize]) -> usize {
        cases.iter().filter(|case| self.has(**case)).count()
    }

    fn is_empty(&self) -> bool {
        self.0.iter().all(|own| *own == 0)
    }

    fn cases(&self) -> impl Iterator<Item = usize> + '_ {
        let words = self.0.iter().enumerate().filter(|(_, own)| **own != 0);
        words.flat_map(|(word, own)| {
            (0..64).filter(move |bit| own >> bit & 1 == 1).map(move |bit| word * 64 + bit)
        })
    }
}

/// What makes one cover better than another: less is better.
type Worth = (usize, u64, Vec<usize>);

struct Search {
    units: Vec<Unit>,
    /// The units that show each case that is open.
    showing: Vec<Vec<usize>>,
    /// Whether all covers with a unit are seen already.
    is_seen: Vec<bool>,
    fewest_blinds: u64,
    best: Option<Worth>,
    work: u64,
}

impl Search {
    /// The search among units that show what is still open; the open cases are numbered anew.
    fn of(mut units: Vec<Unit>) -> Search {
        let mut numbers: Vec<usize> = units.iter().flat_map(|unit| unit.shows.iter().copied()).collect();
        numbers.sort_unstable();
        numbers.dedup();
        let mut showing = vec![Vec::new(); numbers.len()];
        for (place, unit) in units.iter_mut().enumerate() {
            for case in &mut unit.shows {
                *case = numbers.binary_search(case).unwrap_or_default();
                showing[*case].push(place);
            }
        }
        Search {
            is_seen: vec![false; units.len()],
            fewest_blinds: units.iter().map(|unit| unit.worth.0).min().unwrap_or(0),
            units,
            showing,
            best: None,
            work: 0,
        }
    }

    /// One unit after another, each that shows the most of what is still open. What a unit shows of it only
    /// gets less, so it is counted anew when its turn comes.
    fn greedy(&mut self) -> Option<Worth> {
        let mut open = Set::all(self.showing.len());
        let key = |unit: &Unit, shows: usize| (shows, Reverse(unit.worth));
        let mut next: BinaryHeap<_> =
            self.units.iter().enumerate().map(|(place, unit)| (key(unit, unit.shows.len()), place)).collect();
        let mut chosen = Vec::new();
        while !open.is_empty() {
            let ((shown, _), place) = next.pop()?;
            let unit = &self.units[place];
            let shows = open.shared(&unit.shows);
            self.work += (unit.shows.len() + open.0.len()) as u64;
            if shows < shown {
                next.push((key(unit, shows), place));
                continue;
            }
            open.take_out(&unit.shows);
            chosen.push(place);
        }
        Some(self.worth(&chosen))
    }

    fn worth(&self, chosen: &[usize]) -> Worth {
        let mut places: Vec<usize> = chosen.iter().map(|&unit| self.units[unit].worth.1).collect();
        places.sort_unstable();
        (chosen.len(), chosen.iter().map(|&unit| self.units[unit].worth.0).sum(), places)
    }

    /// Units that what is open needs at the least: cases of which no unit shows two, those that the fewest
    /// units show first.
    fn at_least(&mut self, open: &Set) -> usize {
        let mut cases: Vec<usize> = open.cases().collect();
        cases.sort_by_key(|case| self.showing[*case].len());
        let mut left = open.clone();
        let mut count = 0;
        for case in cases {
            self.work += 1;
            if !left.has(case) {
                continue;
            }
            count += 1;
            for &unit in &self.showing[case] {
                left.take_out(&self.units[unit].shows);
                self.work += self.units[unit].shows.len() as u64;
            }
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
        let more_blinds = self.fewest_blinds.saturating_mul(more as u64);
        let bound = (chosen.len() + more, blinds.saturating_add(more_blinds));
        if self.work > MOST_WORK || self.best.as_ref().is_some_and(|best| bound > (best.0, best.1)) {
            return;
        }
        let not_seen = |case: &usize| self.showing[*case].iter().filter(|unit| !self.is_seen[**unit]).count();
        let Some(case) = open.cases().min_by_key(not_seen) else { return };
        let looks: usize = open.cases().map(|case| self.showing[case].len()).sum();
        self.work += looks as u64;
        let mut units: Vec<usize> =
            self.showing[case].iter().copied().filter(|unit| !self.is_seen[*unit]).collect();
        units.sort_by_key(|unit| (Reverse(open.shared(&self.units[*unit].shows)), self.units[*unit].worth));
        for &unit in &units {
            chosen.push(unit);
            let mut left = open.clone();
            left.take_out(&self.units[unit].shows);
            self.go_on(&left, chosen, blinds + self.units[unit].worth.0);
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
    fn a_type_for_each_unit_takes_no_search() {
        let candidates: Vec<Candidate> =
            (0..100_000).map(|unit| Candidate { shows: vec![unit, 100_000 + unit % 2], blinds: 1 }).collect();
        let cover = smallest(100_002, &candidates);
        assert_eq!((cover.units.len(), cover.proven), (100_000, true));
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
