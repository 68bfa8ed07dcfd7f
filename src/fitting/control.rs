//! What operates a blind, and at which end: a wand, a cord that its rules allow, or a motor.
//!
//! A cord hangs where a wand would.

use super::cord::{self, Cord};
use super::heights::Heights;
use super::{motor, wand};
use crate::length::Length;
use crate::query::Held;
use crate::rules::Rules;
pub use crate::schema::choices::ControlSide;
use crate::sizing::Sizing;
use crate::sourcing::Sourced;
use crate::survey::{Control, Draw, Facts, MotorSide};
use crate::worked::{Number, Record, Source};

impl ControlSide {
    /// Wands that hang there.
    pub const fn wands(self) -> u32 {
        match self {
            ControlSide::Left | ControlSide::Right => 1,
            ControlSide::Middle => 2,
        }
    }

    /// Where the leading carrier stands with the blind closed.
    const fn leading(draw: Draw) -> ControlSide {
        match draw {
            Draw::Left => ControlSide::Right,
            Draw::Right => ControlSide::Left,
            Draw::Split => ControlSide::Middle,
        }
    }
}

impl From<MotorSide> for ControlSide {
    fn from(side: MotorSide) -> ControlSide {
        match side {
            MotorSide::Left => ControlSide::Left,
            MotorSide::Right => ControlSide::Right,
        }
    }
}

/// What operates one blind.
#[derive(Clone, Copy, Default)]
pub(super) struct Operated {
    /// At which end; `None` if nobody says, and for a family that nothing hangs from.
    pub(super) side: Option<ControlSide>,
    /// Length of each wand.
    pub(super) wand: Option<Length>,
    /// The cord.
    pub(super) cord: Option<Cord>,
}

/// Settles what operates a blind.
///
/// # Errors
/// [`Held`] by a cord that may not hang as it is to.
pub(super) fn settle<'r>(
    facts: &Facts,
    sizing: &Sizing<'r>,
    sourced: &Sourced<'r>,
    heights: &Heights,
    rules: &'r Rules,
    record: &mut Record<'r>,
) -> Result<Operated, Held> {
    match sizing.operation.control {
        Control::Wand => Ok(sizing.product.family.wand().map_or_else(Operated::default, |family| {
            let side = leading(facts, sizing, record);
            let wand =
                wand::length(facts, sizing, (heights.drop_top, sourced.size.drop), family, rules, record);
            Operated { side: Some(side), wand: Some(wand), cord: None }
        })),
        Control::Cord => {
            let cord = cord::settle(facts, sourced.supply, heights, rules, record)?;
            Ok(Operated { side: Some(leading(facts, sizing, record)), wand: None, cord: Some(cord) })
        }
        Control::Motor => Ok(Operated { side: motor::side(facts, rules, record), ..Operated::default() }),
    }
}

/// The end at which a wand or a cord hangs.
fn leading(facts: &Facts, sizing: &Sizing<'_>, record: &mut Record<'_>) -> ControlSide {
    let side = ControlSide::leading(sizing.operation.draw);
    let source = facts.draw.map_or(Source::Above, |draw| draw.at.into());
    record.step(Number::ControlSide, "at the leading carrier with the blind closed", source, side.word());
    side
}
