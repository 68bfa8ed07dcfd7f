//! The words that a survey may choose from. Each enum lists its words in the schema's order.

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

impl Substrate {
    /// Whether it is drilled with a hammer and gives off silica dust.
    pub const fn is_hard(self) -> bool {
        matches!(self, Substrate::Masonry | Substrate::Concrete)
    }
}
