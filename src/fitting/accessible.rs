//! A door of an accessible unit: whether someone in a wheelchair gets through it with the blind open.

use super::queries::FittingQuery;
use crate::length::Length;
use crate::rules::Rules;
use crate::survey::{Facts, Kind};
use crate::worked::Record;

/// Asks about a door whose stack leaves too little clear, or nobody knows how much.
pub(super) fn check_door(facts: &Facts, clear_open: Option<Length>, rules: &Rules, record: &mut Record<'_>) {
    if !facts.accessible || facts.kind == Kind::Window {
        return;
    }
    let door = &rules.safety.access.door;
    let source = door.source.to_string();
    let Some(clear) = clear_open else {
        return record.ask(&FittingQuery::DoorClearUnknown { source }, None, "");
    };
    if clear < door.clear.length {
        let [is, least] = [clear, door.clear.length].map(|width| record.shown(width));
        record.ask(&FittingQuery::DoorTooNarrow { source }, None, format!("{is} clear, {least} needed"));
    }
}
