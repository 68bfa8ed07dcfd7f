//! Measurements that no building has, and those that contradict each other.

use super::queries::SizingQuery;
use crate::length::Length;
use crate::query::Held;
use crate::rules::LouverRules;
use crate::survey::Facts;
use crate::worked::Record;

/// Stops at a depth, handle, casing or floor that is likely in the wrong unit.
pub(super) fn check(facts: &Facts, louver: &LouverRules, record: &mut Record<'_>) -> Result<(), Held> {
    let limits = [
        ("recess depth", facts.recess_depth, &louver.most_depth),
        ("handle", facts.handle, &louver.most_handle),
        ("trim", facts.trim, &louver.most_trim),
        ("floor to come", facts.floor_to_come, &louver.most_floor_to_come),
    ];
    let mut held = None;
    for (what, given, most) in limits {
        if let Some(given) = given.filter(|given| given.value > **most) {
            let query = SizingQuery::Implausible { what, most: record.shown(**most) };
            held = Some(record.stop(&query, Some(given.at)));
        }
    }
    if let (Some(handle), None) = (facts.handle, facts.depth_to)
        && handle.value > Length::ZERO
    {
        record.check(&SizingQuery::HandleFromWhat, Some(handle.at), "");
    }
    held.map_or(Ok(()), Err)
}
