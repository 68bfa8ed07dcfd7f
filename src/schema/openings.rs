//! The columns of `Openings`, and of `Types`, which may hold any of them once for many openings.
//!
//! What was written and cannot be read is never taken for a blank. In a column that decides a size,
//! a mount or safety it is a stop; elsewhere a check. A rule cell that cannot be read stops the
//! run, unless that rule may be unknown (a price, a lead time, a capacity).

use super::choices::{
    self, Control, DepthTo, Draw, EndsAt, Floor, Leaf, MountWanted, Opens, SizeSource, Substrate,
};
use super::synonyms;
use super::{Form, Kind, LENGTH, SIZE, YES_NO, columns};
use crate::length::PairOrder;
use crate::schema::Column;

/// The sheet that lists the types, under the columns of `Openings`.
pub const TYPES: &str = "Types";

/// What stands for an id in the example row of a blank survey. A row with this id is no opening;
/// no one would give it to a door or a window.
pub const EXAMPLE_ID: &str = "example - not read";

columns! { OPENINGS, "Openings", Form::Rows, "One row for each door or window. Left and right are as seen from inside the room.";
    OPENING "opening" "Opening" (synonyms::OPENING) Kind::Text, "the unit and a running number", "The opening's own mark, unique in the survey.", unknown;
    BUILDING "building" "Building" (synonyms::BUILDING) Kind::Text, "as above in a merged block, else none", "The building, if there is more than one.", merged, unknown;
    FLOOR "floor" "Floor" (synonyms::FLOOR) Kind::Text, "as above in a merged block, else none", "The floor the unit is on.", merged, unknown;
    UNIT "unit" "Unit" (synonyms::UNIT) Kind::Text, "as above in a merged block, else none", "The apartment; each has an install page.", merged, unknown;
    ROOM "room" "Room" (synonyms::ROOM) Kind::Text, "as above in a merged block, else none", "The room the opening is in.", merged, unknown;
    PHASE "phase" "Phase" (synonyms::PHASE) Kind::Text, "as above in a merged block, else none", "The delivery it belongs to; sizes are never shared across phases.", merged, unknown;
    KIND "kind" "Kind" (synonyms::KIND) Kind::Choice(choices::Kind::WORDS), "a patio door if it is at least 72 in high and its sill at most 6 in or blank, else a window", "What the opening is.";
    TYPE "type" "Type" (synonyms::TYPE) Kind::Text, "no type", "The row of the sheet Types that fills this row's blanks.";
    CATEGORY "category" "Category" (synonyms::CATEGORY) Kind::Text, "a door or a window", "What a row is, in a schedule that lists more than doors and windows.", only_read;
    QUANTITY "quantity" "Quantity" (synonyms::QUANTITY) Kind::Whole { least: 1, most: 10_000 }, "1", "How many such openings this row stands for.";
    WIDTH "width" "Width" (synonyms::WIDTH) SIZE, "see the three widths", "Width of the opening, wall to wall or edge to edge.";
    WIDTH_TOP "width_top" "Width top" (synonyms::WIDTH_TOP) SIZE, "not measured there", "Width of the opening near its head.";
    WIDTH_MIDDLE "width_middle" "Width middle" (synonyms::WIDTH_MIDDLE) SIZE, "not measured there", "Width of the opening at half its height.";
    WIDTH_BOTTOM "width_bottom" "Width bottom" (synonyms::WIDTH_BOTTOM) SIZE, "not measured there", "Width of the opening near its sill.";
    HEIGHT "height" "Height" (synonyms::HEIGHT) SIZE, "see the three heights", "Height of the opening, sill to head.";
    HEIGHT_LEFT "height_left" "Height left" (synonyms::HEIGHT_LEFT) SIZE, "not measured there", "Height of the opening near its left side.";
    HEIGHT_MIDDLE "height_middle" "Height middle" (synonyms::HEIGHT_MIDDLE) SIZE, "not measured there", "Height of the opening at half its width.";
    HEIGHT_RIGHT "height_right" "Height right" (synonyms::HEIGHT_RIGHT) SIZE, "not measured there", "Height of the opening near its right side.";
    SIZE_IN_ONE "size" "Size" (synonyms::SIZE_IN_ONE) Kind::Pair(None), "see Width and Height", "Width and height in one cell; the heading or the cell must say which comes first.", only_read, unknown;
    WIDTH_BY_HEIGHT "width_by_height" "W x H" [] Kind::Pair(Some(PairOrder::WidthFirst)), "see Width and Height", "Width and height in one cell, the width first.", only_read, unknown;
    HEIGHT_BY_WIDTH "height_by_width" "H x W" [] Kind::Pair(Some(PairOrder::HeightFirst)), "see Width and Height", "Width and height in one cell, the height first.", only_read, unknown;
    DIAGONAL_1 "diagonal_1" "Diagonal 1" (synonyms::DIAGONAL_1) SIZE, "not measured; one alone counts as none", "Corner to corner, top left to bottom right.", holds_if_it_says;
    DIAGONAL_2 "diagonal_2" "Diagonal 2" (synonyms::DIAGONAL_2) SIZE, "not measured; one alone counts as none", "Corner to corner, top right to bottom left.", holds_if_it_says;
    MEASURED "measured" "Measured" (synonyms::MEASURED) Kind::Choice(SizeSource::WORDS), "tape", "Where the sizes come from; only a tape may be made to inside a recess.";
    RECESS_DEPTH "recess_depth" "Recess depth" (synonyms::RECESS_DEPTH) LENGTH, "unknown, so `either` means outside", "From the face of the wall to the first thing in the way; 0 if there is no recess.", holds_if_it_says;
    DEPTH_TO "depth_to" "Depth to" [] Kind::Choice(DepthTo::WORDS), "glass", "What the recess depth was measured to.";
    HANDLE "handle" "Handle" (synonyms::HANDLE) LENGTH, "assumed 0; a check on a door", "How far the handle's tip stands out from the plane that the depth was taken to; with no depth, from the wall face or the casing.";
    TRIM "trim" "Trim" (synonyms::TRIM) LENGTH, "assumed 0", "How far a casing stands out from the wall.";
    WALL_LEFT "wall_left" "Wall left" [] LENGTH, "assumed enough", "Free wall to the left of the opening.";
    WALL_RIGHT "wall_right" "Wall right" [] LENGTH, "assumed enough", "Free wall to the right of the opening.";
    WALL_ABOVE "wall_above" "Wall above" [] LENGTH, "assumed enough, or up to the project's ceiling", "Free wall above the opening.";
    WALL_BELOW "wall_below" "Wall below" [] LENGTH, "assumed enough", "Free wall below a window.";
    LEFT_ENDS_AT "left_ends_at" "Left ends at" [] Kind::Choice(EndsAt::WORDS), "free", "What the free wall on the left ends at.";
    RIGHT_ENDS_AT "right_ends_at" "Right ends at" [] Kind::Choice(EndsAt::WORDS), "free", "What the free wall on the right ends at.";
    SILL_HEIGHT "sill_height" "Sill height" (synonyms::SILL_HEIGHT) LENGTH, "0 for a door, unknown for a window", "From the floor as it is on the day to the bottom of the opening.";
    HEAD_HEIGHT "head_height" "Head height" [] LENGTH, "not compared", "From the floor as it is on the day to the top of the opening; only compared with sill and height.", unknown;
    FLOOR_SURFACE "floor_surface" "Floor surface" [] Kind::Choice(Floor::WORDS), "assumed hard", "The floor in front of the opening.";
    FLOOR_TO_COME "floor_to_come" "Floor to come" [] LENGTH, "0", "Thickness of the floor that is still to be laid.";
    HEADER_HEIGHT "header_height" "Header height" [] LENGTH, "unknown", "Height of solid wood above the opening; 0 if there is none.", holds_if_it_says;
    HEADER_OFFSET "header_offset" "Header offset" [] LENGTH, "0", "How far above the opening the solid wood starts.";
    MOUNT "mount" "Mount" (synonyms::MOUNT) Kind::Choice(MountWanted::WORDS), "either", "Within the recess, on the wall face, or whichever fits.";
    DROP_WANTED "drop_wanted" "Drop wanted" [] SIZE, "as the rules give it", "A finished drop that the client insists on.";
    PRODUCT "product" "Product" (synonyms::PRODUCT) Kind::Text, "the first product that suits the kind", "The product, as the sheet Products names it.";
    COLOR "color" "Color" (synonyms::COLOR) Kind::Text, "the product's first color", "The color, as the product lists it.";
    OPENING_LEAF "opening_leaf" "Opening leaf" [] Kind::Choice(Leaf::WORDS), "unknown; a check on a door", "Which leaf opens, as seen from inside.", unknown;
    OPENS "opens" "Opens" [] Kind::Choice(Opens::WORDS), "unknown", "How it opens; a leaf that comes into the room rules out an inside mount.", holds_if_it_says;
    DRAW "draw" "Draw" [] Kind::Choice(Draw::WORDS), "over the fixed leaf, else left with a check on a door", "Where the louvers stack when open, as seen from inside.";
    CONTROL "control" "Control" [] Kind::Choice(Control::WORDS), "wand", "How the blind is worked.";
    SUBSTRATE "substrate" "Substrate" [] Kind::Choice(Substrate::WORDS), "unknown", "What the brackets go into.", unknown;
    ACCESSIBLE "accessible" "Accessible" [] YES_NO, "no", "Whether the unit is an accessible one.";
    ESCAPE "escape" "Escape" [] YES_NO, "no", "Whether the opening must serve for escape.";
    NOTE "note" "Note" (synonyms::NOTE) Kind::Text, "none", "Carried through to every sheet that names the opening.", unknown;
}

/// Columns that give a width and a height in one cell.
pub static PAIRS: [&Column; 3] = [&SIZE_IN_ONE, &WIDTH_BY_HEIGHT, &HEIGHT_BY_WIDTH];
/// Columns that give a width, at one place or over all.
pub static WIDTHS: [&Column; 4] = [&WIDTH, &WIDTH_TOP, &WIDTH_MIDDLE, &WIDTH_BOTTOM];
/// Columns that give a height, likewise.
pub static HEIGHTS: [&Column; 4] = [&HEIGHT, &HEIGHT_LEFT, &HEIGHT_MIDDLE, &HEIGHT_RIGHT];
