//! A motor: at which end it stands, and what must be settled before it is ordered.

use super::control::ControlSide;
use super::queries::FittingQuery;
use crate::rules::Rules;
use crate::survey::Facts;
use crate::worked::{Number, Record};

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
