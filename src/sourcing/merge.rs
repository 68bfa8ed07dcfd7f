//! Made blinds that share a size: fewer set-ups for the maker, and blinds that can hang in one
//! another's place.
//!
//! Each blind may move within its window, no further than the project allows; the sizes it could
//! have make a rectangle, its room. The fewest sizes that serve every room are looked for, and among so few
//! those to which all blinds together move least; a finite grid of sizes is enough for both (`grid`). Rooms
//! that have nothing in common are looked at apart (`parts`). Rules of thumb begin (`pierce`), and branch
//! and bound goes on from there until nothing can be better, or until its work is used up (`choice`); what
//! is proven is said.

mod choice;
mod grid;
mod parts;
mod pierce;
mod plan;
mod room;
mod thin;

use std::collections::{BTreeMap, BTreeSet};

pub(super) use plan::Plan;
use room::Room;

use super::queries::SourcingQuery;
use super::{Merging, Sourced, Supply};
use crate::frozen::Frozen;
use crate::length::Length;
use crate::query::OpeningIndex;
use crate::sizing::{Size, Sizing};
use crate::survey::Survey;
use crate::worked::Record;

/// Made blinds of one product and phase that may share sizes.
pub(super) struct Group<'r> {
    /// Their product.
    pub(super) product: &'r str,
    /// The sizes that they could have, each with how many blinds could.
    rooms: Vec<(Room, u64)>,
    /// The openings of each room.
    openings: Vec<Vec<OpeningIndex>>,
}

impl Group<'_> {
    /// The fewest sizes, and with so few the least movement.
    pub(super) fn fewest(&self) -> Plan {
        plan::fewest(&self.rooms)
    }

    /// The sizes at which blinds of a `price` and set-ups of sizes cost the least, in minor units; `None` if a
    /// price is not known, or too high to reckon with.
    pub(super) fn cheapest(&self, price: impl Fn(Size) -> Option<i64> + Sync, set_up: i64) -> Option<Plan> {
        plan::cheapest(&self.rooms, price, set_up)
    }

    /// The sizes of a plan, each with how many blinds have it.
    pub(super) fn blinds_of(&self, plan: &Plan) -> BTreeMap<Size, u64> {
        let mut blinds = BTreeMap::new();
        for (size, (_, count)) in plan.sizes.iter().zip(&self.rooms) {
            *blinds.entry(*size).or_default() += count;
        }
        blinds
    }
}

/// What plans do to groups.
pub(super) fn merging(groups: &[Group<'_>], plans: &[Plan]) -> Merging {
    let mut all = Merging { is_least_movement: true, ..Merging::default() };
    for (group, plan) in groups.iter().zip(plans) {
        all.before += group.rooms.iter().map(|(room, _)| room.preferred).collect::<BTreeSet<_>>().len();
        all.after += plan::distinct(&plan.sizes);
        all.at_least += plan.at_least;
        all.movement = all.movement + Length::from_nm(plan::movement(&group.rooms, &plan.sizes));
        all.is_least_movement &= plan.is_best;
    }
    all
}

/// Moves made blinds to the sizes that they share.
pub(super) fn share_sizes<'r>(
    groups: &[Group<'_>],
    sourced: &mut [Option<Sourced<'r>>],
    records: &mut [Record<'r>],
) -> Merging {
    let plans: Vec<Plan> = groups.iter().map(Group::fewest).collect();
    for (group, plan) in groups.iter().zip(&plans) {
        for (((room, _), openings), size) in group.rooms.iter().zip(&group.openings).zip(&plan.sizes) {
            for &opening in openings.iter().filter(|_| room.preferred != *size) {
                if let Some(sourced) = &mut sourced[opening] {
                    sourced.size = *size;
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
    merging(groups, &plans)
}

/// Made blinds by phase and product, each of which may move by at most `furthest` in width and in drop: at
/// 100,000 openings most rooms recur.
pub(super) fn groups<'r>(
    survey: &Survey,
    sizings: &[Option<Sizing<'r>>],
    frozen: &Frozen<'_>,
    furthest: Length,
    sourced: &[Option<Sourced<'r>>],
) -> Vec<Group<'r>> {
    let mut groups: BTreeMap<(&str, &'r str), BTreeMap<Room, Vec<OpeningIndex>>> = BTreeMap::new();
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
    let blinds = |openings: &Vec<OpeningIndex>| {
        openings.iter().map(|&opening| u64::from(survey.openings[opening].who.quantity)).sum()
    };
    let group = |((_, product), rooms): ((&str, &'r str), BTreeMap<Room, Vec<OpeningIndex>>)| Group {
        product,
        rooms: rooms.iter().map(|(room, openings)| (*room, blinds(openings))).collect(),
        openings: rooms.into_values().collect(),
    };
    groups.into_iter().map(group).collect()
}
