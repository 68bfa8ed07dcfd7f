//! Rules of thumb for the fewest sizes that serve every room, and a bound from rooms that cannot share.
//!
//! One size is chosen after another, each where the room that ends first leaves it and the most others take
//! it; this is tried from all four sides, and then every size moves to where its blinds move least.

use std::collections::{BTreeMap, BTreeSet};

use rayon::prelude::*;

use super::room::Room;
use crate::length::Length;
use crate::sizing::Size;

/// Times that blinds are shared out again among sizes that have moved, at most.
const MOST_SETTLINGS: usize = 8;

/// A size for each room, few of them distinct; `rooms` come with the number of blinds in each. The
/// preferred sizes themselves unless others are fewer.
pub(super) fn fewest_sizes(rooms: &[(Room, u64)]) -> Vec<Size> {
    let preferred: Vec<Size> = rooms.iter().map(|(room, _)| room.preferred).collect();
    let as_preferred = Plan { count: count(&preferred), movement: 0, sizes: preferred };
    let swept: Vec<Option<Plan>> =
        Side::ALL.par_iter().map(|side| settled(rooms, sweep(rooms, *side))).collect();
    swept
        .into_iter()
        .flatten()
        .fold(as_preferred, |best, plan| {
            if (plan.count, plan.movement) < (best.count, best.movement) { plan } else { best }
        })
        .sizes
}

/// A size for each room, how many of them are distinct and how far all blinds move together.
struct Plan {
    count: usize,
    movement: i128,
    sizes: Vec<Size>,
}

fn count(sizes: &[Size]) -> usize {
    sizes.iter().collect::<BTreeSet<_>>().len()
}

/// A side from which rooms are served.
#[derive(Clone, Copy)]
enum Side {
    Narrow,
    Wide,
    Short,
    Long,
}

impl Side {
    const ALL: [Side; 4] = [Side::Narrow, Side::Wide, Side::Short, Side::Long];

    /// The far end of a room as seen from this side, and its near end; the rooms whose far end comes
    /// first have the least choice. The signs make every side count upwards.
    fn ends(self, room: &Room) -> (Length, Length) {
        match self {
            Side::Narrow => (room.most.width, room.least.width),
            Side::Wide => (-room.least.width, -room.most.width),
            Side::Short => (room.most.drop, room.least.drop),
            Side::Long => (-room.least.drop, -room.most.drop),
        }
    }

    /// The ends along the other dimension, and the preferred length there.
    fn across(self, room: &Room) -> [Length; 3] {
        match self {
            Side::Narrow | Side::Wide => room.drops(),
            Side::Short | Side::Long => room.widths(),
        }
    }

    /// The size at a distance from this side and at a length across.
    fn size(self, along: Length, across: Length) -> Size {
        match self {
            Side::Narrow => Size { width: along, drop: across },
            Side::Wide => Size { width: -along, drop: across },
            Side::Short => Size { width: across, drop: along },
            Side::Long => Size { width: across, drop: -along },
        }
    }
}

/// Sizes that serve every room: the room whose far end comes first is served next, at that end or a
/// step before it, where the most other rooms take the size too.
fn sweep(rooms: &[(Room, u64)], side: Side) -> Vec<Size> {
    let mut by_far_end: Vec<&Room> = rooms.iter().map(|(room, _)| room).collect();
    by_far_end.sort_by_key(|room| (side.ends(room), **room));
    let lengths = by_far_end.iter().map(|room| side.ends(room)).map(|(far, near)| far - near);
    let longest = lengths.fold(Length::ZERO, Length::max);
    let mut served = vec![false; by_far_end.len()];
    let mut sizes = Vec::new();
    for first in 0..by_far_end.len() {
        if served[first] {
            continue;
        }
        let room = by_far_end[first];
        let (far, near) = side.ends(room);
        // Rooms that begin beyond this end cannot share it, and none is longer than the longest.
        let rivals: Vec<usize> = (first..by_far_end.len())
            .take_while(|&rival| side.ends(by_far_end[rival]).0 <= far + longest)
            .filter(|&rival| !served[rival] && !room.is_apart_from(by_far_end[rival]))
            .collect();
        let lengths_across: BTreeSet<Length> =
            rivals.iter().flat_map(|&rival| side.across(by_far_end[rival])).collect();
        let mut best: Option<(usize, Size)> = None;
        for along in [far, far - room.step()].into_iter().filter(|along| *along >= near) {
            for &across in &lengths_across {
                let size = side.size(along, across);
                if room.takes(size) {
                    let takers = rivals.iter().filter(|&&rival| by_far_end[rival].takes(size)).count();
                    if best.is_none_or(|(most, _)| takers > most) {
                        best = Some((takers, size));
                    }
                }
            }
        }
        // Its own preferred size always serves a room, whatever the corners of its window refuse.
        let size = best.map_or(room.preferred, |(_, size)| size);
        for &rival in rivals.iter().filter(|&&rival| by_far_end[rival].takes(size)) {
            served[rival] = true;
        }
        sizes.push(size);
    }
    sizes
}

/// The sizes, moved to where the rooms that share them move least, room by room; `None` if a room takes
/// none of them.
pub(super) fn shared_out(rooms: &[(Room, u64)], sizes: Vec<Size>) -> Option<Vec<Size>> {
    settled(rooms, sizes).map(|plan| plan.sizes)
}

/// Shares the rooms out among the sizes, each to the nearest it takes, drops sizes that nobody needs
/// and moves the others to where their blinds move least, until nothing changes. `None` if a room
/// takes none of the sizes.
fn settled(rooms: &[(Room, u64)], mut sizes: Vec<Size>) -> Option<Plan> {
    drop_needless(rooms, &mut sizes);
    let mut chosen = nearest(rooms, &sizes)?;
    for _ in 0..MOST_SETTLINGS {
        let moved = recentered(rooms, &chosen);
        let again = nearest(rooms, &moved)?;
        if again == chosen {
            break;
        }
        chosen = again;
    }
    let movement =
        rooms.iter().zip(&chosen).map(|((room, blinds), size)| weighted(room.movement(*size), *blinds));
    Some(Plan { count: count(&chosen), movement: movement.sum(), sizes: chosen })
}

fn weighted(length: Length, blinds: u64) -> i128 {
    i128::from(length.nm()) * i128::from(blinds)
}

/// Sizes by width, so that a room looks only at those it could take.
fn by_width(sizes: &[Size]) -> BTreeMap<Length, BTreeSet<Length>> {
    let mut widths: BTreeMap<Length, BTreeSet<Length>> = BTreeMap::new();
    for size in sizes {
        widths.entry(size.width).or_default().insert(size.drop);
    }
    widths
}

fn taken<'s>(
    room: &'s Room,
    widths: &'s BTreeMap<Length, BTreeSet<Length>>,
) -> impl Iterator<Item = Size> + 's {
    widths
        .range(room.least.width..=room.most.width)
        .flat_map(|(width, drops)| {
            let drops = drops.range(room.least.drop..=room.most.drop);
            drops.map(|drop| Size { width: *width, drop: *drop })
        })
        .filter(|size| room.takes(*size))
}

/// Each room's nearest of some sizes; `None` if a room takes none of them.
pub(super) fn nearest(rooms: &[(Room, u64)], sizes: &[Size]) -> Option<Vec<Size>> {
    let widths = by_width(sizes);
    rooms
        .iter()
        .map(|(room, _)| taken(room, &widths).min_by_key(|size| (room.movement(*size), *size)))
        .collect()
}

/// Leaves out every size whose rooms all take another one, the least used first.
fn drop_needless(rooms: &[(Room, u64)], sizes: &mut Vec<Size>) {
    let widths = by_width(sizes);
    let mut takers: BTreeMap<Size, Vec<usize>> = BTreeMap::new();
    let mut choices = vec![0_usize; rooms.len()];
    for (position, (room, _)) in rooms.iter().enumerate() {
        for size in taken(room, &widths) {
            takers.entry(size).or_default().push(position);
            choices[position] += 1;
        }
    }
    let mut by_use: Vec<(&Size, &Vec<usize>)> = takers.iter().collect();
    by_use.sort_by_key(|(size, rooms)| (rooms.len(), **size));
    let mut needless = BTreeSet::new();
    for (size, rooms) in by_use {
        if rooms.iter().all(|&room| choices[room] > 1) {
            needless.insert(*size);
            for &room in rooms {
                choices[room] -= 1;
            }
        }
    }
    sizes.retain(|size| !needless.contains(size));
}

/// Moves each size to the middle of its blinds' preferred sizes, as far as all of its rooms take it.
fn recentered(rooms: &[(Room, u64)], chosen: &[Size]) -> Vec<Size> {
    let mut by_size: BTreeMap<Size, Vec<&(Room, u64)>> = BTreeMap::new();
    for (room, size) in rooms.iter().zip(chosen) {
        by_size.entry(*size).or_default().push(room);
    }
    let recentered = by_size.into_iter().map(|(size, rooms)| {
        let width = middle(&rooms, Room::widths);
        let drop = middle(&rooms, Room::drops);
        let moves = [Size { width, drop }, Size { width, ..size }, Size { drop, ..size }, size];
        let takes = |size: &Size| rooms.iter().all(|(room, _)| room.takes(*size));
        let movement = |size: &Size| -> i128 {
            rooms.iter().map(|(room, blinds)| weighted(room.movement(*size), *blinds)).sum()
        };
        moves.into_iter().filter(takes).min_by_key(movement).unwrap_or(size)
    });
    recentered.collect()
}

/// The length nearest to all preferred ones together: their middle one, counted by blinds, kept
/// within what every room takes.
fn middle(rooms: &[&(Room, u64)], lengths: impl Fn(&Room) -> [Length; 3]) -> Length {
    let mut preferred: Vec<(Length, u64)> =
        rooms.iter().map(|(room, blinds)| (lengths(room)[1], *blinds)).collect();
    preferred.sort_unstable();
    let all: u64 = preferred.iter().map(|(_, blinds)| blinds).sum();
    let mut passed = 0;
    let middle = preferred.iter().find(|(_, blinds)| {
        passed += blinds;
        2 * passed >= all
    });
    debug_assert!(middle.is_some(), "a size is some room's");
    let middle = middle.map_or(Length::ZERO, |(length, _)| *length);
    let least = rooms.iter().map(|(room, _)| lengths(room)[0]).max().unwrap_or(middle);
    let most = rooms.iter().map(|(room, _)| lengths(room)[2]).min().unwrap_or(middle);
    middle.max(least).min(most)
}

/// No plan has fewer sizes than there are rooms of which no two can share one: the most of these
/// that several orders find.
pub(super) fn at_least(rooms: &[(Room, u64)]) -> usize {
    let orders: [fn(&Room) -> [Length; 2]; 5] = [
        |room| [room.most.width, room.most.drop],
        |room| [room.most.drop, room.most.width],
        |room| [-room.least.width, -room.least.drop],
        |room| [-room.least.drop, -room.least.width],
        |room| {
            let (width, drop) = (room.most.width - room.least.width, room.most.drop - room.least.drop);
            [width + drop, room.most.width]
        },
    ];
    orders.into_par_iter().map(|order| apart(rooms, order)).reduce(|| 0, usize::max)
}

/// Rooms taken in order, each that is apart from all taken before.
fn apart(rooms: &[(Room, u64)], order: fn(&Room) -> [Length; 2]) -> usize {
    let mut rooms: Vec<&Room> = rooms.iter().map(|(room, _)| room).collect();
    rooms.sort_by_key(|room| (order(room), **room));
    let widths = rooms.iter().map(|room| room.most.width - room.least.width);
    let widest = widths.fold(Length::ZERO, Length::max);
    // By their narrow ends: one that begins over a widest room's width further left cannot reach this one.
    let mut taken: BTreeMap<Length, Vec<&Room>> = BTreeMap::new();
    let mut count = 0;
    for room in rooms {
        let near = taken.range(room.least.width - widest..=room.most.width);
        if near.flat_map(|(_, rooms)| rooms).all(|other| room.is_apart_from(other)) {
            taken.entry(room.least.width).or_default().push(room);
            count += 1;
        }
    }
    count
}
