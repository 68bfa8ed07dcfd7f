//! A size for each room: as few as will do and then the least movement, or the least cost. What rules of
//! thumb find is where the exact search begins, and what stands where its work does not last.

use std::collections::BTreeSet;

use rayon::prelude::*;

use super::choice::{Choice, Serves};
use super::grid::{Aim, Grid};
use super::parts::parts;
use super::room::Room;
use super::{pierce, thin};
use crate::sizing::Size;

/// Work of each search: so much for each room, and for all of them together at most.
const WORK_A_ROOM: u64 = 400_000;
const MOST_WORK: u64 = 60_000_000;
/// Work for each pair of a room and a size, without which no exact search begins.
const WORK_A_PAIR: u64 = 20;

/// A size for each room, and what is proven of them.
#[derive(Clone, Debug, Default)]
pub(in crate::sourcing) struct Plan {
    /// In the order of the rooms.
    pub(in crate::sourcing) sizes: Vec<Size>,
    /// No plan has fewer sizes.
    pub(in crate::sourcing) at_least: usize,
    /// No plan of so few sizes has less movement, or none at all costs less.
    pub(in crate::sourcing) is_best: bool,
}

fn preferred(rooms: &[(Room, u64)]) -> Vec<Size> {
    rooms.iter().map(|(room, _)| room.preferred).collect()
}

/// How many sizes differ.
pub(super) fn distinct(sizes: &[Size]) -> usize {
    sizes.iter().collect::<BTreeSet<_>>().len()
}

/// How far all blinds move together, in nanometers.
pub(super) fn movement(rooms: &[(Room, u64)], sizes: &[Size]) -> i64 {
    let moved = rooms.iter().zip(sizes).map(|((room, blinds), size)| moved(room, *blinds, *size));
    moved.fold(0, i64::saturating_add)
}

fn moved(room: &Room, blinds: u64, size: Size) -> i64 {
    room.movement(size).nm().saturating_mul(i64::try_from(blinds).unwrap_or(i64::MAX))
}

/// The fewest sizes, and with so few the least movement.
pub(super) fn fewest(rooms: &[(Room, u64)]) -> Plan {
    by_parts(rooms, |rooms, work| {
        let mut sizes = pierce::fewest_sizes(rooms);
        let mut count = distinct(&sizes);
        let mut at_least = pierce::at_least(rooms);
        if at_least < count {
            let searched = Searched::new(rooms, Aim::Fewest, work, |_, _, _| Some(0));
            if let Some(searched) = searched {
                let (found, bound) = searched.solve((1, count), number(count), work);
                at_least = at_least.max(usize::try_from(bound).unwrap_or(0));
                sizes = found.and_then(|found| pierce::shared_out(rooms, found)).unwrap_or(sizes);
                count = distinct(&sizes);
            }
        }
        let known = movement(rooms, &sizes);
        let mut is_best = known == 0;
        if !is_best && let Some(searched) = Searched::new(rooms, Aim::LeastMovement, work, moved_by) {
            let (found, bound) = searched.solve((0, count), known, work);
            sizes = found.and_then(|found| pierce::nearest(rooms, &found)).unwrap_or(sizes);
            is_best = movement(rooms, &sizes) == bound;
        }
        Plan { is_best: is_best && at_least == count, sizes, at_least }
    })
}

fn moved_by(room: &Room, blinds: u64, size: Size) -> Option<i64> {
    Some(moved(room, blinds, size))
}

/// The sizes at which blinds and sizes together cost the least: `price` of one blind of a size and `set_up`
/// of a size, in minor units. `None` if a price is not known, or too high to reckon with.
pub(super) fn cheapest(
    rooms: &[(Room, u64)],
    price: impl Fn(Size) -> Option<i64> + Sync,
    set_up: i64,
) -> Option<Plan> {
    let cost = |room: &Room, blinds: u64, size: Size| {
        debug_assert!(room.takes(size), "only sizes that a blind could have are priced");
        price(size)?.checked_mul(i64::try_from(blinds).ok()?)
    };
    let all_known = rooms.iter().all(|(room, blinds)| cost(room, *blinds, room.preferred).is_some());
    all_known.then(|| {
        by_parts(rooms, |rooms, work| {
            let total = |sizes: &[Size]| {
                let costs = rooms.iter().zip(sizes).map(|((room, blinds), size)| cost(room, *blinds, *size));
                let blinds = costs.fold(0_i64, |sum, cost| sum.saturating_add(cost.unwrap_or(i64::MAX)));
                blinds.saturating_add(set_up.saturating_mul(number(distinct(sizes))))
            };
            let preferred = preferred(rooms);
            let few = pierce::fewest_sizes(rooms);
            let mut sizes = if total(&few) < total(&preferred) { few } else { preferred };
            let known = total(&sizes);
            let mut is_best = false;
            if let Some(searched) = Searched::new(rooms, Aim::LeastCost, work, cost) {
                let (found, bound) = searched.solve((set_up, usize::MAX), known, work);
                sizes = found.and_then(|found| cheapest_of(rooms, &found, cost)).unwrap_or(sizes);
                is_best = total(&sizes) == bound;
            }
            Plan { is_best, at_least: 0, sizes }
        })
    })
}

/// Each room's cheapest of some sizes, the nearest of several; `None` if it takes none.
fn cheapest_of(
    rooms: &[(Room, u64)],
    sizes: &[Size],
    cost: impl Fn(&Room, u64, Size) -> Option<i64>,
) -> Option<Vec<Size>> {
    let of_room = |(room, blinds): &(Room, u64)| {
        let taken = sizes.iter().filter(|size| room.takes(**size));
        taken.min_by_key(|size| (cost(room, *blinds, **size), room.movement(**size), **size)).copied()
    };
    rooms.iter().map(of_room).collect()
}

fn number(count: usize) -> i64 {
    i64::try_from(count).unwrap_or(i64::MAX)
}

/// Settles each part of the rooms by itself, with its share of the work.
fn by_parts(rooms: &[(Room, u64)], settle: impl Fn(&[(Room, u64)], &mut u64) -> Plan + Sync) -> Plan {
    let work_a_room = WORK_A_ROOM.min(MOST_WORK / (rooms.len() as u64).max(1));
    let settled: Vec<(Vec<usize>, Plan)> = parts(rooms)
        .into_par_iter()
        .map(|part| {
            let own: Vec<(Room, u64)> = part.iter().map(|&room| rooms[room]).collect();
            let plan = settle(&own, &mut (work_a_room * own.len() as u64));
            (part, plan)
        })
        .collect();
    let mut whole = Plan { sizes: preferred(rooms), at_least: 0, is_best: true };
    for (part, plan) in settled {
        for (room, size) in part.into_iter().zip(plan.sizes) {
            whole.sizes[room] = size;
        }
        whole.at_least += plan.at_least;
        whole.is_best &= plan.is_best;
    }
    whole
}

/// Sizes of a grid as offers to the rooms.
struct Searched {
    sizes: Vec<Size>,
    offers: Vec<Vec<Serves>>,
    /// What each room costs at the least, which is left out of the offers.
    least: Vec<i64>,
}

impl Searched {
    /// The sizes that an aim needs, with what each costs a room; `None` where there are too many, or where
    /// a cost is not known.
    fn new(
        rooms: &[(Room, u64)],
        aim: Aim,
        work: &mut u64,
        cost: impl Fn(&Room, u64, Size) -> Option<i64>,
    ) -> Option<Searched> {
        let most = usize::try_from(*work / WORK_A_PAIR).unwrap_or(usize::MAX);
        let grid = Grid::of(rooms, aim, most)?;
        let mut offers = Vec::with_capacity(grid.sizes.len());
        let mut least = vec![i64::MAX; rooms.len()];
        for (size, takers) in grid.sizes.iter().zip(&grid.takers) {
            let mut offer = Vec::with_capacity(takers.len());
            for &need in takers {
                let (room, blinds) = rooms[need];
                let cost = cost(&room, blinds, *size)?;
                least[need] = least[need].min(cost);
                offer.push(Serves { need, cost });
            }
            offers.push(offer);
        }
        for serves in offers.iter_mut().flatten() {
            serves.cost -= least[serves.need];
        }
        let keep = thin::worth_keeping(&offers, rooms.len(), &mut (*work / 4));
        let kept = |place: &usize| keep[*place];
        Some(Searched {
            sizes: (0..offers.len()).filter(kept).map(|place| grid.sizes[place]).collect(),
            offers: (0..offers.len()).filter(kept).map(|place| std::mem::take(&mut offers[place])).collect(),
            least,
        })
    }

    /// Sizes that cost less than `known` in all, if there are such, and what none costs less than;
    /// `taking` is what a size costs, and there may be at most `most`.
    fn solve(self, (taking, most): (i64, usize), known: i64, work: &mut u64) -> (Option<Vec<Size>>, i64) {
        let base = self.least.iter().fold(0, |sum: i64, least| sum.saturating_add(*least));
        let choice = Choice { needs: self.least.len(), offers: self.offers, taking, most };
        let found = choice.solve(known.saturating_sub(base), work);
        let sizes = |offers: Vec<usize>| offers.into_iter().map(|offer| self.sizes[offer]).collect();
        (found.better.map(sizes), found.at_least.saturating_add(base))
    }
}
