//! What fitting asks, in its own words.

use thiserror::Error;

use crate::length::Shown;
use crate::query::Wording;
use crate::schema::Column;
use crate::schema::openings::{DRAW, HEADER_HEIGHT, SUBSTRATE};
use crate::survey::Substrate;

/// A doubt about how a blind hangs.
#[derive(Debug, Error)]
pub(super) enum FittingQuery {
    #[error("the {side} side laps over by less than {least}; the wall closes it, so it has no return")]
    ClosedByWall { side: &'static str, least: Shown },
    #[error("the {side} side laps over by less than {least}")]
    LittleOverlap { side: &'static str, least: Shown },
    #[error("a leaf that opens into the room meets the louvers' stack")]
    LeafMeetsStack,
    #[error("a leaf that opens into the room meets the rail")]
    LeafMeetsRail,
    #[error("what the brackets go into is not given: fixings are counted but not chosen")]
    SubstrateUnknown,
    #[error("no stud or header is known behind the brackets: anchors for the board are counted")]
    BoardAlone,
    #[error("no fixing is listed for {substrate}: fixings are counted but not chosen")]
    NoFixingListed { substrate: Substrate },
    #[error("a {part} is longer than any bar of {material} gives, {longest}")]
    TooLongForBars { part: &'static str, material: String, longest: Shown },
    #[error("{material} has no bar that a {part} could be cut from")]
    NoBar { part: &'static str, material: String },
}

impl Wording for FittingQuery {
    fn fills(&self) -> Option<&'static Column> {
        use FittingQuery::*;
        match self {
            LeafMeetsStack => Some(&DRAW),
            SubstrateUnknown => Some(&SUBSTRATE),
            BoardAlone => Some(&HEADER_HEIGHT),
            ClosedByWall { .. }
            | LittleOverlap { .. }
            | LeafMeetsRail
            | NoFixingListed { .. }
            | TooLongForBars { .. }
            | NoBar { .. } => None,
        }
    }

    fn hint(&self) -> String {
        use FittingQuery::*;
        match self {
            ClosedByWall { .. } => "see that the wall does close the gap".into(),
            LittleOverlap { .. } => {
                "light and looks pass here; move the wall's limit, take a wider blind, or accept it".into()
            }
            LeafMeetsStack => "draw the louvers off the leaf before it is opened, or widen the blind".into(),
            LeafMeetsRail => "raise the rail, or see that the leaf passes under it".into(),
            SubstrateUnknown => "fill in Substrate, after looking behind the plaster".into(),
            BoardAlone => "find the studs, or fill in Header height; board alone holds little".into(),
            NoFixingListed { .. } => "add one to the sheet Fixings".into(),
            TooLongForBars { .. } => "add a longer bar to the sheet Bars, or divide the blind".into(),
            NoBar { .. } => "add it to the sheet Bars, or look at its spelling in Products".into(),
        }
    }
}
