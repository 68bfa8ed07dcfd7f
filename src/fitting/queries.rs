//! What fitting asks, in its own words.

use crate::length::Shown;
use crate::query::{Entry, queries};
use crate::schema::openings::{DRAW, HEADER_HEIGHT, SUBSTRATE};
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
