//! Rooms that cannot share a size are looked at apart: what is best for each part is best for all of
//! them together.
//!
//! Parts are told by gaps: where no room reaches across a width, those on both sides of it have nothing
//! in common, and so of a drop; each part is split again until no gap is left. Two rooms of one part may
//! still be apart, which costs time and nothing else.

use super::room::Room;
use crate::length::Length;

/// The positions of the rooms, part by part, each in order.
pub(super) fn parts(rooms: &[(Room, u64)]) -> Vec<Vec<usize>> {
    const ACROSS: fn(&Room) -> (Length, Length) = |room| (room.least.width, room.most.width);
    const DOWN: fn(&Room) -> (Length, Length) = |room| (room.least.drop, room.most.drop);
    let mut parts = Vec::new();
    // With each the number of ways, one after the other, in which it did not split.
    let mut open = vec![((0..rooms.len()).collect::<Vec<usize>>(), ACROSS, DOWN, 0)];
    while let Some((mut part, ends, other, whole)) = open.pop() {
        if part.len() < 2 || whole == 2 {
            part.sort_unstable();
            parts.push(part);
            continue;
        }
        let split = at_gaps(rooms, part, ends);
        let whole = if split.len() == 1 { whole + 1 } else { 1 };
        open.extend(split.into_iter().map(|part| (part, other, ends, whole)));
    }
    parts.retain(|part| !part.is_empty());
    parts.sort_unstable();
    parts
}

/// Splits rooms wherever one begins beyond the ends of all before it.
fn at_gaps(
    rooms: &[(Room, u64)],
    mut part: Vec<usize>,
    ends: fn(&Room) -> (Length, Length),
) -> Vec<Vec<usize>> {
    part.sort_unstable_by_key(|&room| (ends(&rooms[room].0), room));
    let mut split: Vec<Vec<usize>> = Vec::new();
    let mut reach = None;
    for room in part {
        let (near, far) = ends(&rooms[room].0);
        match (split.last_mut(), reach) {
            (Some(last), Some(end)) if near <= end => last.push(room),
            _ => split.push(vec![room]),
        }
        reach = reach.max(Some(far));
    }
    split
}
