//! Whether every part of a made blind can be cut from a bar at all.

use super::queries::FittingQuery;
use super::{Fitted, Returns};
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
    let Returns { left, right } = fitted.returns();
    let returns = left.max(right);
    let mut parts = vec![
        ("headrail", &family.rail_material, fitted.rail_cut),
        ("tilt rod", &family.rod_material, fitted.rod_cut),
        ("valance front", &family.valance_material, fitted.valance),
        ("louver", &family.louver_material, fitted.louvers.length + *family.hem),
    ];
    if returns > Length::ZERO {
        parts.push(("valance return", &family.valance_material, returns));
    }
    let mut held = None;
    for (part, material, cut) in parts {
        let query = match rules.longest_piece(material) {
            None => FittingQuery::NoBar { part, material: material.to_string() },
            Some(longest) if cut > longest => {
                let longest = record.shown(longest);
                FittingQuery::TooLongForBars { part, material: material.to_string(), longest }
            }
            Some(_) => continue,
        };
        let cut = record.shown(cut).to_string();
        held = Some(record.hold(&query, None, cut));
    }
    held.map_or(Ok(()), Err)
}
