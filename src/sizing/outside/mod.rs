//! A blind in front of its opening, lapping over it: how wide, and between which heights. Heights are
//! from the bottom of the opening, so that a window whose sill height nobody measured is sized all the
//! same.
//!
//! A wanted drop outside a known header raises the same check as any other drop that misses the wood.
//!
//! What a handle was measured from is asked wherever it stands out and `Depth to` is blank, also
//! without a depth: from the wall or from the casing makes a difference to the reach.

mod across;
mod bottom;
mod ceiling;
mod down;
mod reach;

pub use across::SideAllowance;

use std::sync::Arc;

use super::limits::Ends;
use super::queries::SizingQuery;
use crate::length::Length;
use crate::query::Held;
use crate::rules::{CoverRules, Rules};
use crate::survey::Facts;
use crate::worked::Record;

pub(super) use across::size as across;
pub(super) use ceiling::{hang as hang_from_ceiling, size as down_from_ceiling};

/// How a blind hangs on the wall face.
#[derive(Clone, Debug)]
pub struct OnWall<'r> {
    /// The bracket's item.
    pub bracket: &'r Arc<str>,
    /// From the face that it is screwed to, to the line of the louvers.
    pub reach: Length,
    /// What it is screwed to.
    pub face: Face,
    /// What the wall allows; `None` in a survey of finished sizes, where the opening is unknown.
    pub allowance: Option<OutsideAllowance>,
}

/// What a wall bracket is screwed to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Face {
    /// The wall.
    Wall,
    /// The casing around the opening, which stands so far out from the wall.
    Casing {
        /// How far; a casing whose thickness nobody measured counts as none.
        stands_out: Length,
    },
}

impl Face {
    /// How far it stands out from the wall.
    pub const fn stands_out(self) -> Length {
        match self {
            Face::Wall => Length::ZERO,
            Face::Casing { stands_out } => stands_out,
        }
    }
}

/// How a blind hangs from a ceiling or a soffit, in front of its opening.
#[derive(Clone, Debug)]
pub struct UnderCeiling<'r> {
    /// The bracket's item.
    pub bracket: &'r Arc<str>,
    /// Wall face to the rail's center and the line of the louvers.
    pub from_wall: Length,
    /// What the wall allows; `None` in a survey of finished sizes, where the opening is unknown.
    pub allowance: Option<OutsideAllowance>,
}

/// What the wall around an opening allows. Heights are from the bottom of the opening.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OutsideAllowance {
    /// Width of the opening, the most: what must be covered.
    pub opening_width: Length,
    /// Width of the opening, the least: what must be clear when open.
    pub clear_width: Length,
    /// Left of the opening, as seen from inside.
    pub left: SideAllowance,
    /// Right of the opening.
    pub right: SideAllowance,
    /// Heights.
    pub down: Down,
}

/// The heights of a blind in front of its opening, from the bottom of the opening.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Down {
    /// Head: at the least height for a door, the most for a window.
    pub head: Length,
    /// Bottom of the blind; below zero for most windows.
    pub bottom: Length,
    /// Rail top above the head at the preferred drop.
    pub above: Length,
    /// The drop whose rounding leaves the rail's top where `above` puts it.
    pub preferred_drop: Length,
}

impl Down {
    /// Rail top above the head for a blind of this drop.
    pub fn above_for(&self, drop: Length) -> Length {
        if drop == self.preferred_drop { self.above } else { self.bottom + drop - self.head }
    }
}

impl OutsideAllowance {
    /// What the wall allows a blind of these sides and heights.
    pub(super) fn of(facts: &Facts, sides: [SideAllowance; 2], down: Down) -> OutsideAllowance {
        let [left, right] = sides;
        let (opening_width, clear_width) = (facts.width.most().value, facts.width.least().value);
        OutsideAllowance { opening_width, clear_width, left, right, down }
    }

    /// Overlaps left and right of a blind of this width; negative for a gap. What is missing from
    /// both aims is shared between the sides, within the window; then the blind moves over as far as
    /// that saves one side's `least` and keeps the other's.
    pub fn overlaps(&self, width: Length, least: Length) -> (Length, Length) {
        let beyond = width - self.opening_width;
        let missing = self.left.aim + self.right.aim - beyond;
        let left = self.left.aim - missing.half_down();
        let left = left.max(beyond - self.right.most).min(self.left.most);
        let right = beyond - left;
        let left = if left < least && right > least {
            left + spare(least - left, right - least, self.left.wall.map(|wall| wall - left))
        } else if right < least && left > least {
            left - spare(least - right, left - least, self.right.wall.map(|wall| wall - right))
        } else {
            left
        };
        (left, beyond - left)
    }
}

/// What one side gives the other: what that lacks, what this can spare, what the wall leaves.
fn spare(lacks: Length, spares: Length, wall: Option<Length>) -> Length {
    let moved = lacks.min(spares);
    wall.map_or(moved, |wall| moved.min(wall)).max(Length::ZERO)
}

/// A blind on the wall, or on the casing where the wall above that has no room.
pub(super) fn on_wall<'r>(
    facts: &Facts,
    cover: &'r CoverRules,
    rules: &Rules,
    record: &mut Record<'r>,
) -> Result<(OnWall<'r>, Down, Ends), Held> {
    let face = face(facts, cover, rules, record);
    let hung = reach::hang(facts, cover, face, record)?;
    let (down, drops) = down::size(facts, cover, rules, (face, hung.reach), record)?;
    Ok((hung, down, drops))
}

/// A blind of finished size on the wall: what the wall allows is not asked.
pub(super) fn hang_finished<'r>(
    facts: &Facts,
    cover: &'r CoverRules,
    record: &mut Record<'r>,
) -> Result<OnWall<'r>, Held> {
    reach::hang(facts, cover, Face::Wall, record)
}

/// The wall, so far as a silent trial of the same rules can tell; else the casing, where that is wide
/// enough to carry the brackets.
fn face<'r>(facts: &Facts, cover: &'r CoverRules, rules: &Rules, record: &Record<'r>) -> Face {
    let is_wide = facts.casing_width.is_some_and(|casing| casing.value >= *cover.casing_least);
    let mut trial = record.trial();
    let wall_does = |trial: &mut Record<'r>| {
        // A wall that has no room is not asked how far a bracket must reach from it.
        let reach = reach::hang(facts, cover, Face::Wall, trial).map_or(Length::ZERO, |hung| hung.reach);
        down::size(facts, cover, rules, (Face::Wall, reach), trial).is_ok()
    };
    if is_wide && !wall_does(&mut trial) {
        Face::Casing { stands_out: facts.trim_or_zero() }
    } else {
        Face::Wall
    }
}

/// Asks about a casing that carries the brackets, and about one of unknown width beside the screws.
pub(super) fn check_casing(facts: &Facts, face: Face, cover: &CoverRules, record: &mut Record<'_>) {
    if let (Face::Casing { .. }, Some(casing)) = (face, facts.casing_width) {
        record.ask(&SizingQuery::OnCasing, Some(casing.at), "");
        let thin = facts.trim.is_none_or(|trim| trim.value < *cover.casing_thickness);
        if thin {
            let query = SizingQuery::ThinCasing { least: record.shown(*cover.casing_thickness) };
            record.ask(&query, facts.trim.map(|trim| trim.at), "");
        }
    }
    if let (Some(trim), None) = (facts.trim, facts.casing_width)
        && trim.value > Length::ZERO
    {
        record.ask(&SizingQuery::CasingWidthUnknown, Some(trim.at), "");
    }
}
