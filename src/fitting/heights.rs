//! How high a blind hangs, above the floor as it is on the day and above the head.

use crate::length::Length;
use crate::rules::LouverRules;
use crate::sizing::{Allowance, Sizing};
use crate::survey::Facts;
use crate::worked::{Record, Source};

/// Heights of one blind; `None` where the sill or the opening is unknown.
pub(super) struct Heights {
    /// Top of the drop above the floor: the rail's top outside, the head inside.
    pub(super) drop_top: Option<Length>,
    /// Rail top above the head, outside.
    pub(super) above_head: Option<Length>,
    /// Bracket top above the floor.
    pub(super) bracket_top: Option<Length>,
    /// Bracket top above the head: 0 inside.
    pub(super) bracket_above_head: Option<Length>,
    /// Bottom of the blind above the floor.
    pub(super) gap_below: Option<Length>,
}

/// Heights of a blind of this drop.
pub(super) fn settle<'r>(
    facts: &Facts,
    sizing: &Sizing<'r>,
    drop: Length,
    family: &'r LouverRules,
    record: &mut Record<'r>,
) -> Heights {
    let (head, above_head, bracket_above_head) = match &sizing.allowance {
        None => (None, None, None),
        Some(Allowance::Inside(recess)) => (Some(recess.head), None, Some(Length::ZERO)),
        Some(Allowance::Outside(wall)) => {
            let above = wall.above_for(drop);
            if drop != wall.preferred_drop {
                record.step("above head", "from the bottom up by the final drop", Source::Above, above);
            }
            let bracket = &family.bracket_above_rail;
            let bracket =
                record.step("bracket top above head", "above the rail's top", bracket, above + **bracket);
            (Some(wall.head), Some(above), Some(bracket))
        }
    };
    let head_above_floor = head.zip(facts.sill_height()).map(|(head, sill)| {
        let source = facts.sill.map_or(Source::Above, |sill| sill.at.into());
        record.step("head above floor", "sill and height of the opening", source, sill + head)
    });
    let drop_top = head_above_floor.map(|head| head + above_head.unwrap_or_default());
    let bracket_top = head_above_floor.zip(bracket_above_head).map(|(head, above)| {
        record.step("bracket top above floor", "above the head", Source::Above, head + above)
    });
    Heights {
        drop_top,
        above_head,
        bracket_top,
        bracket_above_head,
        gap_below: drop_top.map(|top| top - drop),
    }
}
