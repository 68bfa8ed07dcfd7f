//! Cells to checked openings. Knows nothing of blinds.

use std::sync::Arc;

use crate::length::Length;
use crate::place::CellRef;

/// All openings of the run, in survey order.
#[derive(Clone, Debug, Default)]
pub struct Survey {
    /// The openings, in the order of the surveys and their rows.
    pub openings: Vec<Opening>,
    /// Headings of the columns that are carried through, in order.
    pub carried: Vec<Arc<str>>,
    /// Opening rows read, also those that could not become an opening.
    pub rows: usize,
    /// Values taken because a cell was blank.
    pub assumptions: Vec<Assumption>,
}

/// A value taken because a cell was blank.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Assumption {
    /// The column or project item.
    pub column: &'static str,
    /// What was taken.
    pub value: String,
    /// For how many openings (a project item: 0).
    pub openings: u64,
}

/// One row of the survey: who it is, and what was measured unless it is held.
#[derive(Clone, Debug)]
pub struct Opening {
    /// Names and place.
    pub who: Identity,
    /// What was measured; `None` if the survey's own stops hold it back.
    pub facts: Option<Box<Facts>>,
}

/// An opening's names and place in the building. Texts are as written; empty where blank.
#[derive(Clone, Debug)]
pub struct Identity {
    /// The id as written; empty if blank.
    pub written: Arc<str>,
    /// The shortest of `id`, `unit/id`, `building/unit/id` that is unique in the run.
    pub name: Arc<str>,
    /// File name of its survey.
    pub survey: Arc<str>,
    /// The row's `Opening` cell, or its first cell if that is blank.
    pub at: CellRef,
    /// The building.
    pub building: Arc<str>,
    /// The floor.
    pub floor: Arc<str>,
    /// The unit; blank is shown as `No unit`.
    pub unit: Arc<str>,
    /// The room.
    pub room: Arc<str>,
    /// The phase.
    pub phase: Arc<str>,
    /// The note.
    pub note: Arc<str>,
    /// Values of the carried columns, in the survey's order.
    pub carried: Vec<Arc<str>>,
    /// How many openings the row stands for; 1 to 10,000 (1 where it could not be read).
    pub quantity: u32,
}

/// A value and the cell it was read from; `None` where a blank gave it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Given<T> {
    /// The value.
    pub value: T,
    /// Its cell.
    pub at: CellRef,
}

/// One to four measurements of the same thing, all above zero.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Measured {
    first: Given<Length>,
    rest: Vec<Given<Length>>,
}

impl Measured {
    /// `None` if nothing was measured.
    pub fn new(given: Vec<Given<Length>>) -> Option<Measured> {
        let mut given = given.into_iter();
        given.next().map(|first| Measured { first, rest: given.collect() })
    }

    /// Every measurement, in column order.
    pub fn all(&self) -> impl Iterator<Item = Given<Length>> + '_ {
        std::iter::once(self.first).chain(self.rest.iter().copied())
    }

    /// The least of them; the first of equals.
    pub fn least(&self) -> Given<Length> {
        self.all()
            .reduce(|least, next| if next.value < least.value { next } else { least })
            .unwrap_or(self.first)
    }

    /// The most of them; the first of equals.
    pub fn most(&self) -> Given<Length> {
        self.all()
            .reduce(|most, next| if next.value > most.value { next } else { most })
            .unwrap_or(self.first)
    }

    /// How many measurements there are.
    pub fn count(&self) -> usize {
        1 + self.rest.len()
    }
}

/// A choice of the survey's and the words that spell it.
macro_rules! choice {
    ($(#[$doc:meta])* $name:ident { $($(#[$each:meta])* $variant:ident = $word:literal),* $(,)? }) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum $name { $($(#[$each])* $variant),* }
        impl $name {
            /// Every choice, in the order of the schema's words.
            pub const ALL: &'static [$name] = &[$($name::$variant),*];
            /// The word that spells it in a survey.
            pub const fn word(self) -> &'static str {
                match self { $($name::$variant => $word),* }
            }
        }
        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result { f.write_str(self.word()) }
        }
    };
}

choice! {
    /// What an opening is.
    Kind {
        /// A wide door, mostly glass.
        PatioDoor = "patio door",
        /// Any other door.
        Door = "door",
        /// A window.
        Window = "window",
    }
}
choice! {
    /// Where a size comes from.
    Source {
        /// Measured on site.
        Tape = "tape",
        /// Taken from another like it.
        Typical = "typical",
        /// Read off a drawing.
        Drawing = "drawing",
        /// Of the rough opening, before it was finished.
        Rough = "rough",
    }
}
choice! {
    /// What a recess depth was measured to.
    DepthTo {
        /// The glass.
        Glass = "glass",
        /// The frame.
        Frame = "frame",
        /// The tip of the handle.
        Handle = "handle",
    }
}
choice! {
    /// What free wall ends at.
    EndsAt {
        /// A wall standing out into the room: it closes the gap.
        Wall = "wall",
        /// A cupboard.
        Cupboard = "cupboard",
        /// Nothing.
        Free = "free",
    }
}
choice! {
    /// The floor in front of an opening.
    Floor {
        /// Tiles, boards, screed to stay.
        Hard = "hard",
        /// Carpet.
        Carpet = "carpet",
        /// Not laid yet.
        Unfinished = "unfinished",
    }
}
choice! {
    /// The mount that the survey asks for.
    MountWanted {
        /// Within the recess.
        Inside = "inside",
        /// On the wall face.
        Outside = "outside",
        /// Inside if it fits.
        Either = "either",
    }
}
choice! {
    /// Which leaf opens, as seen from inside.
    Leaf {
        /// The left one.
        Left = "left",
        /// The right one.
        Right = "right",
        /// Both.
        Both = "both",
        /// None.
        None = "none",
    }
}
choice! {
    /// How an opening opens.
    Opens {
        /// Sideways.
        Slide = "slide",
        /// Into the room.
        In = "in",
        /// Outwards.
        Out = "out",
        /// Its top comes into the room.
        Tilt = "tilt",
        /// Upwards.
        Up = "up",
    }
}
choice! {
    /// Where the louvers stack when open, as seen from inside.
    Draw {
        /// At the left.
        Left = "left",
        /// At the right.
        Right = "right",
        /// Half at each side.
        Split = "split",
    }
}
choice! {
    /// How a blind is worked.
    Control {
        /// A wand on the leading carrier.
        Wand = "wand",
        /// A cord.
        Cord = "cord",
        /// A motor.
        Motor = "motor",
    }
}
choice! {
    /// What brackets go into.
    Substrate {
        /// Solid timber.
        Timber = "timber",
        /// Board on studs.
        StudWall = "stud wall",
        /// Board alone.
        Plasterboard = "plasterboard",
        /// Brick or block.
        Masonry = "masonry",
        /// Concrete.
        Concrete = "concrete",
        /// Steel studs.
        Steel = "steel",
    }
}

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
    /// Floor to the bottom of the opening, as written; a blank is 0 for a door and unknown for a window.
    pub sill: Option<Given<Length>>,
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
    /// Floor to the bottom of the opening: as written, 0 for a door where blank, else unknown.
    pub fn sill_height(&self) -> Option<Length> {
        match self.sill {
            Some(sill) => Some(sill.value),
            None if self.kind == Kind::Window => None,
            None => Some(Length::ZERO),
        }
    }
}
