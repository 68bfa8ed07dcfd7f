//! The wand: how long, and on which side it hangs.
//!
//! A motor has no control side: nobody says where its supply is.

use super::heights::Heights;
use crate::blinds::WandRules;
use crate::length::Length;
use crate::sizing::Sizing;
use crate::survey::{Control, Draw, Facts};
use crate::worked::{Number, Record, Source};

/// Where a wand hangs with the blind closed, as seen from inside.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ControlSide {
    /// At the left end.
    Left,
    /// At the right end.
    Right,
    /// Two wands, at the middle.
    Middle,
}

impl ControlSide {
    /// The word that the sheets use.
    pub const fn word(self) -> &'static str {
        match self {
            ControlSide::Left => "left",
            ControlSide::Right => "right",
            ControlSide::Middle => "middle",
        }
    }

    /// Wands that hang there.
    pub const fn wands(self) -> u32 {
        match self {
            ControlSide::Left | ControlSide::Right => 1,
            ControlSide::Middle => 2,
        }
    }
}

#[derive(Clone, Copy)]
pub(super) struct Wand {
    pub(super) side: ControlSide,
    pub(super) length: Length,
}

/// The longest wand in whole steps that ends high enough above the floor, one step at the
/// least; half the drop where the floor is unknown. `None` for a motor.
pub(super) fn choose<'r>(
    facts: &Facts,
    sizing: &Sizing<'r>,
    heights: &Heights,
    drop: Length,
    rules: WandRules<'r>,
    record: &mut Record<'r>,
) -> Option<Wand> {
    if sizing.operation.control != Control::Wand {
        return None;
    }
    let side = match sizing.operation.draw {
        Draw::Left => ControlSide::Right,
        Draw::Right => ControlSide::Left,
        Draw::Split => ControlSide::Middle,
    };
    let source = facts.draw.map_or(Source::Above, |draw| draw.at.into());
    record.step(Number::WandSide, "at the leading carrier with the blind closed", source, side.word());
    let room = match heights.drop_top {
        Some(top) => {
            let step = "from the top of the drop down to the wand end height";
            record.step(Number::Wand, step, rules.end_height, top - **rules.end_height)
        }
        None => {
            record.step(Number::Wand, "half the drop (sill height unknown)", Source::Above, drop.half_down())
        }
    };
    let step = **rules.step;
    let length = room.rounded_down_to(step).max(step);
    Some(Wand { side, length: record.step(Number::Wand, "whole wand steps", rules.step, length) })
}
