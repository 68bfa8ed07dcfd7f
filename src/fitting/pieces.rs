//! Whether every part of a made blind can be cut from a bar at all.

use super::Fitted;
use super::queries::FittingQuery;
use crate::length::Length;
use crate::query::Held;
use crate::rules::{LouverRules, Rules};
use crate::worked::Record;

/// Stops at a part that is longer than every bar of its material, or whose material has none.
pub(super) fn check(
    fitted: &Fitted<'_>,
    family: &LouverRules,
    rules: &Rules,
    record: &mut Record<'_>,
) -> Result<(), Held> {
    let valance = fitted.valance.max(fitted.return_left).max(fitted.return_right);
    let parts = [
        ("headrail", &family.rail_material, fitted.rail_cut),
        ("tilt rod", &family.rod_material, fitted.rod_cut),
        ("valance", &family.valance_material, valance),
        ("louver", &family.louver_material, fitted.louvers.length + *family.hem),
    ];
    let mut held = None;
    for (part, material, cut) in parts {
        let longest = rules.longest_piece(material).unwrap_or(Length::ZERO);
        if cut > longest {
            let query = FittingQuery::TooLongForBars {
                part,
                material: material.to_string(),
                longest: record.shown(longest),
            };
            held = Some(record.stop(&query, None));
        }
    }
    held.map_or(Ok(()), Err)
}
