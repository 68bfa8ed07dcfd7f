//! What sizing asks, in its own words.

use super::Mount;
use crate::length::Shown;
use crate::query::{Entry, queries};
use crate::schema::Column;
use crate::schema::openings::{
    CASING_WIDTH, COLOR, CONTROL, DEPTH_TO, DIAGONAL_1, DRAW, DROP_WANTED, ESCAPE, FLOOR_TO_COME, HANDLE,
    HEAD_HEIGHT, HEIGHT, MEASURED, MOUNT, OPENING_LEAF, PRODUCT, RECESS_DEPTH, SILL_HEIGHT, SUBSTRATE, TRIM,
    WALL_ABOVE,
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
            => "enter a product under {}, or add one to the sheet Products", PRODUCT.name;
        UnknownProduct { name: String, known: String }: Stop, "unknown-product", fills &PRODUCT,
            "no product is called \"{name}\"" => "the products are {known}";
        NotSuited { name: String, kind: Kind }: Check, "product-not-suited", fills &PRODUCT,
            "{name} is not meant for a {kind}"
            => "choose another product, or confirm it with the client";
        UnlistedColor { color: String, product: String, listed: String }:
            Check, "color-not-listed", fills &COLOR,
            "\"{color}\" is not a listed color of {product}; it is ordered as typed"
            => "listed colors: {listed}; add this one to Products if it is right";
        Implausible { column: &'static Column, most: Shown }: Stop, "implausible-length", fills column,
            "{} is more than {most}: probably in the wrong unit", column.name.to_lowercase()
            => "enter the unit next to the number, or correct it";
        ShallowDepth { least: Shown }: Check, "implausible-depth", fills &RECESS_DEPTH,
            "recess depth is less than {least}: probably in the wrong unit"
            => "enter the unit next to the number, or correct it";
        SillOverHead: Stop, "sill-over-head", fills &SILL_HEIGHT,
            "the sill is at or above the head of the opening" => "measure both again from the floor";
        HeadDiffers { most: Shown }: Check, "head-differs", fills &HEAD_HEIGHT,
            "head height minus sill height differs from the height by more than {most}"
            => "measure height, sill and head again: one of them is wrong";
        OverCeiling: Check, "over-ceiling", fills &HEIGHT,
            "the top of the opening is above the ceiling"
            => "measure its height and sill again, or correct Ceiling height on the sheet Project";
        HandleFromWhat: Check, "depth-to-unknown", fills &DEPTH_TO,
            "a handle is given, but not what it and the recess depth were measured from"
            => "fill in Depth to: glass, frame or handle";
        CordInAccessible: Stop, "cord-in-accessible-unit", fills &CONTROL,
            "an accessible unit has no cord: out of a child's reach is out of reach from a wheelchair"
            => "choose wand or motor under {}", CONTROL.name;
        LeafUnknown: Check, "leaf-unknown", fills &OPENING_LEAF,
            "opening leaf is blank on a door"
            => "fill in Opening leaf: left, right, both or none, as seen from inside";
        HandleUnknown: Check, "handle-unknown", fills &HANDLE,
            "handle is blank on a door; it is assumed to be 0"
            => "measure how far the tip of the handle projects, or enter 0";
        DrawUnknown { leaf: &'static str }: Check, "draw-unknown", fills &DRAW,
            "opening leaf is {leaf} and draw is blank: the louvers are assumed to stack on the left"
            => "fill in Draw: left, right or split, as seen from inside";
        StackOverLeaf: Check, "stack-over-leaf", fills &DRAW,
            "the louvers stack over the opening leaf"
            => "change {} so that they stack over the fixed leaf, unless this is what you want", DRAW.name;
        WidthSpread { limit: Shown }: Check, "width-spread",
            "the measured widths differ by more than {limit}"
            => "measure again; an inside blind is sized from the smallest, an outside one from the largest";
        HeightSpread { limit: Shown }: Check, "height-spread",
            "the measured heights differ by more than {limit}"
            => "measure again; an inside blind is sized from the smallest, an outside one from the largest";
        InsideTooShallow { needed: Shown }: Stop, "recess-too-shallow", fills &MOUNT,
            "the recess is too shallow for an inside mount, which needs {needed}"
            => "mount it outside, or measure the depth to the first obstacle";
        DepthUnknown { needed: Shown }: Check, "depth-unknown", fills &RECESS_DEPTH,
            "recess depth is unknown; this inside mount needs {needed}"
            => "measure the recess depth: the louvers need room to turn";
        InsideLeafComesIn { opens: Opens }: Stop, "leaf-comes-in", fills &MOUNT,
            "the leaf opens \"{opens}\" and would hit an inside blind" => "mount it outside";
        InsideLeans { most: Shown }: Stop, "inside-out-of-square", fills &MOUNT,
            "the opening is out of square by more than {most}: an inside blind would bind" => "mount it outside";
        DropOverRecess { most: Shown }: Stop, "drop-over-recess", fills &DROP_WANTED,
            "the drop wanted is more than the {most} that fits in the recess"
            => "ask for a shorter drop, or mount it outside";
        UnderLimit { what: &'static str, least: Shown }: Stop, "size-under-least",
            "finished {what} is below this product's minimum of {least}"
            => "check the measurement and its unit, clear more wall, or choose another product";
        OverLimit { what: &'static str, most: Shown }: Stop, "size-over-most",
            "finished {what} is above this product's maximum of {most}"
            => "hang two blinds side by side, choose another product, or check the measurement and its unit";
        NoRoomAbove { least: Shown }: Stop, "no-room-above", fills &MOUNT,
            "not enough wall above the opening for an outside mount: {least} is needed"
            => "mount it inside if it fits the recess, or write ceiling under {} to hang it from there", MOUNT.name;
        GivenNotUsed { column: &'static Column, for_what: &'static str }: Note, "given-not-used", fills column,
            "{} is given, but {for_what}: it is not used", column.name
            => "correct what does not fit, or leave {} blank", column.name;
        Unlikely { column: &'static Column, most: Shown }: Check, "unlikely-length", fills column,
            "{} is more than {most}: probably in the wrong unit", column.name.to_lowercase()
            => "enter the unit next to the number, or correct it";
        EscapeNotSaid: Check, "escape-not-said", fills &ESCAPE,
            "what is clear for escape is given, but {} does not say yes", ESCAPE.name
            => "write yes under {} if the opening must serve for escape", ESCAPE.name;
        DiagonalsDoNotFit: Check, "diagonals-do-not-fit", fills &DIAGONAL_1,
            "the diagonals do not belong to an opening of this width and height"
            => "measure both diagonals again, corner to corner";
        EscapeOverOpening { column: &'static Column }: Check, "escape-over-opening", fills column,
            "{} is more than the opening has", column.name => "measure what is clear when it is open";
        CeilingUnknown: Stop, "ceiling-unknown", fills &WALL_ABOVE,
            "a ceiling mount is asked for, but nothing says how high the ceiling is"
            => "measure from the top of the opening to the ceiling: {}", WALL_ABOVE.name;
        CeilingBelowHead: Stop, "ceiling-below-head", fills &WALL_ABOVE,
            "the ceiling is below the top of the opening"
            => "measure the wall above, or the ceiling height and the sill, again";
        ScrewsNearEdge { edge: Shown }: Check, "screws-near-edge", fills &SUBSTRATE,
            "the screws of the rail are closer to the edge than the {edge} that a fixing here needs"
            => "find out what is there; use a fixing for that edge distance, or mount it outside";
        OnCasing: Check, "on-casing", fills &CASING_WIDTH,
            "the brackets go on the casing: the rail cannot go above it"
            => "check that the casing is solid and firmly fixed before anything hangs on it";
        ThinCasing { least: Shown }: Check, "thin-casing", fills &TRIM,
            "the brackets go on a casing that is not known to be {least} thick: it may only be nailed"
            => "measure its thickness, and fix the casing to the wood behind it first";
        CasingWidthUnknown: Check, "casing-width-unknown", fills &CASING_WIDTH,
            "a casing projects from the wall, but its width is blank"
            => "check that both screws of each bracket clear the casing, and fill in {}", CASING_WIDTH.name;
        CasingOverWall: Check, "casing-over-wall", fills &CASING_WIDTH,
            "the casing is wider than the free wall above the opening"
            => "measure both again from the edge of the opening: one of them is wrong";
        DropTooShort { least: Shown }: Stop, "drop-too-short", fills &DROP_WANTED,
            "with the drop wanted, the rail is less than {least} above the head" => "ask for a longer drop";
        DropOnCasing { least: Shown }: Stop, "drop-on-casing", fills &DROP_WANTED,
            "with the drop wanted, the bracket's foot is on the casing: {least} above the head is needed"
            => "ask for a longer drop";
        DropOffCasing { least: Shown, most: Shown }: Stop, "drop-off-casing", fills &DROP_WANTED,
            "with the drop wanted, the rail is not between {least} and {most} above the head, on the casing"
            => "ask for a drop that puts it there, or measure the wall above again";
        DropBelowBottom { most: Shown }: Stop, "drop-below-bottom", fills &DROP_WANTED,
            "the drop wanted is more than the {most} from the ceiling down to where the blind must end"
            => "ask for a shorter drop";
        DropEndsHigh: Check, "drop-ends-high", fills &DROP_WANTED,
            "with the drop wanted, the blind ends higher than it could"
            => "check that a strip of light under the blind is acceptable";
        DropNotFinished { drop: Shown }: Stop, "drop-not-finished", fills &DROP_WANTED,
            "sizes are given as finished, but the drop wanted is not the given one, {drop}"
            => "correct one of them, or leave {} blank", DROP_WANTED.name;
        DropOverWall { room: Shown }: Stop, "drop-over-wall", fills &DROP_WANTED,
            "with the drop wanted, the rail is within {room} of the top of the wall, or past it"
            => "ask for a shorter drop, or measure the wall above again";
        DropMovesRail { least: Shown, most: Shown }: Check, "drop-moves-rail", fills &DROP_WANTED,
            "with the drop wanted, the rail is not between {least} and {most} above the head"
            => "check that there is something to fix to at that height";
        NoWood { edge: Shown }: Check, "header-misses-screws",
            "the header cannot take both bracket screws {edge} from its edges"
            => "find something solid for the screws, or add wood there first";
        EndsAboveSill { above: Shown }: Note, "ends-above-sill",
            "not enough wall below the sill for an overlap: the blind ends {above} above the sill"
            => "check that a strip of light under the blind is acceptable";
        NoBracketReaches { longest: Shown, needed: Shown }: Stop, "no-bracket-reaches",
            "no bracket reaches far enough: the longest reaches {longest}, but {needed} is needed"
            => "put spacer blocks behind the brackets, or remove the casing or handle";
        FinishedWithoutMount: Stop, "finished-without-mount", fills &MOUNT,
            "finished sizes are given without a mount" => "fill in Mount: inside, outside or ceiling";
        NotFromTape { measured: SizeSource, mount: Mount }: Check, "not-from-tape", fills &MEASURED,
            "sizes are marked \"{measured}\", not measured with a tape{}", what_waits(*mount)
            => "measure with a tape before it is made";
        FloorToCome: Check, "floor-to-come", fills &FLOOR_TO_COME,
            "the floor is not laid and its thickness is not given; the blind is provisional"
            => "fill in Floor to come: the thickness still to be laid, 0 if none";
        MeasureEach: Check, "measure-each",
            "one measurement is used for several inside mounts"
            => "measure each opening and give each its own row";
    }
}

fn what_waits(mount: Mount) -> &'static str {
    match mount {
        Mount::Inside => "; the inside blind is provisional",
        Mount::Outside | Mount::Ceiling => "",
    }
}
