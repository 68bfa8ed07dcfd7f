//! The floor under a blind, as it is on the day and as it will be.

use crate::length::Length;
use crate::rules::{CoverRules, FloorsFinished, Project};
use crate::survey::{Facts, Floor, Kind};
use crate::worked::{Number, Record, Source};

/// What a blind keeps free above the floor as it is on the day: the gap over the finished
/// surface, and the floor that is still to come.
pub(super) fn gap_above_floor<'r>(
    facts: &Facts,
    cover: &'r CoverRules,
    of: Number,
    record: &mut Record<'r>,
) -> Length {
    let gap = match surface(facts) {
        Floor::Carpet => {
            record.step(of, "gap above carpet", &cover.floor_gap_carpet, *cover.floor_gap_carpet)
        }
        Floor::Hard | Floor::Unfinished => {
            record.step(of, "gap above the floor", &cover.floor_gap, *cover.floor_gap)
        }
    };
    match facts.floor_to_come {
        Some(to_come) => {
            let source: Source<'r> = to_come.at.into();
            record.step(of, "plus floor still to be laid", source, gap + to_come.value)
        }
        None => gap,
    }
}

/// What carpet and a floor to come take off an inside-mounted blind on a door, beyond the
/// clearance that a hard floor has already; 0 for a window.
pub(super) fn taken_inside(facts: &Facts, cover: &CoverRules) -> Length {
    if facts.kind == Kind::Window {
        return Length::ZERO;
    }
    let carpet = match surface(facts) {
        Floor::Carpet => *cover.floor_gap_carpet - *cover.floor_gap,
        Floor::Hard | Floor::Unfinished => Length::ZERO,
    };
    carpet + facts.floor_to_come_or_zero()
}

/// Whether the floor in front of a door is not laid and nobody said how thick it will be.
pub(super) fn is_open_question(facts: &Facts, project: &Project) -> bool {
    facts.kind != Kind::Window && still_to_come(facts, project).is_none()
}

/// Thickness of the floor still to be laid; `None` where it is not laid and nobody said how thick it
/// will be.
pub(crate) fn still_to_come(facts: &Facts, project: &Project) -> Option<Length> {
    let unfinished = match facts.floor {
        Some(floor) => floor.value == Floor::Unfinished,
        None => project.floors_finished == FloorsFinished::No,
    };
    match facts.floor_to_come {
        Some(to_come) => Some(to_come.value),
        None => (!unfinished).then_some(Length::ZERO),
    }
}

fn surface(facts: &Facts) -> Floor {
    facts.floor.map_or(Floor::Hard, |floor| floor.value)
}
