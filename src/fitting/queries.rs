//! What fitting asks, in its own words.

use crate::length::Shown;
use crate::query::{Entry, queries};
use crate::schema::Column;
use crate::schema::openings::{
    BLOCKING, BOARD_THICKNESS, CONTROL, CORD_DEVICE, CORD_HEIGHT, DRAW, FIRST_STUD, FLOOR_TO_COME,
    HEADER_HEIGHT, MOTOR_SIDE, SILL_HEIGHT, SLAB, STEEL_THICKNESS, STUD_SPACING, SUBSTRATE,
};
use crate::survey::{CordDevice, Substrate};

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
            "substrate is unknown: fixings are counted but not chosen"
            => "find out what is behind the wall surface, then fill in {}", SUBSTRATE.name;
        BoardAlone: Check, "board-alone", fills &HEADER_HEIGHT,
            "no stud or header is known behind the brackets: do not hang on drywall anchors alone"
            => "only anchors are counted: find the studs, or a header that both screws go into";
        SlabTensioned: Stop, "slab-tensioned", fills &SLAB,
            "the slab is tensioned: do not drill it until it is searched and cleared"
            => "have a specialist find the tendons, then fill in {}: cleared", SLAB.name;
        SlabUnknown: Check, "slab-unknown", fills &SLAB,
            "screws go up into a ceiling or concrete, and nothing says whether it is a tensioned slab"
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
        NoHeader: Check, "no-header", fills &HEADER_HEIGHT,
            "header height is 0, yet the head of a recess is taken to be framed in wood behind its board"
            => "probe it before the rail is cut, then fill in what is there";
        JoistsUnknown: Check, "joists-unknown", fills &SUBSTRATE,
            "nothing says where the joists are: no rail hangs from ceiling board alone"
            => "find the joists, or put wood between them, before the rail is cut";
        ThickBoard { most: Shown }: Check, "thick-board", fills &BOARD_THICKNESS,
            "the wood over the recess is more than {most} behind its face"
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
            "no stud is near an end of the rail: its bracket is on an anchor"
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
            "the thickness of the steel is assumed; thinner steel would not hold this blind"
            => "read the mark on the stud, then fill in {}", STEEL_THICKNESS.name;
        CablesBehind: Note, "cables-behind",
            "a screw goes more than 1 1/4 in (32 mm) into the framing, where a cable may lie"
            => "search for cables before drilling, or use a shorter screw";
        NoFixingListed { substrate: Substrate }: Check, "no-fixing-listed",
            "no fixing is listed for {substrate}: fixings are counted but not chosen"
            => "add one to the sheet Fixings";
        MotorSideUnknown: Check, "motor-side-unknown", fills &MOTOR_SIDE,
            "{} is blank: at which end the motor is to be is not known", MOTOR_SIDE.name
            => "fill in {}: left or right, as seen from inside", MOTOR_SIDE.name;
        MotorSupply { lowest: Shown, highest: Shown }: Check, "motor-supply",
            "who brings the supply to the motor, and where, is not settled"
            => "ask an electrician; in an accessible unit its switch is {lowest} to {highest} above the floor";
        WandPastBottom { least: Shown }: Check, "wand-past-bottom",
            "the shortest wand ends less than {least} above the bottom of the blind"
            => "order a shorter wand, or choose motor under {}", CONTROL.name;
        WandTooHigh { most: Shown }: Check, "wand-too-high", fills &CONTROL,
            "the wand ends more than {most} above the finished floor, where many cannot reach it"
            => "order a wand made to measure, or choose motor under {}", CONTROL.name;
        WindowTooHigh { most: Shown }: Check, "window-too-high", fills &CONTROL,
            "no wand of this blind ends {most} or less above the finished floor: it hangs too high"
            => "choose motor under {}", CONTROL.name;
        WandTwists { source: String }: Check, "wand-twists",
            "accessible unit: a wand that tilts the louvers by a twist may not meet {source}"
            => "choose a product whose wand is pushed and pulled, or motor under {}", CONTROL.name;
        WandOutOfReach { from: Shown, to: Shown, source: String }: Check, "wand-out-of-reach", fills &CONTROL,
            "accessible unit: no stock wand ends {from} to {to} above the finished floor ({source})"
            => "order a wand made to measure, or choose motor under {}", CONTROL.name;
        WindowOutOfReach { from: Shown, to: Shown, source: String }: Check, "window-out-of-reach", fills &CONTROL,
            "accessible unit: no wand at all ends {from} to {to} above the finished floor ({source})"
            => "choose motor under {}, with its switch in reach", CONTROL.name;
        ReachUnknown { column: &'static Column }: Check, "reach-unknown", fills column,
            "accessible unit: whether the wand is in reach is unknown, as {} is blank", column.name
            => "fill in {}", column.name;
        ReachNotMeasured: Check, "reach-not-measured",
            "accessible unit: whether the wand is in reach is unknown: the sizes given are finished ones"
            => "measure how high its end hangs above the finished floor, and compare it with what the code needs";
        TooFarToReach { most: Shown, source: String }: Check, "too-far-to-reach",
            "accessible unit: what is below stands out more than {most}, too far to reach over ({source})"
            => "move it, or choose motor under {} with its switch in reach", CONTROL.name;
        DoorTooNarrow { source: String }: Check, "accessible-door-too-narrow",
            "accessible unit: the open blind leaves less of the door clear than {source} needs"
            => "stack the louvers beside the door: a wider blind, another Draw, or another product";
        DoorClearUnknown { source: String }: Check, "accessible-door-unknown",
            "accessible unit: what the open blind leaves clear of the door is unknown ({source})"
            => "measure it, and compare it with what the code needs";
        EscapeSashUnknown { column: &'static Column }: Check, "escape-sash-unknown", fills column,
            "{} is blank on an escape opening", column.name
            => "measure what is clear with the sash or leaf open as far as it goes";
        EscapeBlindUnknown: Check, "escape-blind-unknown",
            "escape opening: what the open blind leaves clear is unknown"
            => "measure it, and compare it with what the code needs";
        EscapeCodeUnknown { jurisdiction: &'static str }: Check, "escape-code-unknown",
            "escape opening: no sizes are listed for jurisdiction {jurisdiction}"
            => "ask your authority which clear width, height, area and sill it needs";
        EscapeTooNarrow { source: String }: Check, "escape-too-narrow",
            "escape opening: with the blind open it is narrower than {source} needs"
            => "if the blind takes the width, stack it beside the opening; if the sash does, ask your authority";
        EscapeTooLow { source: String }: Check, "escape-too-low",
            "escape opening: it is less high than {source} needs" => "ask your authority";
        EscapeTooSmall { source: String }: Check, "escape-too-small",
            "escape opening: with the blind open its area is smaller than {source} needs"
            => "if the blind takes the width, stack it beside the opening; if the sash does, ask your authority";
        EscapeSillTooHigh { source: String }: Check, "escape-sill-too-high",
            "escape opening: its sill is higher than {source} allows" => "ask your authority";
        EscapeSillUnknown { source: String }: Check, "escape-sill-unknown", fills &SILL_HEIGHT,
            "escape opening: its sill height is unknown, for which {source} has a maximum"
            => "fill in {}", SILL_HEIGHT.name;
        MotorOnEscape: Check, "motor-on-escape", fills &CONTROL,
            "escape opening: its blind is moved by a motor"
            => "make sure that it opens by hand, without power, key or tool, or choose wand under {}", CONTROL.name;
        CordForbidden { number: String }: Stop, "cord-control", fills &CONTROL,
            "{number} does not allow this cord" => "choose wand or motor under {}", CONTROL.name;
        CordDeviceUnknown { number: String, devices: String }: Stop, "cord-device-unknown", fills &CORD_DEVICE,
            "{number} needs a device that keeps the cord from children"
            => "fill in {}: {devices}; or choose wand under {}", CORD_DEVICE.name, CONTROL.name;
        CordHeightUnknown { number: String }: Stop, "cord-height-unknown", fills &CORD_HEIGHT,
            "how high the cord's device is must be known ({number})"
            => "fill in {}: from the floor up to the lowest point of the device", CORD_HEIGHT.name;
        CordFloorUnknown: Stop, "cord-floor-unknown", fills &FLOOR_TO_COME,
            "how high the cord is above the finished floor is unknown: the floor is not laid"
            => "fill in {}: the thickness still to be laid, 0 if none", FLOOR_TO_COME.name;
        CordDeviceRefused { number: String, device: CordDevice, devices: String }:
            Stop, "cord-device-refused", fills &CORD_DEVICE,
            "{number} does not allow a cord with this device: {device}"
            => "use one of these: {devices}; or choose wand under {}", CONTROL.name;
        CordTooLow { number: String }: Stop, "cord-too-low", fills &CORD_HEIGHT,
            "the cord's device is lower than {number} allows"
            => "move the device up, or choose wand or motor under {}", CONTROL.name;
        CordAllowed: Check, "cord-allowed",
            "a child can strangle in a cord: fit its device as listed before you leave"
            => "hand over the maker's warning; keep beds, chairs and all that a child climbs on away";
        CordWithoutRule: Check, "cord-without-rule", fills &CONTROL,
            "a child can strangle in a cord, and no rule for cords is listed for this jurisdiction"
            => "choose wand or motor under {}, or keep the cord out of the reach of children", CONTROL.name;
        TooLongForBars { part: &'static str, material: String, longest: Shown }: Stop, "too-long-for-bars",
            "a {part} is longer than any bar of {material} allows ({longest})"
            => "add a longer bar to the sheet Bars, or divide the blind";
        NoBar { part: &'static str, material: String }: Stop, "no-bar",
            "no bar of {material} is listed to cut a {part} from"
            => "add one to the sheet Bars, or check its spelling in Products";
    }
}
