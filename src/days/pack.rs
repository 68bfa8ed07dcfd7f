//! How visits are laid into the days of a crew, floor by floor.
//!
//! Visits come in an order of floors that is given; within a floor they may change places. A visit that
//! does not fit into the rest of a day goes whole to the next day with room for it, and no later visit goes
//! back before it. One that is longer than a day begins a day and takes what the following days have.
//!
//! Of two ways to lay a floor the one that ends on an earlier day, or with less of that day used, is never
//! worse for what follows: so the best end of each floor, one after another, takes the fewest days that
//! this order of floors can. On floors of up to [`MOST_EXACT`] visits every order of them is looked at, by
//! the sets of visits laid so far; a larger floor is tried in survey order and longest first, which may
//! take a day more. Where no order is better, that of the survey stays.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

/// Visits of a floor up to which every order is looked at: 1,024 sets of ten.
pub const MOST_EXACT: usize = 10;

/// Days that a phase may take: about a hundred years.
pub const MOST_DAYS: usize = 36_525;

/// How far the days are filled: a day, from 0, and the minutes of it that are used. Earlier is less.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Filled {
    /// The day.
    pub day: usize,
    /// Minutes of it that are used.
    pub used: Decimal,
}

/// Where a visit goes: its first and its last day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Slot {
    /// The first day, from 0.
    pub first: usize,
    /// The last.
    pub last: usize,
}

/// The days of a crew.
#[derive(Clone, Copy, Debug)]
pub struct Crew<'t> {
    /// Minutes of work that a day has; above 0.
    pub minutes: Decimal,
    /// Minutes of days that are used already.
    pub taken: &'t BTreeMap<usize, Decimal>,
}

impl Crew<'_> {
    fn taken(self, day: usize) -> Decimal {
        self.taken.get(&day).copied().unwrap_or_default()
    }

    /// A day of which nothing but what is taken is used.
    pub fn begin(self, day: usize) -> Filled {
        Filled { day, used: self.taken(day) }
    }

    /// The first day of which other people have used nothing.
    pub fn begin_after(self, others: Filled) -> Filled {
        self.begin(others.day + usize::from(others.used > Decimal::ZERO))
    }

    /// Lays one visit; `None` past [`MOST_DAYS`].
    pub fn lay(self, filled: Filled, minutes: Decimal) -> Option<(Slot, Filled)> {
        let mut at = filled;
        if minutes <= self.minutes {
            while at.used + minutes > self.minutes {
                at = self.begin(at.day + 1);
                if at.day >= MOST_DAYS {
                    return None;
                }
            }
            let slot = Slot { first: at.day, last: at.day };
            return Some((slot, Filled { used: at.used + minutes, ..at }));
        }
        if at.used > Decimal::ZERO {
            at = self.begin(at.day + 1);
        }
        // Days of so little work that they do not suffice are not counted one by one.
        let days = Decimal::from(MOST_DAYS.saturating_sub(at.day));
        if minutes.checked_div(self.minutes).is_none_or(|fewest| fewest > days) {
            return None;
        }
        let (first, mut rest) = (at.day, minutes);
        loop {
            let free = (self.minutes - at.used).max(Decimal::ZERO);
            if rest <= free {
                return Some((Slot { first, last: at.day }, Filled { used: at.used + rest, ..at }));
            }
            rest -= free;
            at = self.begin(at.day + 1);
            if at.day >= MOST_DAYS {
                return None;
            }
        }
    }

    /// Lays visits one after another; `None` past [`MOST_DAYS`].
    fn lay_all(self, filled: Filled, minutes: &[Decimal], order: &[usize]) -> Option<Filled> {
        order.iter().try_fold(filled, |filled, &visit| Some(self.lay(filled, minutes[visit])?.1))
    }

    /// The order in which to lay the visits of a floor.
    pub fn arrange(self, filled: Filled, minutes: &[Decimal]) -> Vec<usize> {
        let as_surveyed: Vec<usize> = (0..minutes.len()).collect();
        let end = self.lay_all(filled, minutes, &as_surveyed);
        if minutes.len() < 2 || end.is_some_and(|end| end.day == filled.day) {
            return as_surveyed;
        }
        let other = if minutes.len() <= MOST_EXACT {
            self.best_order(filled, minutes)
        } else {
            let mut longest_first = as_surveyed.clone();
            longest_first.sort_by_key(|&visit| std::cmp::Reverse(minutes[visit]));
            Some(longest_first)
        };
        let Some(other) = other else { return as_surveyed };
        let is_better = match (self.lay_all(filled, minutes, &other), end) {
            (Some(other), Some(end)) => other < end,
            (other, _) => other.is_some(),
        };
        if is_better { other } else { as_surveyed }
    }

    /// The order that ends first, from the best end of every set of visits.
    fn best_order(self, filled: Filled, minutes: &[Decimal]) -> Option<Vec<usize>> {
        let all = (1_usize << minutes.len()) - 1;
        // The end of each set, and the visit that was laid last.
        let mut ends: Vec<Option<(Filled, usize)>> = vec![None; all + 1];
        for set in 1..=all {
            let last = (0..minutes.len()).filter(|last| set & (1 << last) != 0);
            let end = |last: usize| {
                let before = set & !(1 << last);
                let from = if before == 0 { filled } else { ends[before]?.0 };
                Some((self.lay(from, minutes[last])?.1, last))
            };
            ends[set] = last.filter_map(end).min_by_key(|(end, last)| (*end, minutes.len() - last));
        }
        let (mut order, mut set) = (Vec::with_capacity(minutes.len()), all);
        while set != 0 {
            let (_, last) = ends[set]?;
            order.push(last);
            set &= !(1 << last);
        }
        order.reverse();
        Some(order)
    }
}
