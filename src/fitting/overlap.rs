//! How far a blind reaches past its opening on each side, and what is seen past it.
//!
//! Overlaps inside are given as the gaps they are, negative, half of what the recess leaves on each
//! side.

use super::queries::FittingQuery;
use super::queries::FittingQuery::{LeftClosed, LittleAtLeft, LittleAtRight, RightClosed};
use crate::angle::Angle;
use crate::length::Length;
use crate::rules::CoverRules;
use crate::sizing::{Hung, OutsideAllowance, Sizing};
use crate::worked::{Number, Record, Source};

/// Overlaps of one blind; negative for a gap, as on both sides of an inside mount.
#[derive(Clone, Debug)]
pub struct Overlaps {
    /// On the left.
    pub left: Length,
    /// On the right.
    pub right: Length,
    /// Twice both in nanometers, exact: a blind centered in its recess may leave half a nanometer
    /// on each side.
    pub(super) doubled: [i64; 2],
    /// Sides whose lack of overlap a wall closes.
    pub(super) left_closed: bool,
    pub(super) right_closed: bool,
}

/// Overlaps of a blind of this width; `None` where the opening is unknown.
pub(super) fn settle<'r>(
    sizing: &Sizing<'r>,
    width: Length,
    cover: &'r CoverRules,
    record: &mut Record<'r>,
) -> Option<Overlaps> {
    let overlaps = match &sizing.hung {
        Hung::Inside(recess) => {
            recess.allowance.as_ref().map(|recess| centered(recess.opening_width, width, record))
        }
        hung @ (Hung::Outside(_) | Hung::Ceiling(_)) => {
            let line = hung.reach().or(hung.setback());
            hung.before_wall().zip(line).map(|(wall, line)| lapped(wall, line, width, cover, record))
        }
    };
    check_lean(sizing, overlaps.as_ref(), cover, record);
    overlaps
}

/// Asks about an opening that leans; in front of it, with the overlap that is left at its foot.
fn check_lean(sizing: &Sizing<'_>, overlaps: Option<&Overlaps>, cover: &CoverRules, record: &mut Record<'_>) {
    let limit = *cover.side_clearance;
    let Some(lean) = sizing.lean.filter(|lean| lean.by > limit) else { return };
    let mut detail = record.shown(lean.by).to_string();
    if let (Hung::Outside(_) | Hung::Ceiling(_), Some(overlaps)) = (&sizing.hung, overlaps) {
        let left = overlaps.left.min(overlaps.right) - lean.by;
        detail += &format!("; overlap at the foot {}", record.shown(left));
    }
    record.ask(&FittingQuery::Leans { limit: record.shown(limit) }, None, detail);
}

/// A blind on the wall laps over as the walls allow; a check where that is too little.
fn lapped<'r>(
    wall: &OutsideAllowance,
    reach: Length,
    width: Length,
    cover: &'r CoverRules,
    record: &mut Record<'r>,
) -> Overlaps {
    let (left, right) = wall.overlaps(width, *cover.overlap_least);
    record.step(
        Number::OverlapLeft,
        "this side's share of the final width, within the free wall",
        &cover.overlap_wanted,
        left,
    );
    record.step(Number::OverlapRight, "remainder on this side", Source::Above, right);
    let overlaps = Overlaps {
        left,
        right,
        doubled: [2 * left.nm(), 2 * right.nm()],
        left_closed: wall.left.is_closed(left, *cover.overlap_least),
        right_closed: wall.right.is_closed(right, *cover.overlap_least),
    };
    let least = record.shown(*cover.overlap_least);
    let sides = [
        (left, overlaps.left_closed, LeftClosed { least }, LittleAtLeft { least }),
        (right, overlaps.right_closed, RightClosed { least }, LittleAtRight { least }),
    ];
    for (overlap, closed, if_closed, if_open) in sides {
        if overlap >= *cover.overlap_least {
            continue;
        }
        let shown = record.shown(overlap).to_string();
        if closed {
            record.ask(&if_closed, None, shown);
        } else {
            let gap = if overlap < Length::ZERO { ", a direct gap" } else { "" };
            let angle = Angle::from_tangent(overlap, reach);
            let detail = format!("{shown}{gap}, see-past angle {angle} deg");
            record.ask(&if_open, None, detail);
        }
    }
    overlaps
}

/// A blind centered in its recess leaves half of the clearance as a gap on each side.
fn centered(opening: Length, width: Length, record: &mut Record<'_>) -> Overlaps {
    let beyond = width - opening;
    let gap = beyond.share(1, 2);
    record.step(Number::OverlapLeft, "gap: half the clearance left in the recess", Source::Above, gap);
    record.step(Number::OverlapRight, "gap: half the clearance left in the recess", Source::Above, gap);
    let doubled = [beyond.nm(); 2];
    Overlaps { left: gap, right: gap, doubled, left_closed: false, right_closed: false }
}

/// Degrees from square-on at which one can look past the blind, over the sides that no wall
/// closes; negative for a direct gap.
pub(super) fn see_past<'r>(
    reach: Length,
    overlaps: Option<&Overlaps>,
    cover: &'r CoverRules,
    record: &mut Record<'r>,
) -> Option<Angle> {
    let overlaps = overlaps?;
    let open = [(overlaps.left, overlaps.left_closed), (overlaps.right, overlaps.right_closed)];
    let smaller = open.into_iter().filter(|(_, closed)| !closed).map(|(overlap, _)| overlap).min()?;
    let angle = Angle::from_tangent(smaller, reach);
    Some(record.step(Number::SeePast, "from the smaller overlap and bracket reach", &cover.reaches, angle))
}
