//! Made blinds that share a size: fewer set-ups for the maker, and blinds that can hang in one
//! another's place.
//!
//! Each blind may move within its window, no further than the project allows; the sizes it could
//! have make a rectangle. As few sizes as can be found must serve every rectangle: one is chosen
//! after another, each where the rectangle that ends first leaves it and the most others take it;
//! this is tried from all four sides, and then every size moves to where its blinds move least.

mod pierce;
mod room;

use std::collections::{BTreeMap, BTreeSet};

use room::Room;

use super::queries::SourcingQuery;
use super::{Merging, Sourced, Supply};
use crate::frozen::Frozen;
use crate::length::Length;
use crate::query::OpeningIndex;
use crate::sizing::{Size, Sizing};
use crate::survey::Survey;
use crate::worked::Record;

/// Moves made blinds, each by at most `furthest` in width and in drop, so that they share sizes;
/// never across phases.
pub(super) fn share_sizes<'r>(
    survey: &Survey,
    sizings: &[Option<Sizing<'r>>],
    frozen: &Frozen<'_>,
    furthest: Length,
    sourced: &mut [Option<Sourced<'r>>],
    records: &mut [Record<'r>],
) -> Merging {
    let mut merging = Merging::default();
    for rooms in rooms_by_product_and_phase(survey, sizings, frozen, furthest, sourced).into_values() {
        let rooms: Vec<(Room, Vec<OpeningIndex>)> = rooms.into_iter().collect();
        let windows: Vec<(Room, u64)> = rooms
            .iter()
            .map(|(room, openings)| {
                let blinds = openings.iter().map(|&opening| u64::from(survey.openings[opening].who.quantity));
                (*room, blinds.sum())
            })
            .collect();
        let sizes = pierce::fewest_sizes(&windows);
        merging.before += distinct(windows.iter().map(|(room, _)| room.preferred));
        merging.after += distinct(sizes.iter().copied());
        merging.at_least += pierce::at_least(&windows);
        for ((room, openings), size) in
            rooms.iter().zip(sizes).filter(|((room, _), size)| room.preferred != *size)
        {
            for &opening in openings {
                if let Some(sourced) = &mut sourced[opening] {
                    sourced.size = size;
                }
                let record = &mut records[opening];
                let detail = format!(
                    "{} x {} to {} x {}",
                    record.shown(room.preferred.width),
                    record.shown(room.preferred.drop),
                    record.shown(size.width),
                    record.shown(size.drop),
                );
                record.ask(&SourcingQuery::Moved, None, detail);
            }
        }
    }
    merging
}

fn distinct(sizes: impl Iterator<Item = Size>) -> usize {
    sizes.collect::<BTreeSet<_>>().len()
}

/// The openings of each room to move, by room: at 100,000 openings most rooms recur.
type Rooms = BTreeMap<Room, Vec<OpeningIndex>>;

fn rooms_by_product_and_phase<'s, 'r>(
    survey: &'s Survey,
    sizings: &[Option<Sizing<'r>>],
    frozen: &Frozen<'_>,
    furthest: Length,
    sourced: &[Option<Sourced<'r>>],
) -> BTreeMap<(&'s str, &'r str), Rooms> {
    let mut groups: BTreeMap<(&str, &str), Rooms> = BTreeMap::new();
    for (index, (sizing, sourced)) in sizings.iter().zip(sourced).enumerate() {
        let (Some(sizing), Some(Sourced { supply: Supply::Made, size, .. })) = (sizing, sourced) else {
            continue;
        };
        let step = *sizing.product.cover.rounding_step;
        let room = match frozen.as_ordered(index) {
            // What is ordered never moves, and others may move on to it.
            Some(_) => Room::fixed(*size, step),
            None => Room::within(&sizing.window, furthest, step, sizing.hung.mount()),
        };
        let group = (&*survey.openings[index].who.phase, &*sizing.product.name);
        groups.entry(group).or_default().entry(room).or_default().push(index);
    }
    groups
}
