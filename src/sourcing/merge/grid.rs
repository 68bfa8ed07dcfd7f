//! The sizes of which some best ones are made: a finite grid is enough for every aim.
//!
//! Blinds that share a size have a rectangle in common: widths from the greatest of their least widths to
//! the smallest of their most, on the step, and a width off the step only where each of them prefers it;
//! drops likewise. Of the sizes in it an inside blind may refuse one, its
//! least width and least drop at once, which can only be the rectangle's own smallest.
//!
//! - **Fewest**: what all of them take they still take moved up to the widest and then to the longest of
//!   the rectangle; if that is the refused one, nothing moved at all. So most widths and most drops, on the
//!   step, and preferred ones off it, are enough.
//! - **Least movement**: the sum of distances is convex, in width and in drop by itself, and bends at
//!   preferred lengths; so its least is at one of these, at the steps beside one, or at an end of the
//!   rectangle. If that is the refused size, the next best is its neighbor in width or in drop: the next
//!   step, or a preferred length before it.
//! - **Least cost**: a price rises with width and with drop, so the smallest of the rectangle is the
//!   cheapest; if it is refused, one of the same two neighbors.

use std::collections::BTreeSet;

use super::room::Room;
use crate::length::Length;
use crate::sizing::Size;

/// What sizes are looked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Aim {
    Fewest,
    LeastMovement,
    LeastCost,
}

/// Sizes, and which rooms take each.
pub(super) struct Grid {
    pub(super) sizes: Vec<Size>,
    /// For each size positions of its rooms, in order.
    pub(super) takers: Vec<Vec<usize>>,
}

impl Grid {
    /// The sizes that the rooms may need for an aim; `None` if rooms and sizes would make more than
    /// `most` pairs.
    pub(super) fn of(rooms: &[(Room, u64)], aim: Aim, most: usize) -> Option<Grid> {
        let lengths = |of: fn(&Room) -> [Length; 3]| -> Vec<Length> {
            let marks = rooms.iter().flat_map(|(room, _)| marks(of(room), room.step(), aim));
            marks.collect::<BTreeSet<_>>().into_iter().collect()
        };
        let (widths, drops) = (lengths(Room::widths), lengths(Room::drops));
        let spans = |room: &Room| {
            (
                within(&widths, room.least.width, room.most.width),
                within(&drops, room.least.drop, room.most.drop),
            )
        };
        let pairs = rooms.iter().map(|(room, _)| {
            let (across, down) = spans(room);
            across.len().saturating_mul(down.len())
        });
        if pairs.fold(0, usize::saturating_add) > most {
            return None;
        }
        let mut pairs: Vec<(Size, usize)> = Vec::new();
        for (position, (room, _)) in rooms.iter().enumerate() {
            let (across, down) = spans(room);
            let sizes = widths[across]
                .iter()
                .flat_map(|&width| drops[down.clone()].iter().map(move |&drop| Size { width, drop }));
            pairs.extend(sizes.filter(|size| room.takes(*size)).map(|size| (size, position)));
        }
        pairs.sort_unstable();
        let mut grid = Grid { sizes: Vec::new(), takers: Vec::new() };
        for (size, room) in pairs {
            if grid.sizes.last() != Some(&size) {
                grid.sizes.push(size);
                grid.takers.push(Vec::new());
            }
            if let Some(takers) = grid.takers.last_mut() {
                takers.push(room);
            }
        }
        Some(grid)
    }
}

/// Where in a sorted list the lengths from `least` to `most` stand.
fn within(lengths: &[Length], least: Length, most: Length) -> std::ops::Range<usize> {
    lengths.partition_point(|length| *length < least)..lengths.partition_point(|length| *length <= most)
}

/// The lengths of one room that an aim may need; some may lie outside the room.
fn marks([least, preferred, most]: [Length; 3], step: Length, aim: Aim) -> Vec<Length> {
    let (first, last) = (least.rounded_up_to(step), most.rounded_down_to(step));
    match aim {
        Aim::Fewest => vec![last, preferred],
        Aim::LeastCost => vec![first, first + step, preferred],
        Aim::LeastMovement => {
            let beside = [preferred.rounded_down_to(step), preferred.rounded_up_to(step)];
            [first, first + step, preferred, last].into_iter().chain(beside).collect()
        }
    }
}
