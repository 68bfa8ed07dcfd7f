//! What stays clear when the blind is open, and whether a leaf that comes in meets it.

use super::heights::Heights;
use super::overlap::Overlaps;
use super::queries::FittingQuery;
use crate::blinds::Stack;
use crate::length::Length;
use crate::rules::CoverRules;
use crate::sizing::{Hung, Sizing};
use crate::survey::{Draw, Facts, Opens};
use crate::worked::{Number, Record, Source};

/// Width of the opening that no stack stands in front of; `None` if the opening is unknown, or the
/// blind is not drawn aside.
pub(super) fn when_open(
    facts: &Facts,
    stack: Option<Stack>,
    overlaps: Option<&Overlaps>,
    record: &mut Record<'_>,
) -> Option<Length> {
    let (stack, [left, right]) = (stack?, overlaps?.doubled);
    let opening = facts.width.least().value;
    let hidden = |doubled_overlap: i64| (2 * stack.width.nm() - doubled_overlap).max(0);
    let doubled = match stack.draw {
        Draw::Left => hidden(left),
        Draw::Right => hidden(right),
        Draw::Split => hidden(left) + hidden(right),
    };
    let clear = Length::from_ratio(i128::from(2 * opening.nm() - doubled), 2).max(Length::ZERO);
    Some(record.step(Number::ClearOpen, "smallest width minus stack over the opening", Source::Above, clear))
}

/// A leaf that opens into the room meets the stack or the rail of an outside-mounted blind.
pub(super) fn check_leaf(
    facts: &Facts,
    sizing: &Sizing<'_>,
    clear_open: Option<Length>,
    heights: &Heights,
    cover: &CoverRules,
    record: &mut Record<'_>,
) {
    let Some(opens) = facts.opens.filter(|opens| matches!(opens.value, Opens::In | Opens::Tilt)) else {
        return;
    };
    let (Hung::Outside(_) | Hung::Ceiling(_), Some(above_head)) = (&sizing.hung, heights.above_head) else {
        return;
    };
    if clear_open.is_some_and(|clear| clear < facts.width.least().value) {
        record.ask(&FittingQuery::LeafMeetsStack, Some(opens.at), "");
    }
    if above_head.drop_top < *cover.above_least {
        record.ask(&FittingQuery::LeafMeetsRail, Some(opens.at), "");
    }
}
