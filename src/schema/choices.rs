//! The words that a survey may choose from, each with what it stands for: the columns list the
//! words, and a cell is read back as what its word stands for.

use crate::length::Units;

/// What a word of a column stands for.
pub trait Choice: Copy {
    /// What it stands for; `None` if it is none of these words.
    fn of(word: &str) -> Option<Self>;
}

/// A choice and the words that spell it:
/// `/// What it is. Draw { /// At the left. Left = "left", }`.
macro_rules! choice {
    ($(#[$doc:meta])* $name:ident { $($(#[$each:meta])* $variant:ident = $word:literal),* $(,)? }) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum $name { $($(#[$each])* $variant),* }
        impl $name {
            /// Every word, in the order in which a survey is offered them.
            pub const WORDS: &'static [&'static str] = &[$($word),*];
            /// The word that spells it in a survey.
            pub const fn word(self) -> &'static str {
                match self { $($name::$variant => $word),* }
            }
        }
        impl $crate::schema::choices::Choice for $name {
            fn of(word: &str) -> Option<$name> {
                match word { $($word => Some($name::$variant),)* _ => None }
            }
        }
        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result { f.write_str(self.word()) }
        }
    };
}
pub(crate) use choice;

/// Letters that stand for a word of these choices, as people say it elsewhere or in short.
pub(crate) fn said_otherwise(letters: &str) -> Option<&'static str> {
    Some(match letters {
        "y" | "true" => "yes",
        "n" | "false" => "no",
        "timber" => Substrate::Wood.word(),
        "plasterboard" | "gypsumboard" => Substrate::Drywall.word(),
        _ => return None,
    })
}

/// The words of a column that asks whether.
pub const YES_NO: &[&str] = &["yes", "no"];

impl Choice for bool {
    fn of(word: &str) -> Option<bool> {
        match word {
            "yes" => Some(true),
            "no" => Some(false),
            _ => None,
        }
    }
}

/// The words of the item that says what a bare number is in.
pub const UNITS: &[&str] = &[Units::Inches.symbol(), Units::Millimeters.symbol()];

impl Choice for Units {
    fn of(word: &str) -> Option<Units> {
        [Units::Inches, Units::Millimeters].into_iter().find(|units| units.symbol() == word)
    }
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
    #[derive(Default)]
    SizeSource {
        /// Measured on site.
        #[default]
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
    #[derive(Default)]
    EndsAt {
        /// A wall standing out into the room: it closes the gap.
        Wall = "wall",
        /// A cupboard.
        Cupboard = "cupboard",
        /// Nothing.
        #[default]
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
        /// Solid wood.
        Wood = "wood",
        /// Board on studs.
        StudWall = "stud wall",
        /// Board alone.
        Drywall = "drywall",
        /// Brick or block.
        Masonry = "masonry",
        /// Concrete.
        Concrete = "concrete",
        /// Steel studs.
        Steel = "steel",
    }
}

impl Substrate {
    /// Whether it is drilled with a hammer and gives off silica dust.
    pub const fn is_hard(self) -> bool {
        matches!(self, Substrate::Masonry | Substrate::Concrete)
    }
}
