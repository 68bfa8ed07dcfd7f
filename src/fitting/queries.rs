//! What fitting asks, in its own words.

use crate::length::Shown;
use crate::query::{Entry, queries};
use crate::schema::openings::{
    BLOCKING, BOARD_THICKNESS, DRAW, FIRST_STUD, HEADER_HEIGHT, SLAB, STEEL_THICKNESS, STUD_SPACING,
    SUBSTRATE,
};
use crate::survey::Substrate;

/// Every query of this room.
pub(crate) const QUERIES: &[&[Entry]] = &[FittingQuery::ENTRIES];

queries! {
    /// A doubt about how a blind hangs.
    pub(super) enum FittingQuery {
        LeftClosed { least: Shown }: Note, "left-closed-by-wall",
            "the overlap on the left is less than {least}; a side wall closes it, so there is no valance return"
            => "check that the side wall really closes the gap";
        RightClosed { least: Shown }: Note, "right-closed-by-wall",
            "the overlap on the right is less than {least}; a side wall closes it, so there is no valance return"
            => "check that the side wall really closes the gap";
        LittleAtLeft { least: Shown }: Check, "left-overlap-too-small",
            "the overlap on the left is less than {least}"
            => "light and views get past here: clear more wall, use a wider blind, or accept it";
        LittleAtRight { least: Shown }: Check, "right-overlap-too-small",
            "the overlap on the right is less than {least}"
            => "light and views get past here: clear more wall, use a wider blind, or accept it";
        Leans { limit: Shown }: Check, "out-of-square",
            "the opening is out of square by more than {limit}" => "measure both diagonals again";
        LeafMeetsStack: Check, "leaf-meets-stack", fills &DRAW,
            "a leaf that opens into the room hits the stack of louvers"
            => "change {} to keep the stack clear of that leaf, or use a wider blind", DRAW.name;
        LeafMeetsRail: Check, "leaf-meets-rail",
            "a leaf that opens into the room hits the rail"
            => "raise the rail, or check that the leaf passes under it";
        SubstrateUnknown: Check, "substrate-unknown", fills &SUBSTRATE,
            "substrate is blank: fixings are counted but not chosen"
            => "find out what is behind the wall surface, then fill in {}", SUBSTRATE.name;
        BoardAlone: Check, "board-alone", fills &HEADER_HEIGHT,
            "no stud or header is known behind the brackets: do not hang on drywall anchors alone"
            => "only anchors are counted: find the studs, or fill in {}", HEADER_HEIGHT.name;
        SlabTensioned: Stop, "slab-tensioned", fills &SLAB,
            "the slab is tensioned: do not drill it until it is searched and cleared"
            => "have a specialist find the tendons, then fill in {}: cleared", SLAB.name;
        SlabUnknown: Check, "slab-unknown", fills &SLAB,
            "screws go up into concrete, and nothing says whether it is tensioned"
            => "ask the building's engineer before anyone drills, and fill in {}", SLAB.name;
        Lintel: Check, "lintel", fills &HEADER_HEIGHT,
            "the screws go into a lintel, which may be prestressed"
            => "ask before anyone drills its lower 2 in (50 mm)";
        WoodOrSteel: Check, "wood-or-steel", fills &SUBSTRATE,
            "nothing says whether wood or steel is behind the board: wood screws are counted"
            => "probe behind the board, then fill in {}: stud wall or steel", SUBSTRATE.name;
        ProbeHead: Note, "probe-head", fills &HEADER_HEIGHT,
            "the head of the recess is taken to be framed in wood right behind its board"
            => "probe it before the rail is cut";
        JoistsUnknown: Check, "joists-unknown", fills &SUBSTRATE,
            "nothing says where the joists are: no rail hangs from ceiling board alone"
            => "find the joists, or put wood between them, before the rail is cut";
        ThickBoard { most: Shown }: Check, "thick-board", fills &BOARD_THICKNESS,
            "the board in the head of the recess is thicker than {most}"
            => "probe how far behind it the wood is, and use longer screws if it takes them";
        SteelUnknown: Check, "steel-unknown", fills &STUD_SPACING,
            "no stud, track or header is known behind the brackets: steel screws need one"
            => "find a stud or the track, or fill in {} and First stud", STUD_SPACING.name;
        StudSpacing: Check, "stud-spacing", fills &STUD_SPACING,
            "no wall has studs at that spacing: the studs are not used"
            => "measure from the center of one stud to the center of the next";
        StudsHalfKnown: Check, "studs-half-known", fills &FIRST_STUD,
            "stud spacing and first stud are not both given: the studs are not used"
            => "fill in both: the spacing, and one stud's distance from the opening's left edge";
        NoStudAtEnd: Check, "no-stud-at-end", fills &FIRST_STUD,
            "no stud is near one end of the rail: its bracket is on an anchor"
            => "look for the stud beside the opening, or put wood behind the board there";
        StudsFarApart { most: Shown }: Check, "studs-far-apart", fills &STUD_SPACING,
            "the studs are so far apart that brackets are over {most} from each other"
            => "put wood between the studs, or use a rail that is stiff enough for the span";
        FixingTooShort { wanted: Shown }: Check, "fixing-too-short", fills &BOARD_THICKNESS,
            "every listed fixing is too short: one of at least {wanted} is needed"
            => "add a longer one to the sheet Fixings";
        CapacityUnknown { item: String }: Check, "capacity-unknown",
            "nothing says what a {item} holds here"
            => "write the anchor's own working load under Capacity on the sheet Fixings";
        AnchorsOverloaded: Stop, "anchors-overloaded", fills &BLOCKING,
            "no anchor in a hollow wall holds this blind while it hangs"
            => "put blocking behind the board, find the studs, or add an anchor that holds to Fixings";
        Overloaded: Check, "fixing-overloaded", fills &SUBSTRATE,
            "the strongest listed fixing does not hold this blind while it hangs"
            => "add a stronger one to the sheet Fixings, or use a lighter blind";
        PulledOut: Check, "fixing-pulled-out", fills &SUBSTRATE,
            "the fixing holds this blind, but not a pull on it"
            => "find something solid for the screws, or add a stronger fixing to the sheet Fixings";
        ThinSteel: Check, "thin-steel", fills &STEEL_THICKNESS,
            "the steel is taken as 33 mil; thinner steel would not hold this blind"
            => "read the mark on the stud, then fill in {}", STEEL_THICKNESS.name;
        CablesBehind: Note, "cables-behind",
            "a screw goes more than 1 1/4 in (32 mm) into the framing, where a cable may lie"
            => "search for cables before drilling, or use a shorter screw";
        NoFixingListed { substrate: Substrate }: Check, "no-fixing-listed",
            "no fixing is listed for {substrate}: fixings are counted but not chosen"
            => "add one to the sheet Fixings";
        TooLongForBars { part: &'static str, material: String, longest: Shown }: Stop, "too-long-for-bars",
            "a {part} is longer than any bar of {material} allows ({longest})"
            => "add a longer bar to the sheet Bars, or divide the blind";
        NoBar { part: &'static str, material: String }: Stop, "no-bar",
            "no bar of {material} is listed to cut a {part} from"
            => "add one to the sheet Bars, or check its spelling in Products";
    }
}
