//! How high a blind hangs, above the floor as it is on the day and above the head.

use crate::length::Length;
use crate::rules::CoverRules;
use crate::sizing::{Hung, Sizing};
use crate::survey::Facts;
use crate::worked::{Number, Record, Source};

/// Heights of one blind; `None` where the sill or the opening is unknown.
pub(super) struct Heights {
    /// Top of the drop above the floor: the head inside, else the rail's top.
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

/// Heights above the head; both 0 inside, and both the ceiling's under a ceiling.
#[derive(Clone, Copy)]
pub(super) struct AboveHead {
    /// Top of the drop: the rail's top, if not inside.
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
        Hung::Inside(recess) => recess
            .allowance
            .as_ref()
            .map(|recess| (recess.head, AboveHead { drop_top: Length::ZERO, bracket_top: Length::ZERO })),
        hung @ (Hung::Outside(_) | Hung::Ceiling(_)) => hung.before_wall().map(|wall| {
            let drop_top = wall.down.above_for(drop);
            if drop != wall.down.preferred_drop {
                let step = "bottom plus final drop, minus height";
                record.step(Number::AboveHead, step, Source::Above, drop_top);
            }
            let bracket_top = match hung {
                Hung::Outside(_) => drop_top + *cover.bracket_above_rail,
                Hung::Inside(_) | Hung::Ceiling(_) => drop_top,
            };
            let (step, source) = ("rail top plus bracket above rail", &cover.bracket_above_rail);
            record.step(Number::BracketTopAboveHead, step, source, bracket_top);
            (wall.down.head, AboveHead { drop_top, bracket_top })
        }),
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
    let gap_to_sill = match sizing.hung {
        Hung::Inside(_) => known.map(|(head, _)| head - drop),
        Hung::Outside(_) | Hung::Ceiling(_) => None,
    };
    Heights { drop_top, bracket_top, above_head, gap_below: drop_top.map(|top| top - drop), gap_to_sill }
}
