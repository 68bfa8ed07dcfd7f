//! The valance: its front, its returns and its clips.

use super::holding::Brackets;
use super::overlap::Overlaps;
use crate::blinds::{Returns, ValanceRules};
use crate::length::Length;
use crate::rules::CoverRules;
use crate::sizing::Mount;
use crate::survey::{EndsAt, Facts};
use crate::worked::{Number, Record};

/// The front: as long as the rail inside, past both its ends outside.
pub(super) fn front<'r>(
    mount: Mount,
    width: Length,
    cover: &'r CoverRules,
    record: &mut Record<'r>,
) -> Length {
    let past = &cover.valance_past_rail;
    match mount {
        Mount::Inside => record.step(Number::Valance, "as long as the rail", past, width),
        Mount::Outside | Mount::Ceiling => {
            record.step(Number::Valance, "rail plus valance past both its ends", past, width + **past * 2)
        }
    }
}

/// The returns in front of the wall: one on each side that no wall closes, else 0. `line` is from the
/// wall to the louvers. Where the opening is unknown, a side that ends at a wall is closed by it.
pub(super) fn returns<'r>(
    line: Length,
    facts: &Facts,
    overlaps: Option<&Overlaps>,
    cover: &'r CoverRules,
    valance: ValanceRules<'r>,
    record: &mut Record<'r>,
) -> Returns {
    let full = line + cover.half_depth() + **valance.beyond;
    let mut one = |of: Number, closed: bool| {
        if closed {
            record.step(of, "none: a wall closes this side", &cover.overlap_least, Length::ZERO)
        } else {
            record.step(of, "reach plus half a louver plus clearance", valance.beyond, full)
        }
    };
    let [left, right] = match overlaps {
        Some(overlaps) => [overlaps.left_closed, overlaps.right_closed],
        None => [facts.left_ends_at, facts.right_ends_at].map(|ends_at| ends_at == EndsAt::Wall),
    };
    Returns { left: one(Number::ReturnLeft, left), right: one(Number::ReturnRight, right) }
}

/// A clip for each bracket, moved towards the middle of the rail so that it clears it; one in
/// the very middle goes left.
pub(super) fn clips(brackets: &Brackets, width: Length, offset: Length) -> Vec<Length> {
    // A center in the very middle may be rounded to either side of it.
    let nearest = Length::from_nm(1);
    let clip = |center: &Length| {
        if *center * 2 + nearest < width { *center + offset } else { *center - offset }
    };
    brackets.from_left.iter().map(clip).collect()
}
