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
            "the left side laps over by less than {least}; the wall closes it, so it has no return"
            => "see that the wall does close the gap";
        RightClosed { least: Shown }: Note, "right-closed-by-wall",
            "the right side laps over by less than {least}; the wall closes it, so it has no return"
            => "see that the wall does close the gap";
        LittleAtLeft { least: Shown }: Check, "left-laps-too-little",
            "the left side laps over by less than {least}"
            => "light and looks pass here; move the wall's limit, take a wider blind, or accept it";
        LittleAtRight { least: Shown }: Check, "right-laps-too-little",
            "the right side laps over by less than {least}"
            => "light and looks pass here; move the wall's limit, take a wider blind, or accept it";
        LeafMeetsStack: Check, "leaf-meets-stack", fills &DRAW,
            "a leaf that opens into the room meets the louvers' stack"
            => "draw the louvers off the leaf before it is opened, or widen the blind";
        LeafMeetsRail: Check, "leaf-meets-rail",
            "a leaf that opens into the room meets the rail"
            => "raise the rail, or see that the leaf passes under it";
        SubstrateUnknown: Check, "substrate-unknown", fills &SUBSTRATE,
            "what the brackets go into is not given: fixings are counted but not chosen"
            => "fill in Substrate, after looking behind the plaster";
        BoardAlone: Check, "board-alone", fills &HEADER_HEIGHT,
            "no stud or header is known behind the brackets: anchors for the board are counted"
            => "find the studs, or fill in Header height; board alone holds little";
        NoFixingListed { substrate: Substrate }: Check, "no-fixing-listed",
            "no fixing is listed for {substrate}: fixings are counted but not chosen"
            => "add one to the sheet Fixings";
        TooLongForBars { part: &'static str, material: String, longest: Shown }: Stop, "too-long-for-bars",
            "a {part} is longer than any bar of {material} gives, {longest}"
            => "add a longer bar to the sheet Bars, or divide the blind";
        NoBar { part: &'static str, material: String }: Stop, "no-bar",
            "{material} has no bar that a {part} could be cut from"
            => "add it to the sheet Bars, or look at its spelling in Products";
    }
}
