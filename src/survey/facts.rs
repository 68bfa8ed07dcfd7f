//! What was measured and asked for at one opening.

use std::sync::Arc;

use crate::length::Length;
use crate::place::CellRef;

use super::{
    Control, DepthTo, Draw, EndsAt, Floor, Given, Kind, Leaf, Measured, MountWanted, Opens, Source, Substrate,
};

/// What was measured and asked for at one opening; every value checked, none a guess.
/// An option is `None` where the cell was blank or could not be read (then a query says so).
#[derive(Clone, Debug)]
pub struct Facts {
    /// What the opening is (a blank is settled by the least height and the sill).
    pub kind: Kind,
    /// Width at up to four places.
    pub width: Measured,
    /// Height at up to four places.
    pub height: Measured,
    /// Both diagonals, or none.
    pub diagonals: Option<[Given<Length>; 2]>,
    /// Where the sizes come from.
    pub source: Source,
    /// Cell of `Measured`, if given.
    pub source_at: Option<CellRef>,
    /// Depth of the recess; 0 means there is none.
    pub recess_depth: Option<Given<Length>>,
    /// What the depth was measured to, if said.
    pub depth_to: Option<Given<DepthTo>>,
    /// How far the handle stands out.
    pub handle: Option<Given<Length>>,
    /// How far a casing stands out.
    pub trim: Option<Given<Length>>,
    /// Free wall on the left.
    pub wall_left: Option<Given<Length>>,
    /// Free wall on the right.
    pub wall_right: Option<Given<Length>>,
    /// Free wall above.
    pub wall_above: Option<Given<Length>>,
    /// Free wall below.
    pub wall_below: Option<Given<Length>>,
    /// What the free wall on the left ends at.
    pub left_ends_at: EndsAt,
    /// What the free wall on the right ends at.
    pub right_ends_at: EndsAt,
    /// Floor to the bottom of the opening, as written; see [`sill_height`](Facts::sill_height).
    pub sill: Option<Given<Length>>,
    /// Floor to the top of the opening, to compare with sill and height alone.
    pub head: Option<Given<Length>>,
    /// The floor's surface, as written.
    pub floor: Option<Given<Floor>>,
    /// Thickness of the floor still to be laid.
    pub floor_to_come: Option<Given<Length>>,
    /// Height of solid timber above the opening; 0 means there is none.
    pub header_height: Option<Given<Length>>,
    /// Where the timber starts above the opening.
    pub header_offset: Option<Given<Length>>,
    /// The mount asked for.
    pub mount: Option<Given<MountWanted>>,
    /// The finished drop asked for.
    pub drop_wanted: Option<Given<Length>>,
    /// The product's name as written.
    pub product: Option<Given<Arc<str>>>,
    /// The colour as written.
    pub colour: Option<Given<Arc<str>>>,
    /// Which leaf opens.
    pub leaf: Option<Given<Leaf>>,
    /// How it opens.
    pub opens: Option<Given<Opens>>,
    /// Where the louvers are to stack.
    pub draw: Option<Given<Draw>>,
    /// How the blind is to be worked.
    pub control: Option<Given<Control>>,
    /// What the brackets go into.
    pub substrate: Option<Given<Substrate>>,
    /// An accessible unit.
    pub accessible: bool,
    /// An opening that must serve for escape.
    pub escape: bool,
}

impl Facts {
    /// From the floor as it is on the day to the bottom of the opening: a blank is 0 for a door,
    /// and `None`, unknown, for a window.
    pub fn sill_height(&self) -> Option<Length> {
        match (self.sill, self.kind) {
            (Some(sill), _) => Some(sill.value),
            (None, Kind::PatioDoor | Kind::Door) => Some(Length::ZERO),
            (None, Kind::Window) => None,
        }
    }

    /// Depth of the recess; a blank, for a blind outside it, is none.
    pub fn recess_depth_or_zero(&self) -> Length {
        or_zero(self.recess_depth)
    }

    /// How far the handle stands out; a blank is assumed not to.
    pub fn handle_or_zero(&self) -> Length {
        or_zero(self.handle)
    }

    /// How far a casing stands out; a blank is assumed not to.
    pub fn trim_or_zero(&self) -> Length {
        or_zero(self.trim)
    }

    /// Thickness of the floor still to be laid; a blank is none.
    pub fn floor_to_come_or_zero(&self) -> Length {
        or_zero(self.floor_to_come)
    }

    /// Where the timber starts above the opening; a blank is right on it.
    pub fn header_offset_or_zero(&self) -> Length {
        or_zero(self.header_offset)
    }
}

/// A length whose blank counts as 0.
fn or_zero(given: Option<Given<Length>>) -> Length {
    given.map_or(Length::ZERO, |given| given.value)
}
