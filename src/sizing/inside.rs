//! A blind within the recess.
//!
//! The window of an inside mount never reaches past the clearances, also where a product's
//! clearances are wider than the window's.

use std::sync::Arc;

use super::lean::Lean;
use super::limits::Ends;
use super::queries::SizingQuery;
use super::{Mount, floor, ground, handle_in_the_way};
use crate::length::Length;
use crate::rules::{CoverRules, Rules};
use crate::survey::{Facts, Opens};
use crate::worked::{Number, Record};

/// How a blind hangs within the recess.
#[derive(Clone, Debug)]
pub struct InRecess<'r> {
    /// The bracket's item.
    pub bracket: &'r Arc<str>,
    /// Where it puts the rail; `None` if the depth is unknown.
    pub rail: Option<RailInRecess>,
    /// What the recess allows; `None` in a survey of finished sizes, where it is unknown.
    pub allowance: Option<InsideAllowance>,
}

/// Where the rail hangs in a recess of known depth.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RailInRecess {
    /// Wall face to the rail's center.
    pub setback: Length,
    /// How far turned louvers stand out of the recess.
    pub stands_proud: Length,
}

/// What a recess allows. Heights are from the bottom of the opening.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct InsideAllowance {
    /// Width of the opening, the least.
    pub opening_width: Length,
    /// Head above the bottom of the opening, where the height is least.
    pub head: Length,
}

/// The ranges of sizes within a recess.
pub(super) struct InsideSize {
    pub(super) width: Ends,
    pub(super) drop: Ends,
    /// The most drop that the recess takes; a wanted drop may not be over it.
    pub(super) most_drop: Length,
    pub(super) allowance: InsideAllowance,
}

/// Works the size from the least width and height, noting each step.
pub(super) fn size<'r>(
    facts: &Facts,
    lean: Option<Lean>,
    cover: &'r CoverRules,
    record: &mut Record<'r>,
) -> InsideSize {
    let step = *cover.rounding_step;
    let narrowest = facts.width.least();
    let lowest = facts.height.least();
    record.step(Number::Width, "smallest width of the opening", narrowest.at, narrowest.value);
    let clear = *cover.side_clearance * 2;
    let widest = record.step(
        Number::Width,
        "minus clearance, both sides",
        &cover.side_clearance,
        narrowest.value - clear,
    );
    // Louvers hang plumb between sides that lean.
    let down =
        |length: Length| lean.map_or(length.rounded_down_to(step), |lean| lean.off_and_down(length, step));
    let up = |length: Length| lean.map_or(length.rounded_up_to(step), |lean| lean.off_and_up(length, step));
    if let (Some(lean), Some([diagonal, _])) = (lean.filter(Lean::counts), facts.diagonals) {
        let leans = "minus how far the opening is out of square";
        record.step(Number::Width, leans, diagonal.at, widest - lean.by);
    }
    let width = record.step(Number::Width, "rounded down to the step", &cover.rounding_step, down(widest));

    record.step(Number::Drop, "smallest height of the opening", lowest.at, lowest.value);
    let clearance = &cover.inside_drop_clearance;
    let longest = record.step(Number::Drop, "minus clearance", clearance, lowest.value - **clearance);
    let taken = floor::taken_inside(facts, cover);
    let longest = if taken == Length::ZERO {
        longest
    } else {
        record.step(
            Number::Drop,
            "minus extra gap for carpet and floor to come",
            &cover.floor_gap_carpet,
            longest - taken,
        )
    };
    let most_drop = record.step(
        Number::Drop,
        "rounded down to the step",
        &cover.rounding_step,
        longest.rounded_down_to(step),
    );
    let drop = match facts.drop_wanted {
        Some(wanted) => record.step(Number::Drop, "drop wanted, taken as given", wanted.at, wanted.value),
        None => most_drop,
    };

    let shortest = (lowest.value - *cover.window_most_off - taken).rounded_up_to(step);
    let longest = longest.min(lowest.value - *cover.window_least_off - taken).rounded_down_to(step);
    InsideSize {
        width: Ends {
            preferred: width,
            least: up(narrowest.value - *cover.window_most_off),
            most: down(widest.min(narrowest.value - *cover.window_least_off)),
        },
        drop: match facts.drop_wanted {
            Some(_) => Ends::only(drop),
            None => Ends { preferred: drop, least: shortest, most: longest },
        },
        most_drop,
        allowance: InsideAllowance { opening_width: narrowest.value, head: lowest.value },
    }
}

/// The depth that an inside mount needs in front of what the depth was taken to.
pub(super) fn depth_needed<'r>(facts: &Facts, cover: &'r CoverRules, record: &mut Record<'r>) -> Length {
    let of = Number::DepthNeeded;
    let handle = handle_in_the_way(facts);
    if let Some(given) = facts.handle {
        record.step(of, "handle in the way of the louvers", given.at, handle);
    }
    let clear =
        record.step(of, "plus louver clearance", &cover.louver_clearance, handle + *cover.louver_clearance);
    let turned = record.step(of, "plus half a louver", &cover.depth, clear + cover.half_depth());
    record.step(of, "plus half the rail depth", &cover.half_headrail, turned + *cover.half_headrail)
}

/// The first reason why the recess does not take a blind; depth and size are judged by themselves.
pub(super) fn obstacle(
    facts: &Facts,
    lean: Option<Lean>,
    cover: &CoverRules,
    record: &Record<'_>,
) -> Option<SizingQuery> {
    let most = *cover.side_clearance * 2;
    let leans = || lean.is_some_and(|lean| lean.by > most);
    leaf_in_the_way(facts).or_else(|| leans().then(|| SizingQuery::InsideLeans { most: record.shown(most) }))
}

/// A leaf that comes into the room, where an inside blind would hang in its way.
pub(super) fn leaf_in_the_way(facts: &Facts) -> Option<SizingQuery> {
    let opens = facts.opens?.value;
    matches!(opens, Opens::In | Opens::Tilt).then_some(SizingQuery::InsideLeafComesIn { opens })
}

/// The bracket in a recess of known or unknown depth; what the recess allows is not asked here.
pub(super) fn hang<'r>(
    facts: &Facts,
    cover: &'r CoverRules,
    rules: &Rules,
    record: &mut Record<'r>,
) -> InRecess<'r> {
    let handle = handle_in_the_way(facts);
    let half = cover.half_depth();
    let rail = facts.recess_depth.map(|depth| {
        let of = Number::Setback;
        record.step(of, "recess depth", depth.at, depth.value);
        let free = depth.value - handle - *cover.louver_clearance - half;
        record.step(of, "minus handle, louver clearance and half a louver", &cover.louver_clearance, free);
        let wanted = half.max(ground::greatest_edge(facts, Mount::Inside, (cover, rules)));
        let set = free.min(wanted).max(*cover.half_headrail);
        let step = "no more than half a louver or the screws' edge, no less than half the rail";
        let setback = record.step(of, step, &cover.half_headrail, set);
        ground::check_edge(facts, setback, Mount::Inside, (cover, rules), record);
        let proud = handle + *cover.louver_clearance + *cover.depth - depth.value;
        let stands_proud = record.step(
            Number::StandsProud,
            "louvers past the wall face when rotated",
            &cover.depth,
            proud.max(Length::ZERO),
        );
        RailInRecess { setback, stands_proud }
    });
    InRecess { bracket: &cover.inside_bracket_item, rail, allowance: None }
}
