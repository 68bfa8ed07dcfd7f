//! The valance: its front, its returns and its clips.

use super::brackets::Brackets;
use super::overlap::Overlaps;
use crate::length::Length;
use crate::rules::LouverRules;
use crate::sizing::{Mount, Sizing};
use crate::worked::Record;

/// The valance of one blind.
pub(super) struct Valance {
    pub(super) front: Length,
    pub(super) return_left: Length,
    pub(super) return_right: Length,
    pub(super) clips: Vec<Length>,
}

/// Inside, a front as long as the rail; outside, past both its ends with a return on each side
/// that no wall closes. Without a known opening no side is known to be closed.
pub(super) fn cut<'r>(
    sizing: &Sizing<'r>,
    overlaps: Option<&Overlaps>,
    brackets: &Brackets,
    width: Length,
    family: &'r LouverRules,
    record: &mut Record<'r>,
) -> Valance {
    let clips = clips(brackets, width, *family.clip_offset);
    if sizing.mount == Mount::Inside {
        let front = record.step("valance", "as long as the rail", &family.valance_past_rail, width);
        return Valance { front, return_left: Length::ZERO, return_right: Length::ZERO, clips };
    }
    let past = &family.valance_past_rail;
    let front = record.step("valance", "past both ends of the rail", past, width + **past * 2);
    let full =
        sizing.bracket.reach.unwrap_or_default() + family.louver_width.share(1, 2) + *family.return_beyond;
    let mut one = |of: &'static str, closed: bool| {
        if closed {
            record.step(of, "none: a wall closes this side", &family.overlap_least, Length::ZERO)
        } else {
            record.step(of, "reach, half a louver and what stands beyond", &family.return_beyond, full)
        }
    };
    Valance {
        front,
        return_left: one("return left", overlaps.is_some_and(|overlaps| overlaps.left_closed)),
        return_right: one("return right", overlaps.is_some_and(|overlaps| overlaps.right_closed)),
        clips,
    }
}

/// A clip for each bracket, moved towards the middle of the rail so that it clears it; one in
/// the very middle goes left.
fn clips(brackets: &Brackets, width: Length, offset: Length) -> Vec<Length> {
    let last = brackets.from_left.len().saturating_sub(1);
    let in_the_middle = |index: usize| 2 * index == last;
    let left_half = |centre: Length| centre * 2 < width;
    let clip = |(index, centre): (usize, &Length)| {
        if !in_the_middle(index) && left_half(*centre) { *centre + offset } else { *centre - offset }
    };
    brackets.from_left.iter().enumerate().map(clip).collect()
}
