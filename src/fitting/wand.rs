//! How long a wand is, and whether it can be reached.
//!
//! A wand never goes past a counter. A blind's bottom ends above whatever ends the wall below it, or
//! hangs in front of it, so a wand that ends above its blind's own bottom meets nothing below. One
//! step that is longer than that is asked about.
//!
//! A floor still to come makes a wand's end lower. Where nobody says by how much, an end that is too
//! high is judged from the floor as it is, and one that might become too low by the thickest floor.
//! In an accessible unit what is unknown never passes: the sill, such a floor, and how far something
//! below stands out, is asked where it would decide.

use super::queries::FittingQuery;
use crate::blinds::WandRules;
use crate::length::Length;
use crate::rules::{CoverRules, Rules, WandTilt};
use crate::schema::openings::{BELOW_STANDS_OUT, FLOOR_TO_COME, SILL_HEIGHT};
use crate::sizing::{Sizing, still_to_come};
use crate::survey::Facts;
use crate::worked::{Number, Record, Source};

/// The length of each wand, from the top of the drop: in whole steps, one at the least.
pub(super) fn length<'r>(
    facts: &Facts,
    sizing: &Sizing<'r>,
    (top, drop): (Option<Length>, Length),
    family: WandRules<'r>,
    rules: &'r Rules,
    record: &mut Record<'r>,
) -> Length {
    let to_come = still_to_come(facts, &rules.project);
    let wand = Wand { facts, top, drop, to_come, family, cover: &sizing.product.cover, rules };
    if facts.accessible {
        if **family.tilt == WandTilt::Twist {
            let source = rules.safety.access.operation.source.to_string();
            record.ask(&FittingQuery::WandTwists { source }, None, "");
        }
        if let Some(length) = wand.in_reach_from_a_wheelchair(record) {
            return length;
        }
    }
    let length = wand.ordinary(record);
    wand.check_bottom(length, record);
    match wand.top_above_finished_floor() {
        Some(top) if facts.accessible => wand.ask_for_another(length, top, record),
        Some(top) => wand.check_height(length, top, record),
        None => {}
    }
    length
}

/// What a wand's length follows from.
struct Wand<'f, 'r> {
    facts: &'f Facts,
    /// Top of the drop above the floor as it is on the day; `None` if the sill is unknown.
    top: Option<Length>,
    drop: Length,
    /// Thickness of the floor still to come; `None` if it is unknown.
    to_come: Option<Length>,
    family: WandRules<'r>,
    cover: &'r CoverRules,
    rules: &'r Rules,
}

impl<'r> Wand<'_, 'r> {
    /// Top of the drop above the finished floor; above the floor as it is where the one to come is unknown.
    fn top_above_finished_floor(&self) -> Option<Length> {
        self.top.map(|top| top - self.to_come.unwrap_or_default())
    }

    /// The longest that ends above the blind's own bottom.
    fn longest(&self) -> Length {
        self.drop - **self.family.above_bottom
    }

    /// The longest that ends high enough above the floor and above the blind's own bottom; where none
    /// does, the longest that keeps to the latter; up to half the drop where the floor is unknown.
    fn ordinary(&self, record: &mut Record<'r>) -> Length {
        let (of, step, longest) = (Number::Wand, **self.family.step, self.longest());
        let room = match self.top {
            Some(top) => {
                let end = self.family.end_height;
                record.step(of, "from the top of the drop down to the wand end height", end, top - **end)
            }
            None => {
                let half = self.drop.half_down();
                record.step(of, "half the drop (sill height unknown)", Source::Above, half)
            }
        };
        let above = self.family.above_bottom;
        let mut most =
            record.step(of, "no lower than this above the blind's bottom", above, room.min(longest));
        if most < step {
            most = record.step(of, "no wand ends so high: down to this above the bottom", above, longest);
        }
        record.step(of, "whole wand steps", self.family.step, most.rounded_down_to(step).max(step))
    }

    /// One step may be longer than its blind leaves room for.
    fn check_bottom(&self, length: Length, record: &mut Record<'_>) {
        if length <= self.longest() {
            return;
        }
        let query = FittingQuery::WandPastBottom { least: record.shown(**self.family.above_bottom) };
        let above = self.drop - length;
        let where_to = if above < Length::ZERO { "past" } else { "above" };
        record.ask(&query, None, format!("ends {} {where_to} the blind's bottom", record.shown(above.abs())));
    }

    /// A wand whose end many people cannot reach.
    fn check_height(&self, length: Length, top: Length, record: &mut Record<'_>) {
        let (end, highest) = (top - length, **self.family.in_reach);
        if end <= highest {
            return;
        }
        let made = self.made_to_measure(top - highest, self.longest());
        let most = record.shown(highest);
        let query = match made {
            Some(_) => FittingQuery::WandTooHigh { most },
            None => FittingQuery::WindowTooHigh { most },
        };
        let detail = self.would_do(end, made, record);
        record.ask(&query, self.facts.control.map(|control| control.at), detail);
    }

    /// The shortest that ends within reach from a wheelchair and above the blind's own bottom, if one
    /// does and where the floor is known.
    fn in_reach_from_a_wheelchair(&self, record: &mut Record<'r>) -> Option<Length> {
        let unknown = |column| FittingQuery::ReachUnknown { column };
        let Some(top) = self.top_above_finished_floor() else {
            let query = match self.facts.sill_height() {
                None => unknown(&SILL_HEIGHT),
                Some(_) => FittingQuery::ReachNotMeasured,
            };
            record.ask(&query, None, "");
            return None;
        };
        let reach = &self.rules.safety.access.reach;
        let below = self.facts.below_stands_out;
        if let Some(out) = below.filter(|out| out.value > reach.deepest.length) {
            let query = FittingQuery::TooFarToReach {
                most: record.shown(reach.deepest.length),
                source: reach.source.to_string(),
            };
            record.ask(&query, Some(out.at), record.shown(out.value).to_string());
        }
        let (of, step) = (Number::Wand, **self.family.step);
        let highest = reach.highest_for(below.map(|out| out.value)).length;
        let shortest = (top - highest).rounded_up_to(step).max(step);
        let end = top - shortest;
        if end < reach.lowest.length || shortest > self.longest() {
            return None;
        }
        // Something below that stands out by nobody knows how far may lower what can be reached, and a
        // floor of unknown thickness raises what is too low.
        if below.is_none() && self.facts.wall_below.is_some() && end > reach.highest_over.length {
            record.ask(&unknown(&BELOW_STANDS_OUT), None, "");
        }
        if self.to_come.is_none() && end - *self.cover.most_floor_to_come < reach.lowest.length {
            record.ask(&unknown(&FLOOR_TO_COME), None, "");
        }
        record.step(
            of,
            "from the top of the drop down to the highest reach from a wheelchair",
            Source::Above,
            top - highest,
        );
        Some(record.step(of, "up to whole wand steps", self.family.step, shortest))
    }

    /// No step ends within reach from a wheelchair; another length might.
    fn ask_for_another(&self, length: Length, top: Length, record: &mut Record<'_>) {
        let reach = &self.rules.safety.access.reach;
        let highest = reach.highest_for(self.facts.below_stands_out.map(|out| out.value)).length;
        let lowest = reach.lowest.length;
        let made = self.made_to_measure(top - highest, self.longest().min(top - lowest));
        let [from, to] = [lowest, highest].map(|height| record.shown(height));
        let source = reach.source.to_string();
        let query = match made {
            Some(_) => FittingQuery::WandOutOfReach { from, to, source },
            None => FittingQuery::WindowOutOfReach { from, to, source },
        };
        let detail = self.would_do(top - length, made, record);
        record.ask(&query, self.facts.control.map(|control| control.at), detail);
    }

    /// The shortest and the longest wand between two lengths, as it can be cut; `None` for none.
    fn made_to_measure(&self, shortest: Length, longest: Length) -> Option<[Length; 2]> {
        let step = *self.cover.rounding_step;
        let (shortest, longest) = (shortest.rounded_up_to(step).max(step), longest.rounded_down_to(step));
        (shortest <= longest).then_some([shortest, longest])
    }

    /// Where a wand ends, and which length would do.
    fn would_do(&self, end: Length, made: Option<[Length; 2]>, record: &Record<'_>) -> String {
        let ends = format!("ends {} above the finished floor", record.shown(end));
        match made {
            Some([shortest, longest]) => {
                format!("{ends}; {} to {} long would do", record.shown(shortest), record.shown(longest))
            }
            None => format!("{ends}; no wand that ends above the blind's bottom would do"),
        }
    }
}
