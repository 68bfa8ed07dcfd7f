//! A blind on the wall face, lapping over the opening. Heights are from the bottom of the
//! opening, so that a window whose sill height nobody measured is sized all the same.
//!
//! A wanted drop outside a known header raises the same check as any other drop that misses the
//! wood.
//!
//! What a handle was measured from is asked wherever it stands out and `Depth to` is blank, also
//! without a depth: from the wall or from the casing makes a difference to the reach.

use std::sync::Arc;

use super::queries::SizingQuery;
use super::{Size, SizeWindow, floor, handle_in_the_way};
use crate::length::Length;
use crate::query::Held;
use crate::rules::{CoverRules, Project};
use crate::survey::{EndsAt, Facts, Given, Kind};
use crate::worked::{Number, Record, Rule, Source};

/// How a blind hangs on the wall face.
#[derive(Clone, Debug)]
pub struct OnWall<'r> {
    /// The bracket's item.
    pub bracket: &'r Arc<str>,
    /// Wall to the line of the louvers.
    pub reach: Length,
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
    /// Head above the bottom of the opening: at the least height for a door, the most for a window.
    pub head: Length,
    /// Bottom of the blind above the bottom of the opening; below it for most windows.
    pub bottom: Length,
    /// Rail top above the head at the preferred drop.
    pub above: Length,
    /// The drop whose rounding leaves the rail's top where `above` puts it.
    pub preferred_drop: Length,
}

impl OutsideAllowance {
    /// Rail top above the head for a blind of this drop.
    pub fn above_for(&self, drop: Length) -> Length {
        if drop == self.preferred_drop { self.above } else { self.bottom + drop - self.head }
    }

    /// Overlaps left and right of a blind of this width; negative for a gap. What is missing from
    /// both aims is shared between the sides, within the walls; then the blind moves over as far as
    /// that saves one side's `least` and keeps the other's.
    pub fn overlaps(&self, width: Length, least: Length) -> (Length, Length) {
        let beyond = width - self.opening_width;
        let missing = self.left.aim + self.right.aim - beyond;
        let mut left = self.left.aim - missing.half_down();
        if let Some(most) = self.right.most {
            left = left.max(beyond - most);
        }
        if let Some(most) = self.left.most {
            left = left.min(most);
        }
        let right = beyond - left;
        if left < least && right > least {
            left = left + spare(least - left, right - least, self.left.most.map(|most| most - left));
        } else if right < least && left > least {
            left = left - spare(least - right, left - least, self.right.most.map(|most| most - right));
        }
        (left, beyond - left)
    }
}

/// What one side gives the other: what that lacks, what this can spare, what the wall leaves.
fn spare(lacks: Length, spares: Length, wall: Option<Length>) -> Length {
    let moved = lacks.min(spares);
    wall.map_or(moved, |wall| moved.min(wall)).max(Length::ZERO)
}

/// One side of an outside mount.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SideAllowance {
    /// Overlap to aim at; negative where a wall stands in front of the opening.
    pub aim: Length,
    /// Most overlap that the wall leaves; `None` if no wall was measured.
    pub most: Option<Length>,
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

/// The size on the wall face, and the window of sizes that would also do.
pub(super) struct OutsideSize {
    pub(super) window: SizeWindow,
    pub(super) allowance: OutsideAllowance,
}

/// Works the size from the most width and the walls around the opening, noting each step.
pub(super) fn size<'r>(
    facts: &Facts,
    cover: &'r CoverRules,
    project: &Project,
    record: &mut Record<'r>,
) -> Result<OutsideSize, Held> {
    let across = width(facts, cover, record);
    let down = drop(facts, cover, project, record)?;
    let preferred = Size { width: across.preferred, drop: down.preferred };
    Ok(OutsideSize {
        window: SizeWindow::new(
            preferred,
            Size { width: across.least, drop: down.least },
            Size { width: across.most, drop: down.most },
        ),
        allowance: OutsideAllowance {
            opening_width: facts.width.most().value,
            clear_width: facts.width.least().value,
            left: across.left,
            right: across.right,
            head: down.head,
            bottom: down.bottom,
            above: down.above,
            preferred_drop: down.preferred,
        },
    })
}

struct Across {
    preferred: Length,
    least: Length,
    most: Length,
    left: SideAllowance,
    right: SideAllowance,
}

fn width<'r>(facts: &Facts, cover: &'r CoverRules, record: &mut Record<'r>) -> Across {
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
    let room = match (left.most, right.most) {
        (Some(left), Some(right)) => Some(opening + left + right),
        _ => None,
    };
    let up = down + step;
    if down < covered && room.is_none_or(|room| up <= room) {
        preferred = record.step(
            Number::Width,
            "rounded up one step instead, to keep the minimum overlaps",
            &cover.overlap_least,
            up,
        );
    }
    Across { preferred, least: covered.rounded_up_to(step), most: down, left, right }
}

fn side<'r>(
    wall: Option<Given<Length>>,
    ends_at: EndsAt,
    cover: &'r CoverRules,
    of: Number,
    record: &mut Record<'r>,
) -> SideAllowance {
    let wanted = record.step(of, "preferred overlap", &cover.overlap_wanted, *cover.overlap_wanted);
    let Some(wall) = wall else {
        return SideAllowance { aim: wanted, most: None, ends_at };
    };
    let most = wall.value - *cover.valance_past_rail - *cover.hand_room;
    let aim =
        record.step(of, "no more than free wall minus room for valance and hand", wall.at, wanted.min(most));
    SideAllowance { aim, most: Some(most), ends_at }
}

struct Down {
    preferred: Length,
    least: Length,
    most: Length,
    head: Length,
    bottom: Length,
    above: Length,
}

fn drop<'r>(
    facts: &Facts,
    cover: &'r CoverRules,
    project: &Project,
    record: &mut Record<'r>,
) -> Result<Down, Held> {
    let step = *cover.rounding_step;
    let counted = if facts.kind == Kind::Window { facts.height.most() } else { facts.height.least() };
    let head = record.step(Number::Drop, "height of the opening", counted.at, counted.value);
    let bottom = bottom(facts, cover, record);
    let wall = wall_above(facts, head, project);

    if let Some(wanted) = facts.drop_wanted {
        let preferred = record.step(Number::Drop, "drop wanted, taken as given", wanted.at, wanted.value);
        let above = record.step(
            Number::AboveHead,
            "bottom plus drop, minus height",
            Source::Above,
            bottom + preferred - head,
        );
        check_wanted(above, wall, wanted, cover, record)?;
        check_wood(facts, above, cover, record);
        return Ok(Down { preferred, least: preferred, most: preferred, head, bottom, above });
    }

    let (least, most) = (*cover.above_least, above_most(wall, cover));
    let wanted = record.step(Number::AboveHead, "preferred height", &cover.above_wanted, *cover.above_wanted);
    let mut above = wanted.min(most);
    if let Some(wall) = wall {
        above = record.step(
            Number::AboveHead,
            "no more than the free wall minus clearance above the rail",
            wall.at,
            above,
        );
    }
    if above < least {
        let query = SizingQuery::NoRoomAbove { least: record.shown(*cover.above_least + *cover.room_above) };
        return Err(record.hold(&query, wall.map(|wall| wall.at), ""));
    }
    let mut allowed = (least, most);
    if let Some(wood) = wood(facts, cover) {
        let both = (least.max(wood.0), most.min(wood.1));
        if both.0 <= both.1 {
            allowed = both;
            above = above.clamp(both.0, both.1);
            if let Some(header) = facts.header_height {
                above = record.step(
                    Number::AboveHead,
                    "height at which both screws are well inside the header",
                    header.at,
                    above,
                );
            }
        } else {
            check_wood(facts, above, cover, record);
        }
    }
    let rail_top = record.step(Number::Drop, "plus rail top above head", Source::Above, head + above);
    let whole = record.step(Number::Drop, "rail top to blind bottom", Source::Above, rail_top - bottom);
    let preferred = record.step(
        Number::Drop,
        "rounded down to the step",
        &cover.rounding_step,
        whole.rounded_down_to(step),
    );
    Ok(Down {
        preferred,
        least: (head + allowed.0 - bottom).rounded_up_to(step),
        most: (head + allowed.1 - bottom).rounded_down_to(step),
        head,
        bottom,
        above,
    })
}

/// Free wall above the head, measured or up to the project's ceiling.
fn wall_above(facts: &Facts, head: Length, project: &Project) -> Option<Given<Length>> {
    facts.wall_above.or_else(|| {
        let (ceiling, sill) = (project.ceiling_height?, facts.sill_height()?);
        Some(Given { value: ceiling.value - sill - head, at: ceiling.at })
    })
}

fn above_most(wall: Option<Given<Length>>, cover: &CoverRules) -> Length {
    let most = *cover.above_most;
    wall.map_or(most, |wall| most.min(wall.value - *cover.room_above))
}

/// A wanted drop moves the rail's top: refused where the wall or the bracket forbids it.
fn check_wanted(
    above: Length,
    wall: Option<Given<Length>>,
    wanted: Given<Length>,
    cover: &CoverRules,
    record: &mut Record<'_>,
) -> Result<(), Held> {
    if above < *cover.above_floor {
        let query = SizingQuery::DropTooShort { least: record.shown(*cover.above_floor) };
        return Err(record.hold(&query, Some(wanted.at), ""));
    }
    if wall.is_some_and(|wall| above > wall.value - *cover.room_above) {
        let query = SizingQuery::DropOverWall { room: record.shown(*cover.room_above) };
        return Err(record.hold(&query, Some(wanted.at), ""));
    }
    if !(*cover.above_least..=*cover.above_most).contains(&above) {
        let (least, most) = (record.shown(*cover.above_least), record.shown(*cover.above_most));
        let detail = record.shown(above).to_string();
        record.ask(&SizingQuery::DropMovesRail { least, most }, Some(wanted.at), detail);
    }
    Ok(())
}

/// Rail tops above the head at which both screws of a bracket are well inside the header;
/// `None` if no header was measured.
pub(super) fn wood(facts: &Facts, cover: &CoverRules) -> Option<(Length, Length)> {
    let height = facts.header_height?.value;
    let offset = facts.header_offset_or_zero();
    // A screw stands its distance below the bracket's top, which is above the rail's.
    let above_rail = |screw: Length| *cover.bracket_above_rail - screw;
    let edge = *cover.screw_edge;
    Some((
        offset + edge - above_rail(*cover.lower_screw),
        offset + height - edge - above_rail(*cover.upper_screw),
    ))
}

fn check_wood(facts: &Facts, above: Length, cover: &CoverRules, record: &mut Record<'_>) {
    if let (Some((lowest, highest)), Some(header)) = (wood(facts, cover), facts.header_height)
        && !(lowest..=highest).contains(&above)
    {
        let query = SizingQuery::NoWood { edge: record.shown(*cover.screw_edge) };
        record.ask(&query, Some(header.at), "");
    }
}

/// Bottom of the blind above the bottom of the opening.
fn bottom<'r>(facts: &Facts, cover: &'r CoverRules, record: &mut Record<'r>) -> Length {
    let of = Number::Bottom;
    let gap = floor::gap_above_floor(facts, cover, of, record);
    if facts.kind != Kind::Window {
        let over_sill = "minus sill height";
        return match facts.sill {
            Some(sill) => record.step(of, over_sill, sill.at, gap - sill.value),
            None => gap,
        };
    }
    let below = below(facts, cover, of, record);
    match (facts.sill, facts.sill_height()) {
        (Some(given), Some(sill)) => {
            record.step(of, "no closer to the floor than the gap", given.at, below.max(gap - sill))
        }
        _ => below,
    }
}

fn below<'r>(facts: &Facts, cover: &'r CoverRules, of: Number, record: &mut Record<'r>) -> Length {
    let wanted: &'r Rule<Length> = &cover.below_wanted;
    let below = record.step(of, "preferred overlap below the opening", wanted, -**wanted);
    let Some(wall) = facts.wall_below else {
        return below;
    };
    let reach = (**wanted).min(wall.value - *cover.room_below);
    if reach < *cover.below_least {
        let query = SizingQuery::EndsAboveSill { above: record.shown(*cover.above_sill) };
        record.ask(&query, Some(wall.at), "");
        return record.step(of, "gap above the sill instead", &cover.above_sill, *cover.above_sill);
    }
    record.step(of, "no more than the free wall below minus clearance", wall.at, -reach)
}

/// The shortest wall bracket that holds turned louvers clear of casing and handle; what the wall
/// allows is not asked here.
pub(super) fn hang<'r>(
    facts: &Facts,
    cover: &'r CoverRules,
    record: &mut Record<'r>,
) -> Result<OnWall<'r>, Held> {
    let of = Number::Reach;
    let in_the_way = facts.trim_or_zero().max(handle_in_the_way(facts) - facts.recess_depth_or_zero());
    if let Some(trim) = facts.trim {
        record.step(of, "casing projection", trim.at, trim.value);
    }
    if let Some(given) = facts.handle {
        record.step(of, "casing or handle, whichever projects more from the wall", given.at, in_the_way);
    }
    let clearance = &cover.louver_clearance;
    let clear = record.step(of, "plus louver clearance", clearance, in_the_way + **clearance);
    let needed = record.step(of, "plus half a louver", &cover.depth, clear + cover.half_depth());
    let pairs = cover.reaches.iter().copied().zip(&cover.bracket_items);
    let Some((reach, bracket)) = pairs.filter(|(reach, _)| *reach >= needed).min_by_key(|(reach, _)| *reach)
    else {
        debug_assert!(!cover.reaches.is_empty());
        let longest = cover.reaches.iter().copied().fold(Length::ZERO, Length::max);
        let at = facts.handle.or(facts.trim).map(|given| given.at);
        let query =
            SizingQuery::NoBracketReaches { longest: record.shown(longest), needed: record.shown(needed) };
        return Err(record.hold(&query, at, ""));
    };
    let reach = record.step(of, "shortest bracket that is long enough", &cover.reaches, reach);
    Ok(OnWall { bracket, reach, allowance: None })
}
