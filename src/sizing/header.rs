//! The solid wood, or the lintel, above an opening. A header of 0 means that there is none.

use super::queries::SizingQuery;
use crate::length::Length;
use crate::rules::CoverRules;
use crate::survey::Facts;
use crate::worked::Record;

/// Rail tops above the head at which both screws of a wall bracket are well inside the header;
/// `None` without a known one.
pub fn rail_tops(facts: &Facts, cover: &CoverRules) -> Option<(Length, Length)> {
    let height = facts.header_height.filter(|height| height.value > Length::ZERO)?.value;
    let offset = facts.header_offset_or_zero();
    // A screw stands its distance below the bracket's top, which is above the rail's.
    let above_rail = |screw: Length| *cover.bracket_above_rail - screw;
    let edge = *cover.screw_edge;
    Some((
        offset + edge - above_rail(*cover.lower_screw),
        offset + height - edge - above_rail(*cover.upper_screw),
    ))
}

/// Whether a header lies right over the head of a recess, behind no more than board.
pub fn is_over_recess(facts: &Facts, cover: &CoverRules) -> bool {
    facts.has_header() && facts.header_offset_or_zero() <= *cover.board_most
}

/// Asks where a rail top puts a screw outside a known header.
pub(super) fn check(facts: &Facts, above: Length, cover: &CoverRules, record: &mut Record<'_>) {
    if let (Some((lowest, highest)), Some(header)) = (rail_tops(facts, cover), facts.header_height)
        && !(lowest..=highest).contains(&above)
    {
        let query = SizingQuery::NoWood { edge: record.shown(*cover.screw_edge) };
        record.ask(&query, Some(header.at), "");
    }
}
