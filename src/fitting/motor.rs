//! A motor: at which end it stands, what it weighs, and what must be settled before it is ordered.

use rust_decimal::Decimal;

use super::control::ControlSide;
use super::queries::FittingQuery;
use crate::rules::{CoverRules, Rules};
use crate::survey::{Control, Facts};
use crate::worked::{Amount, Number, Record};

/// The end that a motor is at; `None`, with a check, if nobody says.
pub(super) fn side(facts: &Facts, rules: &Rules, record: &mut Record<'_>) -> Option<ControlSide> {
    let asked_at = facts.control.map(|control| control.at);
    let reach = &rules.safety.access.reach;
    let [lowest, highest] = [&reach.lowest, &reach.highest].map(|height| record.shown(height.length));
    record.ask(&FittingQuery::MotorSupply { lowest, highest }, asked_at, "");
    let Some(given) = facts.motor_side else {
        record.ask(&FittingQuery::MotorSideUnknown, None, "");
        return None;
    };
    let side = ControlSide::from(given.value);
    record.step(Number::ControlSide, "as the survey gives it", given.at, side.word());
    Some(side)
}

/// Kilograms that a motor adds to a blind of `others`; 0 without one.
pub(super) fn mass<'r>(
    control: Control,
    others: Decimal,
    cover: &'r CoverRules,
    record: &mut Record<'r>,
) -> Decimal {
    match control {
        Control::Wand | Control::Cord => Decimal::ZERO,
        Control::Motor => {
            let motor = &cover.motor_mass;
            record.step(Number::Weight, "plus motor", motor, Amount::Mass(others + **motor));
            **motor
        }
    }
}
