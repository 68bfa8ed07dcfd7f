//! Sizes against what was measured, and against what else would do.

use super::{Covered, Invariant};
use crate::length::Length;
use crate::rules::SizesGiven;
use crate::sizing::Hung;
use crate::sourcing::Origin;
use crate::survey::{DepthTo, Given, Measured};

pub(super) const INVARIANTS: &[Invariant] = &[
    Invariant::of_opening("a size is one that would do for its opening, or a query says why not", would_do),
    Invariant::of_opening(
        "a blind is within the limits of its product, or a query says why not",
        within_limits,
    ),
    Invariant::of_opening("an inside blind is clear of the recess that was measured", inside_is_clear),
    Invariant::of_opening(
        "an outside blind has its minimum overlaps, or a query says why not",
        outside_covers,
    ),
    Invariant::of_opening("an outside blind stays on the free wall", outside_has_wall),
    Invariant::of_opening("a size that is given as finished is taken as it is", finished_is_taken),
];

const LEFT: &[&str] = &["left-overlap-too-small", "left-closed-by-wall"];
const RIGHT: &[&str] = &["right-overlap-too-small", "right-closed-by-wall"];

/// Whether it is a stock size that is narrower than is wanted, which a query says.
fn is_short(of: &Covered<'_, '_>) -> bool {
    of.blind.sourced.supply.origin() == Origin::Stock
        && of.size().width < of.blind.sizing.window.least().width
        && [&["less-cover"], LEFT, RIGHT].into_iter().any(|codes| of.is_told(codes))
}

fn would_do(of: &Covered<'_, '_>) -> Option<String> {
    let (size, window) = (of.size(), &of.blind.sizing.window);
    let wide = (window.least().width..=window.most().width).contains(&size.width) || is_short(of);
    let long = (window.least().drop..=window.most().drop).contains(&size.drop);
    let does = wide && long || of.stands();
    (!does).then(|| format!("would not take its blind of {}", of.size_in_words()))
}

fn within_limits(of: &Covered<'_, '_>) -> Option<String> {
    let (size, cover) = (of.size(), of.cover());
    let wide = (*cover.least_width..=*cover.most_width).contains(&size.width) || is_short(of);
    let long = (*cover.least_drop..=*cover.most_drop).contains(&size.drop);
    let is_within = wide && long || of.stands();
    (!is_within).then(|| format!("has a {} of {}", of.blind.sizing.product.name, of.size_in_words()))
}

/// Whether the opening itself was measured, and its blind is not one that was ordered and stands.
fn is_measured(of: &Covered<'_, '_>) -> bool {
    of.report.rules.project.sizes_given == SizesGiven::Opening && !of.stands()
}

fn is_inside(of: &Covered<'_, '_>) -> bool {
    matches!(of.blind.sizing.hung, Hung::Inside(_))
}

/// The least and the most of some measurements.
fn ends(measured: &Measured) -> [Length; 2] {
    let all = || measured.all().map(|given| given.value);
    [all().min().unwrap_or_default(), all().max().unwrap_or_default()]
}

fn inside_is_clear(of: &Covered<'_, '_>) -> Option<String> {
    let ([width, _], [height, _]) = (ends(&of.facts.width), ends(&of.facts.height));
    let (size, cover) = (of.size(), of.cover());
    let to_handle = of.facts.depth_to.is_some_and(|to| to.value == DepthTo::Handle);
    let handle = of.facts.handle.filter(|_| !to_handle).map_or(Length::ZERO, |handle| handle.value);
    let depth = handle + *cover.louver_clearance + cover.depth.share(1, 2) + *cover.half_headrail;
    let is_clear = size.width <= width - *cover.side_clearance * 2
        && size.drop <= height - *cover.inside_drop_clearance
        && of.facts.recess_depth.is_none_or(|given| given.value >= depth);
    let fails = is_measured(of) && is_inside(of) && !is_clear;
    fails.then(|| format!("does not hold its blind of {}", of.size_in_words()))
}

fn outside_covers(of: &Covered<'_, '_>) -> Option<String> {
    if is_inside(of) || !is_measured(of) {
        return None;
    }
    let Some(overlaps) = &of.blind.fitted.overlaps else { return Some("has unknown overlaps".to_owned()) };
    let [_, widest] = ends(&of.facts.width);
    if overlaps.left + overlaps.right != of.size().width - widest {
        return Some("has overlaps that its width does not leave".to_owned());
    }
    let sides = [(overlaps.left, LEFT), (overlaps.right, RIGHT)];
    let is_bare = |(overlap, codes)| overlap < *of.cover().overlap_least && !of.is_told(codes);
    let (overlap, _) = sides.into_iter().find(|&side| is_bare(side))?;
    Some(format!("is covered by {} at a side", overlap.in_full(of.report.rules.project.units)))
}

fn outside_has_wall(of: &Covered<'_, '_>) -> Option<String> {
    let (facts, fitted, cover) = (of.facts, &of.blind.fitted, of.cover());
    let beside = *cover.valance_past_rail + *cover.hand_room;
    // The bracket's top is above the rail's; a rail under a ceiling has no such bracket.
    let rail = fitted.brackets.top_above_head.filter(|_| matches!(of.blind.sizing.hung, Hung::Outside(_)));
    let sides: [(Option<Length>, Option<Given<Length>>, Length); 3] = [
        (fitted.overlap_left(), facts.wall_left, beside),
        (fitted.overlap_right(), facts.wall_right, beside),
        (rail, facts.wall_above, *cover.room_above - *cover.bracket_above_rail),
    ];
    let is_past = sides.into_iter().any(|(reaches, wall, room)| {
        reaches.zip(wall).is_some_and(|(reaches, wall)| reaches > wall.value - room)
    });
    let fails = is_measured(of) && !is_inside(of) && is_past;
    fails.then(|| format!("has too little wall for its blind of {}", of.size_in_words()))
}

fn finished_is_taken(of: &Covered<'_, '_>) -> Option<String> {
    let ([width, _], [drop, _]) = (ends(&of.facts.width), ends(&of.facts.height));
    let is_finished = of.report.rules.project.sizes_given == SizesGiven::Finished && !of.stands();
    let fails = is_finished && (of.size().width, of.size().drop) != (width, drop);
    fails.then(|| format!("gets a blind of {}", of.size_in_words()))
}
