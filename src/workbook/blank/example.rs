//! The example row of a blank survey: a patio door, every cell filled as a person would fill it.
//! Its id says that it is not read.

use crate::length::Units;
use crate::schema::Column;
use crate::schema::openings::{
    ACCESSIBLE, BUILDING, COLOR, CONTROL, DEPTH_TO, DIAGONAL_1, DIAGONAL_2, DRAW, ESCAPE, EXAMPLE_ID, FLOOR,
    FLOOR_SURFACE, FLOOR_TO_COME, HANDLE, HEADER_HEIGHT, HEADER_OFFSET, HEIGHT_LEFT, HEIGHT_MIDDLE,
    HEIGHT_RIGHT, KIND, LEFT_ENDS_AT, MEASURED, MOUNT, NOTE, OPENING, OPENING_LEAF, OPENS, PHASE, PRODUCT,
    QUANTITY, RECESS_DEPTH, RIGHT_ENDS_AT, ROOM, SILL_HEIGHT, SUBSTRATE, TRIM, UNIT, WALL_ABOVE, WALL_BELOW,
    WALL_LEFT, WALL_RIGHT, WIDTH_BOTTOM, WIDTH_MIDDLE, WIDTH_TOP,
};

/// What an example cell holds.
enum Sample {
    /// The same in any survey.
    Word(&'static str),
    /// A length as a tape reads it: in inches, and in whole millimeters.
    Tape(&'static str, &'static str),
}

use Sample::{Tape, Word};

/// The cells, in no order that matters. `Width` and `Height` are blank beside their three places,
/// `Type` because the row stands for itself, and `Drop wanted` because the rules give it.
static CELLS: [(&Column, Sample); 43] = [
    (&OPENING, Word(EXAMPLE_ID)),
    (&BUILDING, Word("Block A")),
    (&FLOOR, Word("12")),
    (&UNIT, Word("12-04")),
    (&ROOM, Word("living room")),
    (&PHASE, Word("1")),
    (&KIND, Word("patio door")),
    (&QUANTITY, Word("1")),
    (&WIDTH_TOP, Tape("71 1/2", "1816")),
    (&WIDTH_MIDDLE, Tape("71 5/8", "1819")),
    (&WIDTH_BOTTOM, Tape("71 1/2", "1816")),
    (&HEIGHT_LEFT, Tape("80 1/4", "2038")),
    (&HEIGHT_MIDDLE, Tape("80 1/4", "2038")),
    (&HEIGHT_RIGHT, Tape("80 3/8", "2042")),
    // The root of 71.5 x 71.5 + 80.25 x 80.25 is 107.5.
    (&DIAGONAL_1, Tape("107 1/2", "2730")),
    (&DIAGONAL_2, Tape("107 5/8", "2733")),
    (&MEASURED, Word("tape")),
    (&RECESS_DEPTH, Tape("2 1/2", "64")),
    (&DEPTH_TO, Word("frame")),
    (&HANDLE, Tape("2 1/4", "57")),
    (&TRIM, Tape("3/4", "19")),
    (&WALL_LEFT, Tape("24", "610")),
    (&WALL_RIGHT, Tape("9 1/2", "241")),
    (&WALL_ABOVE, Tape("14", "356")),
    (&WALL_BELOW, Tape("0", "0")),
    (&LEFT_ENDS_AT, Word("free")),
    (&RIGHT_ENDS_AT, Word("wall")),
    (&SILL_HEIGHT, Tape("0", "0")),
    (&FLOOR_SURFACE, Word("unfinished")),
    (&FLOOR_TO_COME, Tape("5/8", "16")),
    (&HEADER_HEIGHT, Tape("9 1/4", "235")),
    (&HEADER_OFFSET, Tape("3/4", "19")),
    (&MOUNT, Word("outside")),
    (&PRODUCT, Word("louver-89")),
    (&COLOR, Word("white")),
    (&OPENING_LEAF, Word("left")),
    (&OPENS, Word("slide")),
    (&DRAW, Word("right")),
    (&CONTROL, Word("wand")),
    (&SUBSTRATE, Word("wood")),
    (&ACCESSIBLE, Word("no")),
    (&ESCAPE, Word("no")),
    (&NOTE, Word("old curtain rail to come down")),
];

/// What the example row shows under a column; empty where it is best left blank.
pub(super) fn cell(column: &Column, units: Units) -> &'static str {
    let sample = CELLS.iter().find(|(known, _)| known.slot == column.slot).map(|(_, sample)| sample);
    match (sample, units) {
        (Some(Word(text)), _) => text,
        (Some(Tape(inches, _)), Units::Inches) => inches,
        (Some(Tape(_, millimeters)), Units::Millimeters) => millimeters,
        (None, _) => "",
    }
}
