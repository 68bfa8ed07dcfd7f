//! Every opening that takes blinds, and what would take an offer.

use std::collections::{BTreeMap, HashMap};

use super::offers::Offer;
use super::sort::Sort;
use super::windows::{Alike, MOST_COMPARED, Windows, off};
use super::{AlsoFits, Fit, MOST_LISTED};
use crate::earlier::{KeptBlind, KeptIndex};
use crate::fitting::Blind;
use crate::frozen::Frozen;
use crate::length::Length;
use crate::order::OrderLine;
use crate::query::OpeningIndex;
use crate::sizing::Size;
use crate::survey::{Identity, Survey};

/// Every opening that takes blinds.
pub(super) struct Takers<'s> {
    blinds: &'s [Option<Blind<'s>>],
    sorts: BTreeMap<Sort<'s>, Windows>,
    units: Places<'s>,
    floors: Places<'s>,
    frozen: &'s Frozen<'s>,
    /// The openings that get another blind in the place of a remembered one. Looked up only.
    homes: HashMap<KeptIndex, OpeningIndex>,
}

/// Names of places, numbered. Looked up only, never walked.
struct Places<'s> {
    known: HashMap<(&'s str, &'s str), usize>,
    /// The place of each opening.
    of: Vec<usize>,
}

impl<'s> Places<'s> {
    fn of(survey: &'s Survey, name: impl Fn(&'s Identity) -> (&'s str, &'s str)) -> Places<'s> {
        let mut known = HashMap::new();
        let mut number = |who| {
            let next = known.len();
            *known.entry(name(who)).or_insert(next)
        };
        let of = survey.openings.iter().map(|opening| number(&opening.who)).collect();
        Places { known, of }
    }
}

/// How good a fit is, the best one first: whether the opening's blinds are all ordered, whether it is in
/// another unit and on another floor, how far the size is off, and its place in the survey.
type Rank = (bool, bool, bool, Length, OpeningIndex);

impl<'s> Takers<'s> {
    /// Those of a survey; `blinds` has one place for each of its openings.
    pub(super) fn of(
        survey: &'s Survey,
        blinds: &'s [Option<Blind<'s>>],
        frozen: &'s Frozen<'s>,
    ) -> Takers<'s> {
        let mut sorts: BTreeMap<Sort<'s>, BTreeMap<[Size; 3], Alike>> = BTreeMap::new();
        let mut homes = HashMap::new();
        for (opening, blind) in blinds.iter().enumerate() {
            homes.extend(frozen.again(opening).iter().map(|&kept| (kept, opening)));
            let Some((sort, blind)) = blind.as_ref().and_then(|blind| Some((Sort::of_blind(blind)?, blind)))
            else {
                continue;
            };
            let window = blind.sizing.window;
            let key = [window.least(), window.most(), window.preferred()];
            let alike = sorts.entry(sort).or_default().entry(key);
            let alike = alike.or_insert_with(|| Alike::of(window));
            let has_ordered = has_ordered(survey, frozen, opening);
            if has_ordered { &mut alike.ordered } else { &mut alike.open }.push(opening);
        }
        let sorts = sorts.into_iter();
        Takers {
            blinds,
            sorts: sorts.map(|(sort, alike)| (sort, Windows::of(alike.into_values().collect()))).collect(),
            units: Places::of(survey, |who| (&who.building, &who.unit)),
            floors: Places::of(survey, |who| (&who.building, &who.floor)),
            frozen,
            homes,
        }
    }

    /// What would take the blinds of an offer; `None` where nothing would.
    pub(super) fn find(&self, offer: Offer<'_>) -> Option<AlsoFits> {
        let Offer { place, line, numbers, state, loose } = offer;
        let size = line.key.size;
        let sort = Sort::of_line(&line.key)?;
        let (mut taking, is_every_window) = self.sorts.get(&sort)?.taking(size);
        let own = self.own(line, loose);
        let is_own = |opening: &OpeningIndex| own.binary_search(opening).is_ok();
        taking.sort_by_key(|alike| off(alike.window, size));
        let each = |of: fn(&Alike) -> &Vec<OpeningIndex>| {
            let openings =
                taking.iter().flat_map(move |alike| of(alike).iter().map(move |&each| (each, alike)));
            openings.filter(|(opening, _)| !is_own(opening))
        };
        let near = self.near(line, loose);
        let rank = |has_ordered: bool, (opening, alike): (OpeningIndex, &&Alike)| -> Rank {
            let is_far =
                |places: &Places<'_>, near: &[usize]| near.binary_search(&places.of[opening]).is_err();
            let (other_unit, other_floor) = (is_far(&self.units, &near[0]), is_far(&self.floors, &near[1]));
            (has_ordered, other_unit, other_floor, off(alike.window, size), opening)
        };
        let open = each(|alike| &alike.open).map(|found| rank(false, found));
        let found = open.chain(each(|alike| &alike.ordered).map(|found| rank(true, found)));
        let mut ranks: Vec<Rank> = found.take(MOST_COMPARED).collect();
        let own_too: usize = taking.iter().map(|alike| alike.count()).sum();
        let own_of_these = own.iter().filter(|&&opening| self.takes(opening, sort, size)).count();
        let count = own_too.saturating_sub(own_of_these).max(ranks.len());
        let is_all = is_every_window && count == ranks.len();
        if ranks.len() > MOST_LISTED {
            ranks.select_nth_unstable(MOST_LISTED);
            ranks.truncate(MOST_LISTED);
        }
        ranks.sort_unstable();
        let fits: Vec<Fit> = ranks.into_iter().filter_map(|rank| self.fit(rank, size)).collect();
        (!fits.is_empty()).then_some(AlsoFits { place, numbers, state, fits, count: count as u64, is_all })
    }

    /// Whether an opening takes a blind of that sort and size.
    fn takes(&self, opening: OpeningIndex, sort: Sort<'_>, size: Size) -> bool {
        self.blinds[opening].as_ref().is_some_and(|blind| {
            Sort::of_blind(blind).is_some_and(|own| own == sort) && blind.sizing.window.takes(size)
        })
    }

    fn fit(&self, (has_ordered, .., opening): Rank, size: Size) -> Option<Fit> {
        let wanted = self.blinds[opening].as_ref()?.sizing.window.preferred();
        let (wider, longer) = (size.width - wanted.width, size.drop - wanted.drop);
        Some(Fit { opening, has_ordered, wider, longer })
    }

    /// The openings that are left out, in order: those of its line, or the one that it was made for and
    /// that gets another.
    fn own(&self, line: &OrderLine, loose: Option<KeptIndex>) -> Vec<OpeningIndex> {
        let mut own = match loose {
            Some(kept) => self.homes.get(&kept).copied().into_iter().collect(),
            None => line.openings(),
        };
        own.sort_unstable();
        own.dedup();
        own
    }

    /// The units and the floors that the blinds are for, or were, by number and in order.
    fn near(&self, line: &OrderLine, loose: Option<KeptIndex>) -> [Vec<usize>; 2] {
        let kept = loose.map(|kept| &self.frozen.blinds()[kept]);
        let near = |places: &Places<'_>, name: fn(&KeptBlind) -> (&str, &str)| {
            let mut near: Vec<usize> = match kept {
                Some(kept) => places.known.get(&name(kept)).copied().into_iter().collect(),
                None => line.openings().into_iter().map(|opening| places.of[opening]).collect(),
            };
            near.sort_unstable();
            near.dedup();
            near
        };
        [
            near(&self.units, |kept| (&kept.building, &kept.unit)),
            near(&self.floors, |kept| (&kept.building, &kept.floor)),
        ]
    }
}

/// Whether all blinds of an opening are ordered.
fn has_ordered(survey: &Survey, frozen: &Frozen<'_>, opening: OpeningIndex) -> bool {
    frozen.serving(opening).len() as u64 >= u64::from(survey.openings[opening].who.quantity)
}
