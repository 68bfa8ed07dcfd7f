//! How far from the wall: the bracket that holds turned louvers clear of casing and handle.
//!
//! Where the recess has no known depth, a handle was measured from the casing, or from the wall where
//! there is none; both count, one on the other.

use super::{Face, OnWall};
use crate::length::Length;
use crate::query::Held;
use crate::rules::CoverRules;
use crate::sizing::handle_in_the_way;
use crate::sizing::queries::SizingQuery;
use crate::survey::Facts;
use crate::worked::{Number, Record};

/// The shortest wall bracket that does it; what the wall allows is not asked here.
pub(super) fn hang<'r>(
    facts: &Facts,
    cover: &'r CoverRules,
    face: Face,
    record: &mut Record<'r>,
) -> Result<OnWall<'r>, Held> {
    let of = Number::Reach;
    let needed = line(facts, cover, face, of, record);
    let pairs = cover.reaches.iter().copied().zip(&cover.bracket_items);
    let Some((reach, bracket)) = pairs.filter(|(reach, _)| *reach >= needed).min_by_key(|(reach, _)| *reach)
    else {
        debug_assert!(!cover.reaches.is_empty());
        let longest = cover.reaches.iter().copied().fold(Length::ZERO, Length::max);
        let at = facts.handle.or(facts.trim).map(|given| given.at);
        let query =
            SizingQuery::NoBracketReaches { longest: record.shown(longest), needed: record.shown(needed) };
        return Err(record.hold(&query, at, ""));
    };
    let reach = record.step(of, "shortest bracket that is long enough", &cover.reaches, reach);
    Ok(OnWall { bracket, reach, face, allowance: None })
}

/// The least distance from a face to the line of the louvers: half a louver, room to turn, and what
/// stands out beyond that face.
pub(super) fn line<'r>(
    facts: &Facts,
    cover: &'r CoverRules,
    face: Face,
    of: Number,
    record: &mut Record<'r>,
) -> Length {
    let trim = facts.trim_or_zero();
    let handle = handle_in_the_way(facts);
    if let Some(given) = facts.trim {
        record.step(of, "casing projection", given.at, trim);
    }
    let stands_out = match (facts.handle, facts.recess_depth) {
        (None, _) => trim,
        (Some(given), Some(depth)) => {
            let step = "casing or handle, whichever projects more from the wall";
            record.step(of, step, given.at, trim.max(handle - depth.value))
        }
        (Some(given), None) => record.step(of, "plus the handle on it", given.at, trim + handle),
    };
    let stands_out = match face {
        Face::Wall => stands_out,
        Face::Casing { stands_out: casing } => {
            let beyond = (stands_out - casing).max(Length::ZERO);
            record.step(of, "beyond the casing that it is fixed to", &cover.casing_least, beyond)
        }
    };
    let clearance = &cover.louver_clearance;
    let clear = record.step(of, "plus louver clearance", clearance, stands_out + **clearance);
    record.step(of, "plus half a louver", &cover.depth, clear + cover.half_depth())
}
