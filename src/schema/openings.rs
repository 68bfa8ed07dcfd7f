//! The columns of `Openings`, and of `Types`, which may hold any of them once for many openings.
//!
//! What was written and cannot be read is never taken for a blank. In a column that decides a size,
//! a mount or safety it is a stop; elsewhere a check. A rule cell that cannot be read stops the
//! run, unless that rule may be unknown (a price, a lead time, a capacity).

use super::choices::{
    self, Control, CordDevice, DepthTo, Draw, EndsAt, Floor, Leaf, MotorSide, MountWanted, Opens, SizeSource,
    Slab, Species, Substrate,
};
use super::synonyms;
use super::{Form, Kind, LENGTH, OFFSET, SIZE, YES_NO, columns};
use crate::length::PairOrder;
use crate::schema::Column;

/// The sheet that lists the types, under the columns of `Openings`.
pub const TYPES: &str = "Types";

/// What stands for an id in the example row of a blank survey. A row with this id is no opening;
/// no one would give it to a door or a window.
pub const EXAMPLE_ID: &str = "example - not read";

columns! { OPENINGS, "Openings", Form::Rows, "One row for each door or window. Left and right are as seen from inside the room.";
    OPENING "opening" "Opening" (synonyms::OPENING) Kind::Text, "the unit and a running number", "The mark or number of the opening. No two openings of a unit may share one.", unknown;
    BUILDING "building" "Building" (synonyms::BUILDING) Kind::Text, "taken from the merged cell above, otherwise none", "The building, if there is more than one.", merged, unknown;
    FLOOR "floor" "Floor" (synonyms::FLOOR) Kind::Text, "taken from the merged cell above, otherwise none", "The floor the unit is on.", merged, unknown;
    UNIT "unit" "Unit" (synonyms::UNIT) Kind::Text, "taken from the merged cell above, otherwise none", "The apartment or flat. Each has its own unit page for the fitter.", merged, unknown;
    ROOM "room" "Room" (synonyms::ROOM) Kind::Text, "taken from the merged cell above, otherwise none", "The room the opening is in.", merged, unknown;
    PHASE "phase" "Phase" (synonyms::PHASE) Kind::Text, "taken from the merged cell above, otherwise none", "The delivery phase. Sizes are never merged across phases.", merged, unknown;
    KIND "kind" "Kind" (synonyms::KIND) Kind::Choice(choices::Kind::WORDS), "patio door if the height is 72 in or more and the sill 6 in or less, or blank; otherwise window", "What the opening is.", decides;
    TYPE "type" "Type" (synonyms::TYPE) Kind::Text, "no type", "A name from the sheet Types. Its row there fills the blank cells of this row.";
    CATEGORY "category" "Category" (synonyms::CATEGORY) Kind::Text, "a door or a window", "What the row is, in a schedule that also lists other things than doors and windows.", only_read;
    QUANTITY "quantity" "Quantity" (synonyms::QUANTITY) Kind::Whole { least: 1, most: 10_000 }, "1", "How many identical openings this row covers.";
    WIDTH "width" "Width" (synonyms::WIDTH) SIZE, "Width top, middle and bottom are used", "Width of the opening (one reading), wall to wall or edge to edge.";
    WIDTH_TOP "width_top" "Width top" (synonyms::WIDTH_TOP) SIZE, "not measured there", "Width of the opening near its head (top), from left edge to right edge.";
    WIDTH_MIDDLE "width_middle" "Width middle" (synonyms::WIDTH_MIDDLE) SIZE, "not measured there", "Width of the opening at half its height, from left edge to right edge.";
    WIDTH_BOTTOM "width_bottom" "Width bottom" (synonyms::WIDTH_BOTTOM) SIZE, "not measured there", "Width of the opening near its sill (bottom), from left edge to right edge.";
    HEIGHT "height" "Height" (synonyms::HEIGHT) SIZE, "Height left, middle and right are used", "Height of the opening (one reading), from sill (bottom) to head (top).";
    HEIGHT_LEFT "height_left" "Height left" (synonyms::HEIGHT_LEFT) SIZE, "not measured there", "Height of the opening near its left side, from sill to head.";
    HEIGHT_MIDDLE "height_middle" "Height middle" (synonyms::HEIGHT_MIDDLE) SIZE, "not measured there", "Height of the opening at half its width, from sill to head.";
    HEIGHT_RIGHT "height_right" "Height right" (synonyms::HEIGHT_RIGHT) SIZE, "not measured there", "Height of the opening near its right side, from sill to head.";
    SIZE_IN_ONE "size" "Size" (synonyms::SIZE_IN_ONE) Kind::Pair(None), "Width and Height are used", "Width and height in one cell; the heading or the cell must say which comes first.", only_read, unknown;
    WIDTH_BY_HEIGHT "width_by_height" "W x H" [] Kind::Pair(Some(PairOrder::WidthFirst)), "Width and Height are used", "Width and height in one cell, the width first.", only_read, unknown;
    HEIGHT_BY_WIDTH "height_by_width" "H x W" [] Kind::Pair(Some(PairOrder::HeightFirst)), "Width and Height are used", "Width and height in one cell, the height first.", only_read, unknown;
    DIAGONAL_1 "diagonal_1" "Diagonal 1" (synonyms::DIAGONAL_1) SIZE, "not measured; one diagonal alone is ignored", "Corner to corner, from bottom left to top right.", holds_if_it_says;
    DIAGONAL_2 "diagonal_2" "Diagonal 2" (synonyms::DIAGONAL_2) SIZE, "not measured; one diagonal alone is ignored", "Corner to corner, from bottom right to top left.", holds_if_it_says;
    MEASURED "measured" "Measured" (synonyms::MEASURED) Kind::Choice(SizeSource::WORDS), "tape", "Where the sizes come from: a tape, a typical opening, a drawing, the rough opening. Inside-mount blinds are made only from tape sizes.", decides;
    RECESS_DEPTH "recess_depth" "Recess depth" (synonyms::RECESS_DEPTH) LENGTH, "unknown; with Mount either, the blind is mounted outside", "From the wall face straight back to the first obstruction (glass, frame or handle); 0 if there is no recess.", holds_if_it_says;
    DEPTH_TO "depth_to" "Depth to" (synonyms::DEPTH_TO) Kind::Choice(DepthTo::WORDS), "glass", "What the recess depth was measured to.", decides;
    HANDLE "handle" "Handle" (synonyms::HANDLE) LENGTH, "0 is assumed, with a check on a door", "How far the handle projects from what the recess depth was measured to. With no depth, from the wall face or the casing.";
    TRIM "trim" "Trim" (synonyms::TRIM) LENGTH, "0 is assumed", "How far the casing (architrave) projects from the wall face.";
    CASING_WIDTH "casing_width" "Casing width" (synonyms::CASING_WIDTH) LENGTH, "unknown", "From the edge of the opening to the outer edge of the casing, at the head.";
    WALL_LEFT "wall_left" "Wall left" (synonyms::WALL_LEFT) LENGTH, "no limit is assumed", "Free wall from the left edge of the opening to the nearest obstruction, such as a side wall or cupboard.";
    WALL_RIGHT "wall_right" "Wall right" (synonyms::WALL_RIGHT) LENGTH, "no limit is assumed", "Free wall from the right edge of the opening to the nearest obstruction, such as a side wall or cupboard.";
    WALL_ABOVE "wall_above" "Wall above" (synonyms::WALL_ABOVE) LENGTH, "up to Ceiling height on Project; without it, no limit is assumed", "Free wall from the top of the opening up to the ceiling or the nearest obstruction.";
    WALL_BELOW "wall_below" "Wall below" (synonyms::WALL_BELOW) LENGTH, "no limit is assumed", "Free wall from the bottom of a window down to the nearest obstruction, such as a counter or radiator.";
    BELOW_STANDS_OUT "below_stands_out" "Below stands out" (synonyms::BELOW_STANDS_OUT) LENGTH, "unknown", "How far the obstruction below (a board, a counter, a radiator) projects from the wall face.";
    LEFT_ENDS_AT "left_ends_at" "Left ends at" (synonyms::LEFT_ENDS_AT) Kind::Choice(EndsAt::WORDS), "free", "What ends the free wall on the left: a wall, a cupboard, or nothing (free).", decides;
    RIGHT_ENDS_AT "right_ends_at" "Right ends at" (synonyms::RIGHT_ENDS_AT) Kind::Choice(EndsAt::WORDS), "free", "What ends the free wall on the right: a wall, a cupboard, or nothing (free).", decides;
    SILL_HEIGHT "sill_height" "Sill height" (synonyms::SILL_HEIGHT) LENGTH, "0 for a door, unknown for a window", "From the floor as it is when you measure, up to the bottom of the opening.";
    HEAD_HEIGHT "head_height" "Head height" (synonyms::HEAD_HEIGHT) LENGTH, "no cross-check", "From the floor as it is when you measure, up to the top of the opening. Used only as a cross-check.", unknown;
    FLOOR_SURFACE "floor_surface" "Floor surface" (synonyms::FLOOR_SURFACE) Kind::Choice(Floor::WORDS), "hard; unfinished if Floors finished on Project is no", "The floor in front of the opening. Write unfinished if it is not laid yet.", decides;
    FLOOR_TO_COME "floor_to_come" "Floor to come" (synonyms::FLOOR_TO_COME) LENGTH, "0", "Thickness of the floor finish that is still to be laid.";
    HEADER_HEIGHT "header_height" "Header height" (synonyms::HEADER_HEIGHT) LENGTH, "unknown", "Height of the header (solid wood or a lintel) above the opening, from its bottom to its top; 0 if there is none.", holds_if_it_says;
    HEADER_OFFSET "header_offset" "Header offset" (synonyms::HEADER_OFFSET) LENGTH, "0", "From the top of the opening up to the bottom of the header.";
    MOUNT "mount" "Mount" (synonyms::MOUNT) Kind::Choice(MountWanted::WORDS), "either", "inside: in the recess. outside: on the wall face. ceiling: up into the ceiling. either: inside if it fits, otherwise outside.", decides;
    DROP_WANTED "drop_wanted" "Drop wanted" (synonyms::DROP_WANTED) SIZE, "worked out from the rules", "A finished drop (height of the blind) that the client has asked for.";
    PRODUCT "product" "Product" (synonyms::PRODUCT) Kind::Text, "the first product that suits the kind", "The product, as on the sheet Products.";
    COLOR "color" "Color" (synonyms::COLOR) Kind::Text, "the product's first color", "The color, as listed under Colors of the product.";
    OPENING_LEAF "opening_leaf" "Opening leaf" (synonyms::OPENING_LEAF) Kind::Choice(Leaf::WORDS), "unknown, with a check on a door", "Which leaf opens, as seen from inside the room.", unknown;
    OPENS "opens" "Opens" (synonyms::OPENS) Kind::Choice(Opens::WORDS), "unknown", "How the leaf opens. One that opens into the room (in, tilt) rules out an inside mount.", holds_if_it_says, decides;
    DRAW "draw" "Draw" (synonyms::DRAW) Kind::Choice(Draw::WORDS), "over the fixed leaf; otherwise left, with a check on a door", "Where the louvers stack when open, as seen from inside the room. split: half at each side.";
    CONTROL "control" "Control" (synonyms::CONTROL) Kind::Choice(Control::WORDS), "wand", "How the blind is operated.";
    MOTOR_SIDE "motor_side" "Motor side" (synonyms::MOTOR_SIDE) Kind::Choice(MotorSide::WORDS), "unknown, with a check for a motor", "The end of the rail that the motor is at, as seen from inside the room.", decides;
    CORD_DEVICE "cord_device" "Cord device" (synonyms::CORD_DEVICE) Kind::Choice(CordDevice::WORDS), "unknown: a cord is a stop", "What keeps a cord out of the reach of children.", decides;
    CORD_HEIGHT "cord_height" "Cord height" (synonyms::CORD_HEIGHT) LENGTH, "unknown: a cord is a stop", "From the floor up to the lowest point of the cord's device.";
    SUBSTRATE "substrate" "Substrate" (synonyms::SUBSTRATE) Kind::Choice(Substrate::WORDS), "unknown", "What the brackets are fixed to.", unknown;
    SPECIES "species" "Species" (synonyms::SPECIES) Kind::Choice(Species::WORDS), "Spruce-Pine-Fir", "The species of the wood behind the brackets, as its grade stamp has it.", decides;
    STEEL_THICKNESS "steel_thickness" "Steel thickness" (synonyms::STEEL_THICKNESS) Kind::SteelThickness, "33 mil", "Thickness of a steel stud, in mil as it is stamped, or as a length.", decides;
    BOARD_LAYERS "board_layers" "Board layers" (synonyms::BOARD_LAYERS) Kind::Whole { least: 0, most: 6 }, "1 on a stud wall and on drywall", "Layers of wallboard on the studs.";
    BOARD_THICKNESS "board_thickness" "Board thickness" (synonyms::BOARD_THICKNESS) LENGTH, "1/2 in on a stud wall and on drywall", "Thickness of one layer of wallboard.";
    STUD_SPACING "stud_spacing" "Stud spacing" (synonyms::STUD_SPACING) LENGTH, "unknown", "From the center of one stud to the center of the next.";
    FIRST_STUD "first_stud" "First stud" (synonyms::FIRST_STUD) OFFSET, "unknown", "From the left edge of the opening to the center of a stud: to the right; with a minus sign, to the left.";
    BLOCKING "blocking" "Blocking" (synonyms::BLOCKING) YES_NO, "no", "Whether there is wood behind the board along the whole rail.";
    SLAB "slab" "Slab" (synonyms::SLAB) Kind::Choice(Slab::WORDS), "unknown", "The concrete that brackets are screwed up into: plain, tensioned, or cleared for drilling.", decides;
    HEATER_BELOW "heater_below" "Heater below" (synonyms::HEATER_BELOW) YES_NO, "unknown", "Whether a heater or a radiator stands below the opening.", unknown;
    ACCESSIBLE "accessible" "Accessible" (synonyms::ACCESSIBLE) YES_NO, "no", "Whether the unit must be accessible to people with disabilities.";
    ESCAPE "escape" "Escape" (synonyms::ESCAPE) YES_NO, "no", "Whether this is an escape (egress) opening.";
    ESCAPE_CLEAR_WIDTH "escape_clear_width" "Escape clear width" (synonyms::ESCAPE_CLEAR_WIDTH) SIZE, "unknown, with a check on an escape opening", "Clear width of the sash or leaf when it is open.";
    ESCAPE_CLEAR_HEIGHT "escape_clear_height" "Escape clear height" (synonyms::ESCAPE_CLEAR_HEIGHT) SIZE, "unknown, with a check on an escape opening", "Clear height of the sash or leaf when it is open.";
    NOTE "note" "Note" (synonyms::NOTE) Kind::Text, "none", "Copied to every sheet that lists the opening.", unknown;
}

/// Columns that give a width and a height in one cell.
pub static PAIRS: [&Column; 3] = [&SIZE_IN_ONE, &WIDTH_BY_HEIGHT, &HEIGHT_BY_WIDTH];
/// Columns that give a width, at one place or over all.
pub static WIDTHS: [&Column; 4] = [&WIDTH, &WIDTH_TOP, &WIDTH_MIDDLE, &WIDTH_BOTTOM];
/// Columns that give a height, likewise.
pub static HEIGHTS: [&Column; 4] = [&HEIGHT, &HEIGHT_LEFT, &HEIGHT_MIDDLE, &HEIGHT_RIGHT];
