//! How high a blind hangs, above the floor as it is on the day and above the head.

use crate::length::Length;
use crate::rules::CoverRules;
use crate::sizing::{Hung, InRecess, Mount, OnWall, Sizing};
use crate::survey::Facts;
use crate::worked::{Number, Record, Source};

/// Heights of one blind; `None` where the sill or the opening is unknown.
pub(super) struct Heights {
    /// Top of the drop above the floor: the rail's top outside, the head inside.
    pub(super) drop_top: Option<Length>,
    /// Bracket top above the floor.
    pub(super) bracket_top: Option<Length>,
    /// What stands above the head.
    pub(super) above_head: Option<AboveHead>,
    /// Bottom of the blind above the floor.
    pub(super) gap_below: Option<Length>,
    /// Inside: bottom of the blind above the sill.
    pub(super) gap_to_sill: Option<Length>,
}

/// Heights above the head; both 0 inside.
#[derive(Clone, Copy)]
pub(super) struct AboveHead {
    /// Top of the drop: the rail's top outside.
    pub(super) drop_top: Length,
    /// Bracket top.
    pub(super) bracket_top: Length,
}

/// Heights of a blind of this drop.
pub(super) fn settle<'r>(
    facts: &Facts,
    sizing: &Sizing<'r>,
    drop: Length,
    cover: &'r CoverRules,
    record: &mut Record<'r>,
) -> Heights {
    let known = match &sizing.hung {
        Hung::Inside(InRecess { allowance: None, .. }) | Hung::Outside(OnWall { allowance: None, .. }) => {
            None
        }
        Hung::Inside(InRecess { allowance: Some(recess), .. }) => {
            Some((recess.head, AboveHead { drop_top: Length::ZERO, bracket_top: Length::ZERO }))
        }
        Hung::Outside(OnWall { allowance: Some(wall), .. }) => {
            let above = wall.above_for(drop);
            if drop != wall.preferred_drop {
                record.step(Number::AboveHead, "bottom plus final drop, minus height", Source::Above, above);
            }
            let bracket = &cover.bracket_above_rail;
            let bracket_top = record.step(
                Number::BracketTopAboveHead,
                "rail top plus bracket above rail",
                bracket,
                above + **bracket,
            );
            Some((wall.head, AboveHead { drop_top: above, bracket_top }))
        }
    };
    let above_floor = known.zip(facts.sill_height()).map(|((head, above), sill)| {
        let source = facts.sill.map_or(Source::Above, |sill| sill.at.into());
        let head = record.step(Number::HeadAboveFloor, "sill plus opening height", source, sill + head);
        let bracket_top = head + above.bracket_top;
        record.step(Number::BracketTopAboveFloor, "head plus bracket top", Source::Above, bracket_top);
        (head + above.drop_top, bracket_top)
    });
    let (drop_top, bracket_top) = above_floor.unzip();
    let above_head = known.map(|(_, above)| above);
    let gap_to_sill = match sizing.hung.mount() {
        Mount::Inside => known.map(|(head, _)| head - drop),
        Mount::Outside => None,
    };
    Heights { drop_top, bracket_top, above_head, gap_below: drop_top.map(|top| top - drop), gap_to_sill }
}
