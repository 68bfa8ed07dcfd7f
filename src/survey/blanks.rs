//! What the blanks of a sized opening are taken for.

use std::collections::HashSet;
use std::sync::Arc;

use crate::assumptions::{Assumption, Assumptions};
use crate::length::Length;
use crate::query::OpeningIndex;
use crate::schema::Column;
use crate::schema::openings::{
    ACCESSIBLE, BELOW_STANDS_OUT, BLOCKING, CASING_WIDTH, CONTROL, DEPTH_TO, DIAGONAL_1, DIAGONAL_2, DRAW,
    DROP_WANTED, ESCAPE, FLOOR_SURFACE, FLOOR_TO_COME, HANDLE, HEADER_HEIGHT, HEADER_OFFSET, KIND,
    LEFT_ENDS_AT, MEASURED, MOUNT, OPENING, OPENING_LEAF, OPENINGS, OPENS, QUANTITY, RECESS_DEPTH,
    RIGHT_ENDS_AT, SILL_HEIGHT, STUD_SPACING, SUBSTRATE, TRIM, UNIT, WALL_ABOVE, WALL_BELOW, WALL_LEFT,
    WALL_RIGHT,
};

use super::category::Category;
use super::joined::Joined;
use super::{Control, DepthTo, EndsAt, Facts, Floor, Given, MountWanted, NO_UNIT, SizeSource, Survey};

/// How a blank is listed that is taken for nothing.
const UNKNOWN: &str = "unknown";

/// Blanks that mean the same at every opening. A product and a color are not among them: their
/// blanks mean what the rules say, and the stage that reads those counts them.
static ALWAYS: [(&Column, &str); 26] = [
    (&OPENING, "the unit and a running number"),
    (&UNIT, NO_UNIT),
    (&QUANTITY, "1"),
    (&DIAGONAL_1, "square"),
    (&DIAGONAL_2, "square"),
    (&DROP_WANTED, "worked out from the rules"),
    (&MEASURED, SizeSource::Tape.word()),
    (&RECESS_DEPTH, UNKNOWN),
    (&HANDLE, "0"),
    (&TRIM, "0"),
    (&WALL_LEFT, "enough"),
    (&WALL_RIGHT, "enough"),
    (&WALL_ABOVE, "enough, or up to the project's ceiling height"),
    (&WALL_BELOW, "enough"),
    (&LEFT_ENDS_AT, EndsAt::Free.word()),
    (&RIGHT_ENDS_AT, EndsAt::Free.word()),
    (&FLOOR_SURFACE, "hard, or unfinished if the project's floors are not finished"),
    (&HEADER_HEIGHT, UNKNOWN),
    (&MOUNT, MountWanted::Either.word()),
    (&OPENING_LEAF, UNKNOWN),
    (&OPENS, UNKNOWN),
    (&DRAW, "over the fixed leaf, otherwise left"),
    (&CONTROL, Control::Wand.word()),
    (&SUBSTRATE, UNKNOWN),
    (&ACCESSIBLE, "no"),
    (&ESCAPE, "no"),
];

/// What the blanks of an opening are taken for: the slot of each column, and the value. Openings that are
/// alike in this share it.
pub type Blanks = Arc<[(usize, &'static str)]>;

/// Every distinct list met so far.
#[derive(Default)]
pub(super) struct Known(HashSet<Blanks>);

impl Known {
    /// The list, shared with every equal one.
    fn shared(&mut self, blanks: &[(usize, &'static str)]) -> Blanks {
        if let Some(known) = self.0.get(blanks) {
            return Arc::clone(known);
        }
        let new: Blanks = blanks.into();
        self.0.insert(Arc::clone(&new));
        new
    }
}

/// What was taken for blanks, for how many openings: of those that got a blind, for no other was served by it.
pub fn assumed(survey: &Survey, has_blind: impl Fn(OpeningIndex) -> bool) -> Vec<Assumption> {
    let mut assumptions = Assumptions::default();
    for (_, opening) in survey.openings.iter().enumerate().filter(|(index, _)| has_blind(*index)) {
        for &(slot, value) in opening.blanks.iter() {
            assumptions.count(OPENINGS.columns[slot], value, u64::from(opening.who.quantity));
        }
    }
    assumptions.into_list()
}

/// What is taken for each blank of an opening.
pub(super) fn of(joined: Joined<'_>, facts: &Facts, known: &mut Known) -> Blanks {
    let mut blanks = Vec::new();
    let mut blank = |column: &'static Column, value: &'static str| {
        if joined.entry(column).is_none() {
            blanks.push((column.slot, value));
        }
    };
    for (column, value) in ALWAYS {
        blank(column, value);
    }
    if joined.category().is_none_or(|category| category == Category::Other) {
        blank(&KIND, facts.kind.word());
    }
    blank(&SILL_HEIGHT, if facts.sill_height().is_some() { "0" } else { UNKNOWN });
    // The rest matter only beside what they belong to.
    let some = |length: Option<Given<Length>>| length.is_some_and(|given| given.value > Length::ZERO);
    if some(facts.recess_depth) {
        blank(&DEPTH_TO, DepthTo::Glass.word());
    }
    if some(facts.header_height) {
        blank(&HEADER_OFFSET, "0");
    }
    if some(facts.trim) {
        blank(&CASING_WIDTH, UNKNOWN);
    }
    if facts.wall_below.is_some() {
        blank(&BELOW_STANDS_OUT, UNKNOWN);
    }
    if facts.substrate.is_some_and(|substrate| substrate.value.has_studs()) {
        blank(&STUD_SPACING, UNKNOWN);
        blank(&BLOCKING, "no");
    }
    if facts.floor.is_some_and(|floor| floor.value != Floor::Unfinished) {
        blank(&FLOOR_TO_COME, "0");
    }
    known.shared(&blanks)
}
