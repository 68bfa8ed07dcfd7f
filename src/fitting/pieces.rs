//! Whether every part of a made blind can be cut from a bar at all.

use super::queries::FittingQuery;
use crate::blinds::CutPart;
use crate::query::Held;
use crate::rules::Rules;
use crate::worked::Record;

/// Stops at a part that is longer than every bar of its material, or whose material has none.
pub(super) fn check(parts: &[CutPart], rules: &Rules, record: &mut Record<'_>) -> Result<(), Held> {
    let mut held = None;
    for CutPart { part, material, length, .. } in parts {
        let (part, material) = (part.word(), material.to_string());
        let query = match rules.longest_piece(&material) {
            None => FittingQuery::NoBar { part, material },
            Some(longest) if *length > longest => {
                FittingQuery::TooLongForBars { part, material, longest: record.shown(longest) }
            }
            Some(_) => continue,
        };
        let cut = record.shown(*length).to_string();
        held = Some(record.hold(&query, None, cut));
    }
    held.map_or(Ok(()), Err)
}
