//! The rules of a vertical-louver product, from its row: read, and checked against one another.

use std::sync::Arc;

use super::LouverRules;
use super::queries::{Findings, RuleQuery};
use super::raw::{Missing, RawRow};
use crate::grid::Value;
use crate::length::{Length, Units};
use crate::schema::rules::products as p;
use crate::schema::{Column, Merged, Offered, SIZE};
use crate::tables::{self, Datum};

/// One of the reaches.
static REACH: Column = Column {
    slot: 0,
    key: "reach",
    name: "Reach",
    synonyms: &[],
    kind: SIZE,
    blank: "",
    offered: Offered::InBlank,
    merged: Merged::FirstRow,
    help: "",
};

/// The reaches, each read as a length of its own: rising, and each with its bracket.
pub(super) fn reaches(row: &RawRow, units: Units, findings: &mut Findings) -> Option<Vec<Length>> {
    let (texts, items): (Vec<Arc<str>>, Vec<Arc<str>>) =
        (row.value(&p::REACHES)?, row.value(&p::BRACKET_ITEMS)?);
    let at = row.at(&p::REACHES);
    let mut reaches = Vec::with_capacity(texts.len());
    for text in &texts {
        // Each is read as a column of sizes is.
        match tables::read_value(&Value::Text((&**text).into()), &REACH, None, units) {
            Ok(Datum::Length(reach)) => reaches.push(reach),
            Ok(_) => return None,
            Err(unread) => findings.unreadable(row.table.sheet, at, &unread),
        }
    }
    if reaches.len() < texts.len() {
        return None;
    }
    if !reaches.is_sorted_by(|shorter, longer| shorter < longer) {
        let detail = format!("{}: {}", row.item, row.written(&p::REACHES));
        findings.stop(RuleQuery::ReachesDoNotRise, at, detail);
    }
    if reaches.len() != items.len() {
        let detail = format!("{}: {} reaches, {} items", row.item, reaches.len(), items.len());
        findings.stop(RuleQuery::BracketItems, row.at(&p::BRACKET_ITEMS), detail);
    }
    Some(reaches)
}

/// Every rule of the family.
pub(super) fn rules(row: &RawRow, reaches: Vec<Length>) -> Result<LouverRules, Missing> {
    Ok(LouverRules {
        louver_width: row.rule(&p::LOUVER_WIDTH)?,
        pitch: row.rule(&p::PITCH)?,
        least_width: row.rule(&p::LEAST_WIDTH)?,
        most_width: row.rule(&p::MOST_WIDTH)?,
        least_drop: row.rule(&p::LEAST_DROP)?,
        most_drop: row.rule(&p::MOST_DROP)?,
        rounding_step: row.rule(&p::ROUNDING_STEP)?,
        most_depth: row.rule(&p::MOST_DEPTH)?,
        most_handle: row.rule(&p::MOST_HANDLE)?,
        most_trim: row.rule(&p::MOST_TRIM)?,
        most_floor_to_come: row.rule(&p::MOST_FLOOR_TO_COME)?,
        side_clearance: row.rule(&p::SIDE_CLEARANCE)?,
        inside_drop_clearance: row.rule(&p::INSIDE_DROP_CLEARANCE)?,
        louver_clearance: row.rule(&p::LOUVER_CLEARANCE)?,
        half_headrail: row.rule(&p::HALF_HEADRAIL)?,
        spread_limit: row.rule(&p::SPREAD_LIMIT)?,
        small_spread_limit: row.rule(&p::SMALL_SPREAD_LIMIT)?,
        small_opening_sq_ft: row.rule(&p::SMALL_OPENING_SQ_FT)?,
        window_most_off: row.rule(&p::WINDOW_MOST_OFF)?,
        window_least_off: row.rule(&p::WINDOW_LEAST_OFF)?,
        overlap_wanted: row.rule(&p::OVERLAP_WANTED)?,
        overlap_least: row.rule(&p::OVERLAP_LEAST)?,
        valance_past_rail: row.rule(&p::VALANCE_PAST_RAIL)?,
        hand_room: row.rule(&p::HAND_ROOM)?,
        above_wanted: row.rule(&p::ABOVE_WANTED)?,
        above_least: row.rule(&p::ABOVE_LEAST)?,
        above_most: row.rule(&p::ABOVE_MOST)?,
        above_floor: row.rule(&p::ABOVE_FLOOR)?,
        room_above: row.rule(&p::ROOM_ABOVE)?,
        bracket_above_rail: row.rule(&p::BRACKET_ABOVE_RAIL)?,
        floor_gap: row.rule(&p::FLOOR_GAP)?,
        floor_gap_carpet: row.rule(&p::FLOOR_GAP_CARPET)?,
        below_wanted: row.rule(&p::BELOW_WANTED)?,
        below_least: row.rule(&p::BELOW_LEAST)?,
        room_below: row.rule(&p::ROOM_BELOW)?,
        above_sill: row.rule(&p::ABOVE_SILL)?,
        upper_screw: row.rule(&p::UPPER_SCREW)?,
        lower_screw: row.rule(&p::LOWER_SCREW)?,
        screw_edge: row.rule(&p::SCREW_EDGE)?,
        reaches: row.named(&p::REACHES, reaches),
        bracket_items: row.needed(&p::BRACKET_ITEMS)?,
        inside_bracket_item: row.needed(&p::INSIDE_BRACKET_ITEM)?,
        bracket_inset: row.rule(&p::BRACKET_INSET)?,
        bracket_spacing: row.rule(&p::BRACKET_SPACING)?,
        fixings_per_bracket: row.rule(&p::FIXINGS_PER_BRACKET)?,
        louver_off_outside: row.rule(&p::LOUVER_OFF_OUTSIDE)?,
        louver_off_inside: row.rule(&p::LOUVER_OFF_INSIDE)?,
        end_cap: row.rule(&p::END_CAP)?,
        rod_off: row.rule(&p::ROD_OFF)?,
        wand_step: row.rule(&p::WAND_STEP)?,
        wand_end_height: row.rule(&p::WAND_END_HEIGHT)?,
        stack_per_louver: row.rule(&p::STACK_PER_LOUVER)?,
        stack_base: row.rule(&p::STACK_BASE)?,
        return_beyond: row.rule(&p::RETURN_BEYOND)?,
        clip_offset: row.rule(&p::CLIP_OFFSET)?,
        fabric_mass: row.rule(&p::FABRIC_MASS)?,
        weight_mass: row.rule(&p::WEIGHT_MASS)?,
        carrier_mass: row.rule(&p::CARRIER_MASS)?,
        rail_mass: row.rule(&p::RAIL_MASS)?,
        valance_mass: row.rule(&p::VALANCE_MASS)?,
        two_people_length: row.rule(&p::TWO_PEOPLE_LENGTH)?,
        two_people_mass: row.rule(&p::TWO_PEOPLE_MASS)?,
        least_spare_louvers: row.rule(&p::LEAST_SPARE_LOUVERS)?,
        hem: row.rule(&p::HEM)?,
        rail_material: row.needed(&p::RAIL_MATERIAL)?,
        rod_material: row.needed(&p::ROD_MATERIAL)?,
        valance_material: row.needed(&p::VALANCE_MATERIAL)?,
        louver_material: row.needed(&p::LOUVER_MATERIAL)?,
        tolerance: row.rule(&p::TOLERANCE)?,
    })
}

/// What may not be over what: both allowed to be equal.
const NOT_OVER: [(&Column, &Column); 9] = [
    (&p::LEAST_WIDTH, &p::MOST_WIDTH),
    (&p::LEAST_DROP, &p::MOST_DROP),
    (&p::PITCH, &p::LOUVER_WIDTH),
    (&p::WINDOW_LEAST_OFF, &p::WINDOW_MOST_OFF),
    (&p::OVERLAP_LEAST, &p::OVERLAP_WANTED),
    (&p::ABOVE_FLOOR, &p::ABOVE_LEAST),
    (&p::ABOVE_LEAST, &p::ABOVE_WANTED),
    (&p::ABOVE_WANTED, &p::ABOVE_MOST),
    (&p::BELOW_LEAST, &p::BELOW_WANTED),
];

/// What must be under what, so that something is left: a couple arm, a rod, a louver.
const UNDER: [(&Column, &Column); 5] = [
    (&p::UPPER_SCREW, &p::LOWER_SCREW),
    (&p::ROD_OFF, &p::LEAST_WIDTH),
    (&p::LOUVER_OFF_OUTSIDE, &p::LEAST_DROP),
    (&p::LOUVER_OFF_INSIDE, &p::LEAST_DROP),
    (&p::LOUVER_WIDTH, &p::MOST_WIDTH),
];

/// Rules that contradict one another. A stop points at whichever of the two the survey wrote.
pub(super) fn cross_check(row: &RawRow, findings: &mut Findings) {
    let length = |column| row.value::<Length>(column);
    let pair = |less: &Column, more: &Column| {
        let wrote = [less, more].iter().find_map(|column| row.cell(column)?.at());
        (wrote.or(row.at), format!("{}: {}, {}", row.item, row.written(less), row.written(more)))
    };
    for (less, more) in NOT_OVER {
        if length(less) > length(more) {
            let (at, detail) = pair(less, more);
            findings.stop(RuleQuery::Over { less: less.name, more: more.name }, at, detail);
        }
    }
    for (less, more) in UNDER {
        if length(less) >= length(more) {
            let (at, detail) = pair(less, more);
            findings.stop(RuleQuery::NotUnder { less: less.name, more: more.name }, at, detail);
        }
    }
    if length(&p::END_CAP).map(|cap| cap * 2) >= length(&p::LEAST_WIDTH) {
        let (at, detail) = pair(&p::END_CAP, &p::LEAST_WIDTH);
        findings.stop(RuleQuery::EndCaps, at, detail);
    }
}
