//! What sizing asks, in its own words.

use super::Mount;
use crate::length::Shown;
use crate::query::{Entry, queries};
use crate::schema::Column;
use crate::schema::openings::{
    COLOR, CONTROL, DEPTH_TO, DRAW, DROP_WANTED, FLOOR_TO_COME, HANDLE, HEAD_HEIGHT, HEIGHT, MEASURED, MOUNT,
    OPENING_LEAF, PRODUCT, RECESS_DEPTH, SILL_HEIGHT,
};
use crate::survey::{Kind, Opens, SizeSource};

/// Every query of this room.
pub(crate) const QUERIES: &[&[Entry]] = &[SizingQuery::ENTRIES];

// Without a column are those that several would have to be filled for, or something done on site.
queries! {
    /// A doubt about how an opening is to be covered.
    pub(super) enum SizingQuery {
        NothingSuits { kind: Kind }: Stop, "no-product-suits", fills &PRODUCT,
            "no product suits a {kind}"
            => "name a product in the column Product, or add one to the sheet Products";
        UnknownProduct { name: String, known: String }: Stop, "unknown-product", fills &PRODUCT,
            "no product is called \"{name}\"" => "the products are {known}";
        NotSuited { name: String, kind: Kind }: Check, "product-not-suited", fills &PRODUCT,
            "{name} is not meant for a {kind}"
            => "choose another product, or confirm this one with whoever will use it";
        UnlistedColor { color: String, product: String, listed: String }:
            Check, "color-not-listed", fills &COLOR,
            "\"{color}\" is not a listed color of {product}; it is ordered as written"
            => "listed colors: {listed}; add this one to Products if it is right";
        Implausible { column: &'static Column, most: Shown }: Stop, "implausible-length", fills column,
            "{} is over {most}: likely in the wrong unit", column.name.to_lowercase()
            => "write the unit beside the number, or correct it";
        ShallowDepth { least: Shown }: Check, "implausible-depth", fills &RECESS_DEPTH,
            "recess depth is under {least}: likely in the wrong unit"
            => "write the unit beside the number, or correct it";
        SillOverHead: Stop, "sill-over-head", fills &SILL_HEIGHT,
            "the sill is at or above the head of the opening" => "measure both from the floor again";
        HeadDiffers { most: Shown }: Check, "head-differs", fills &HEAD_HEIGHT,
            "head height less sill height differs from the height by more than {most}"
            => "measure height, sill and head again: one of them is off";
        OverCeiling: Check, "over-ceiling", fills &HEIGHT,
            "the opening ends above the ceiling"
            => "measure its height and sill again, or correct Ceiling height on the sheet Project";
        HandleFromWhat: Check, "depth-to-unknown", fills &DEPTH_TO,
            "a handle is given, but not what it and the recess depth were measured from"
            => "fill in Depth to: glass, frame or handle";
        Cord: Stop, "cord-control", fills &CONTROL,
            "a cord is asked for: its safety rules are not worked out here"
            => "choose wand or motor in the column Control";
        LeafUnknown: Check, "leaf-unknown", fills &OPENING_LEAF,
            "opening leaf is not given on a door"
            => "fill in Opening leaf: left, right, both or none, as seen from inside";
        HandleUnknown: Check, "handle-unknown", fills &HANDLE,
            "handle is not given on a door; it is taken as 0"
            => "measure how far the handle's tip stands out, or write 0";
        DrawUnknown: Check, "draw-unknown", fills &DRAW,
            "no single leaf of this door is fixed; the louvers are taken to stack at the left"
            => "fill in Draw: left, right or split, as seen from inside";
        StackOverLeaf: Check, "stack-over-leaf", fills &DRAW,
            "the louvers stack over the leaf that opens"
            => "draw the louvers over the fixed leaf, unless this is what is wanted";
        Leans { limit: Shown }: Check, "opening-leans",
            "the opening leans over its height by more than {limit}" => "measure both diagonals again";
        WidthSpread { limit: Shown }: Check, "width-spread",
            "its widths differ by more than {limit}"
            => "measure again; the blind is sized from the least (inside) or the most (outside)";
        HeightSpread { limit: Shown }: Check, "height-spread",
            "its heights differ by more than {limit}"
            => "measure again; the blind is sized from the least (inside) or the most (outside)";
        InsideTooShallow { needed: Shown }: Stop, "recess-too-shallow", fills &MOUNT,
            "the recess is too shallow for an inside mount, which needs {needed}"
            => "mount it outside, or measure the depth to the first thing in the way";
        DepthUnknown { needed: Shown }: Check, "depth-unknown", fills &RECESS_DEPTH,
            "inside mount with an unknown recess depth; it needs {needed}"
            => "measure: louvers must turn clear";
        InsideLeafComesIn { opens: Opens }: Stop, "leaf-comes-in", fills &MOUNT,
            "an inside mount does not go with a leaf that opens \"{opens}\"" => "mount it outside";
        InsideLeans { most: Shown }: Stop, "inside-leans", fills &MOUNT,
            "the opening leans by more than {most}: an inside blind would bind" => "mount it outside";
        DropOverRecess { most: Shown }: Stop, "drop-over-recess", fills &DROP_WANTED,
            "the drop wanted is over the {most} that the recess takes"
            => "ask for a shorter drop, or mount it outside";
        UnderLimit { what: &'static str, least: Shown }: Stop, "size-under-least",
            "finished {what} is under the product's least, {least}"
            => "check the measurement and its unit, or choose another product";
        OverLimit { what: &'static str, most: Shown }: Stop, "size-over-most",
            "finished {what} is over the product's most, {most}"
            => "check the measurement and its unit, or choose another product";
        NoRoomAbove { least: Shown }: Stop, "no-room-above", fills &MOUNT,
            "the wall above is too low for an outside mount, which needs {least}"
            => "mount it inside if the recess takes it, or fix to the ceiling by another way";
        DropTooShort { least: Shown }: Stop, "drop-too-short", fills &DROP_WANTED,
            "the drop wanted leaves the rail less than {least} above the head" => "ask for a longer drop";
        DropOverWall { room: Shown }: Stop, "drop-over-wall", fills &DROP_WANTED,
            "the drop wanted puts the rail within {room} of the end of the wall above, or past it"
            => "ask for a shorter drop, or measure the wall above again";
        DropMovesRail { least: Shown, most: Shown }: Check, "drop-moves-rail", fills &DROP_WANTED,
            "the drop wanted puts the rail outside {least} to {most} above the head"
            => "see that there is something to fix to at that height";
        NoWood { edge: Shown }: Check, "header-misses-screws",
            "the header has no place for both screws of a bracket, {edge} inside its edges"
            => "find what the screws will go into, or put wood there first";
        EndsAboveSill { above: Shown }: Note, "ends-above-sill",
            "the wall below is too low to lap over: the blind ends {above} above the sill"
            => "see that light under the blind is acceptable";
        NoBracketReaches { longest: Shown, needed: Shown }: Stop, "no-bracket-reaches",
            "no bracket reaches far enough: the longest reaches {longest}, {needed} is needed"
            => "pack the brackets out, or take the casing or handle off the way";
        FinishedWithoutMount: Stop, "finished-without-mount", fills &MOUNT,
            "finished sizes are given without a mount" => "fill in Mount: inside or outside";
        NotFromTape { measured: SizeSource, mount: Mount }: Check, "not-from-tape", fills &MEASURED,
            "sizes are \"{measured}\", not from a tape{}", what_waits(*mount)
            => "measure with a tape before it is made";
        FloorToCome: Check, "floor-to-come", fills &FLOOR_TO_COME,
            "the floor is not laid and its thickness is not given; the blind is provisional"
            => "fill in Floor to come: the thickness still to be laid, 0 if none";
        MeasureEach: Check, "measure-each",
            "several openings share one measurement of an inside mount"
            => "measure each opening and give each a row";
    }
}

fn what_waits(mount: Mount) -> &'static str {
    match mount {
        Mount::Inside => "; the inside blind is provisional",
        Mount::Outside => "",
    }
}
