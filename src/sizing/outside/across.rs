//! How wide: past both edges of the opening, as far as the walls beside it leave room.

use crate::length::Length;
use crate::rules::CoverRules;
use crate::sizing::limits::Ends;
use crate::survey::{EndsAt, Facts, Given};
use crate::worked::{Number, Record};

/// One side of a blind in front of its opening.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SideAllowance {
    /// Overlap to aim at; negative where a wall stands in front of the opening.
    pub aim: Length,
    /// Most overlap of a wider blind: more than the aim only where the wall is known.
    pub most: Length,
    /// Most overlap that the wall leaves; `None` if no wall was measured.
    pub wall: Option<Length>,
    /// What the wall ends at; a `wall` closes a gap.
    pub ends_at: EndsAt,
}

impl SideAllowance {
    /// The least overlap that this side can be held to.
    pub fn least(&self, cover: &CoverRules) -> Length {
        self.aim.min(*cover.overlap_least)
    }

    /// Whether a wall closes what this overlap leaves open: it is under the least, and there is
    /// a wall where it ends.
    pub fn is_closed(&self, overlap: Length, least: Length) -> bool {
        overlap < least && self.ends_at == EndsAt::Wall
    }
}

/// The range of widths, and what is at both sides.
pub(in crate::sizing) fn size<'r>(
    facts: &Facts,
    cover: &'r CoverRules,
    record: &mut Record<'r>,
) -> (Ends, [SideAllowance; 2]) {
    let step = *cover.rounding_step;
    let left = side(facts.wall_left, facts.left_ends_at, cover, Number::AimLeft, record);
    let right = side(facts.wall_right, facts.right_ends_at, cover, Number::AimRight, record);
    let widest = facts.width.most();
    let opening = record.step(Number::Width, "largest width of the opening", widest.at, widest.value);
    let wanted =
        record.step(Number::Width, "plus overlaps", &cover.overlap_wanted, opening + left.aim + right.aim);
    let down = wanted.rounded_down_to(step);
    let mut preferred = record.step(Number::Width, "rounded down to the step", &cover.rounding_step, down);

    let covered = opening + left.least(cover) + right.least(cover);
    let room = left.wall.zip(right.wall).map(|(left, right)| opening + left + right);
    let up = down + step;
    if down < covered && room.is_none_or(|room| up <= room) {
        preferred = record.step(
            Number::Width,
            "rounded up one step instead, to keep the minimum overlaps",
            &cover.overlap_least,
            up,
        );
    }
    let widest = (opening + left.most + right.most).rounded_down_to(step);
    (Ends { preferred, least: covered.rounded_up_to(step), most: widest }, [left, right])
}

fn side<'r>(
    wall: Option<Given<Length>>,
    ends_at: EndsAt,
    cover: &'r CoverRules,
    of: Number,
    record: &mut Record<'r>,
) -> SideAllowance {
    let wanted = record.step(of, "preferred overlap", &cover.overlap_wanted, *cover.overlap_wanted);
    let Some(given) = wall else {
        return SideAllowance { aim: wanted, most: wanted, wall: None, ends_at };
    };
    let wall = given.value - *cover.valance_past_rail - *cover.hand_room;
    let aim =
        record.step(of, "no more than free wall minus room for valance and hand", given.at, wanted.min(wall));
    SideAllowance { aim, most: wall.min(*cover.overlap_most), wall: Some(wall), ends_at }
}
