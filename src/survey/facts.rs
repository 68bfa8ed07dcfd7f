//! What was measured and asked for at one opening.

use std::ops::RangeInclusive;
use std::sync::Arc;

use crate::length::Length;
use crate::place::CellRef;
use crate::schema::Column;
use crate::schema::choices::Choice;
use crate::schema::openings::*;
use crate::tables::{Datum, FromDatum};

use super::joined::Joined;
use super::texts::Texts;
use super::{
    Control, CordDevice, DepthTo, Draw, EndsAt, Floor, Given, Kind, Leaf, Measured, MotorSide, MountWanted,
    Opens, SizeSource, Slab, Species, Substrate,
};

/// Declares the facts and how a row of cells gives them: `/// What it is. trim: Type = COLUMN;` for
/// what one cell says, then those that are settled from more: `and { kind: Kind = kind; }`.
macro_rules! facts {
    ($(#[$doc:meta])* pub struct $name:ident, read($joined:ident, $($arg:ident: $arg_type:ty),*) {
        $($(#[$each:meta])* $fact:ident: $type:ty = $column:ident;)*
    } and { $($(#[$settled_doc:meta])* $settled:ident: $settled_type:ty = $value:expr;)* }) => {
        $(#[$doc])*
        #[derive(Clone, Debug)]
        pub struct $name {
            $($(#[$each])* pub $fact: $type,)*
            $($(#[$settled_doc])* pub $settled: $settled_type,)*
        }
        impl $name {
            /// The facts of an opening whose cells hold it by nothing.
            pub(super) fn read($joined: Joined<'_>, $($arg: $arg_type),*) -> $name {
                $name {
                    $($fact: FromCell::from_cell($joined, &$column),)*
                    $($settled: $value,)*
                }
            }
        }
    };
}

facts! {
    /// What was measured and asked for at one opening; every value checked, none a guess.
    /// An option is `None` where the cell was blank or could not be read (then a query says so).
    pub struct Facts, read(joined, kind: Kind, width: Measured, height: Measured, texts: &mut Texts) {
        /// Where the sizes come from.
        source: SizeSource = MEASURED;
        /// Depth of the recess; 0 means there is none.
        recess_depth: Option<Given<Length>> = RECESS_DEPTH;
        /// What the depth was measured to, if said.
        depth_to: Option<Given<DepthTo>> = DEPTH_TO;
        /// How far the handle stands out.
        handle: Option<Given<Length>> = HANDLE;
        /// How far a casing stands out.
        trim: Option<Given<Length>> = TRIM;
        /// From the opening's edge to the casing's outer edge, at the head.
        casing_width: Option<Given<Length>> = CASING_WIDTH;
        /// Free wall on the left.
        wall_left: Option<Given<Length>> = WALL_LEFT;
        /// Free wall on the right.
        wall_right: Option<Given<Length>> = WALL_RIGHT;
        /// Free wall above.
        wall_above: Option<Given<Length>> = WALL_ABOVE;
        /// Free wall below.
        wall_below: Option<Given<Length>> = WALL_BELOW;
        /// How far what ends the wall below stands out from the wall's face.
        below_stands_out: Option<Given<Length>> = BELOW_STANDS_OUT;
        /// What the free wall on the left ends at.
        left_ends_at: EndsAt = LEFT_ENDS_AT;
        /// What the free wall on the right ends at.
        right_ends_at: EndsAt = RIGHT_ENDS_AT;
        /// Floor to the bottom of the opening, as written; see [`sill_height`](Facts::sill_height).
        sill: Option<Given<Length>> = SILL_HEIGHT;
        /// Floor to the top of the opening, to compare with sill and height alone.
        head: Option<Given<Length>> = HEAD_HEIGHT;
        /// The floor's surface, as written.
        floor: Option<Given<Floor>> = FLOOR_SURFACE;
        /// Thickness of the floor still to be laid.
        floor_to_come: Option<Given<Length>> = FLOOR_TO_COME;
        /// Height of solid wood above the opening; 0 means there is none.
        header_height: Option<Given<Length>> = HEADER_HEIGHT;
        /// Where the wood starts above the opening.
        header_offset: Option<Given<Length>> = HEADER_OFFSET;
        /// The mount asked for.
        mount: Option<Given<MountWanted>> = MOUNT;
        /// The finished drop asked for.
        drop_wanted: Option<Given<Length>> = DROP_WANTED;
        /// Which leaf opens.
        leaf: Option<Given<Leaf>> = OPENING_LEAF;
        /// How it opens.
        opens: Option<Given<Opens>> = OPENS;
        /// Where the louvers are to stack.
        draw: Option<Given<Draw>> = DRAW;
        /// How the blind is to be worked.
        control: Option<Given<Control>> = CONTROL;
        /// The end that a motor is at.
        motor_side: Option<Given<MotorSide>> = MOTOR_SIDE;
        /// What keeps a cord out of reach.
        cord_device: Option<Given<CordDevice>> = CORD_DEVICE;
        /// Floor to the lowest point of that.
        cord_height: Option<Given<Length>> = CORD_HEIGHT;
        /// What the brackets go into.
        substrate: Option<Given<Substrate>> = SUBSTRATE;
        /// The species of the wood behind.
        species: Option<Given<Species>> = SPECIES;
        /// Design thickness of a steel stud.
        steel_thickness: Option<Given<Length>> = STEEL_THICKNESS;
        /// Layers of board on the studs.
        board_layers: Option<Given<u32>> = BOARD_LAYERS;
        /// Thickness of one layer.
        board_thickness: Option<Given<Length>> = BOARD_THICKNESS;
        /// From stud to stud.
        stud_spacing: Option<Given<Length>> = STUD_SPACING;
        /// A stud's center from the opening's left edge, to the right.
        first_stud: Option<Given<Length>> = FIRST_STUD;
        /// Whether wood stands behind the board along the whole rail, if said.
        blocking: Option<Given<bool>> = BLOCKING;
        /// The concrete that a bracket is screwed up into.
        slab: Option<Given<Slab>> = SLAB;
        /// Whether a heater stands below, if said.
        heater_below: Option<Given<bool>> = HEATER_BELOW;
        /// An accessible unit.
        accessible: bool = ACCESSIBLE;
        /// An opening that must serve for escape.
        escape: bool = ESCAPE;
        /// Clear width of the sash as it opens.
        escape_clear_width: Option<Given<Length>> = ESCAPE_CLEAR_WIDTH;
        /// Clear height of the sash as it opens.
        escape_clear_height: Option<Given<Length>> = ESCAPE_CLEAR_HEIGHT;
    }
    and {
        /// What the opening is (a blank is settled by the least height and the sill).
        kind: Kind = kind;
        /// Width at up to four places.
        width: Measured = width;
        /// Height at up to four places.
        height: Measured = height;
        /// Both diagonals, or none.
        diagonals: Option<[Given<Length>; 2]> = given(joined, &DIAGONAL_1).zip(given(joined, &DIAGONAL_2)).map(<[_; 2]>::from);
        /// Cell of `Measured`, if given.
        source_at: Option<CellRef> = joined.entry(&MEASURED).filter(|entry| entry.datum.is_ok()).map(|entry| entry.at);
        /// The product's name as written.
        product: Option<Given<Arc<str>>> = shared(joined, &PRODUCT, texts);
        /// The color as written.
        color: Option<Given<Arc<str>>> = shared(joined, &COLOR, texts);
    }
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

    /// Width of a casing at the head; a blank is unknown, and moves nothing.
    pub fn casing_width_or_zero(&self) -> Length {
        or_zero(self.casing_width)
    }

    /// Whether there is a header of known height.
    pub fn has_header(&self) -> bool {
        or_zero(self.header_height) > Length::ZERO
    }

    /// Whether there is wood behind the board along the whole rail.
    pub fn has_blocking(&self) -> bool {
        self.blocking.is_some_and(|blocking| blocking.value)
    }

    /// The studs, if both their spacing and the place of one are known, and no wall is without them.
    pub fn studs(&self) -> Option<Studs> {
        let spacing = self.stud_spacing.map(|spacing| spacing.value);
        let spacing = spacing.filter(|spacing| STUD_SPACINGS.contains(spacing))?;
        Some(Studs { spacing, first: self.first_stud?.value })
    }

    /// Where the wood starts above the opening; a blank is right on it.
    pub fn header_offset_or_zero(&self) -> Length {
        or_zero(self.header_offset)
    }
}

/// Studs behind a wall's face.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Studs {
    /// From the center of one to the center of the next.
    pub spacing: Length,
    /// The center of one of them from the opening's left edge, to the right.
    pub first: Length,
}

/// Spacings of studs that walls have, with room on both sides (common practice, no source).
const STUD_SPACINGS: RangeInclusive<Length> = Length::inches(6)..=Length::inches(48);

/// A length whose blank counts as 0.
fn or_zero(given: Option<Given<Length>>) -> Length {
    given.map_or(Length::ZERO, |given| given.value)
}

/// A type that one cell gives, and what a blank or unreadable one is to it.
trait FromCell {
    fn from_cell(joined: Joined<'_>, column: &Column) -> Self;
}

impl<T: FromDatum> FromCell for Option<Given<T>> {
    fn from_cell(joined: Joined<'_>, column: &Column) -> Option<Given<T>> {
        given(joined, column)
    }
}

/// A choice of which a blank means one.
impl<C: Choice + Default> FromCell for C {
    fn from_cell(joined: Joined<'_>, column: &Column) -> C {
        given(joined, column).map_or_else(C::default, |given| given.value)
    }
}

/// What the cell under a column says, the row's own or its type's.
pub(super) fn given<T: FromDatum>(joined: Joined<'_>, column: &Column) -> Option<Given<T>> {
    let entry = joined.entry(column)?;
    Some(Given { value: T::from_datum(entry.datum.as_ref().ok()?)?, at: entry.at })
}

/// A text as every equal one shares it.
fn shared(joined: Joined<'_>, column: &Column, texts: &mut Texts) -> Option<Given<Arc<str>>> {
    let entry = joined.entry(column)?;
    match entry.datum.as_ref().ok()? {
        Datum::Text(text) => Some(Given { value: texts.shared(text), at: entry.at }),
        _ => None,
    }
}
