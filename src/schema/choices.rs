//! The words that a survey may choose from, each with what it stands for: the columns list the
//! words, and a cell is read back as what its word stands for.
//!
//! Beside a word stand the others that mean the same in its column, on either side of the ocean, in
//! American spelling; British spelling is read all the same. A word may mean different things in
//! two columns. One that could mean two things in its own is not listed, so that it is asked about:
//! a casement opens in or out, a center draw parts there or stacks there.

use crate::length::Unit;
use crate::name::{fold, is_spelled};

/// What a word of a column stands for.
pub trait Choice: Copy {
    /// What it stands for; `None` if it is none of these words.
    fn of(word: &str) -> Option<Self>;
}

/// The words of a column.
#[derive(Debug, PartialEq, Eq)]
pub struct Words {
    /// Every word, in the order in which a survey is offered them.
    pub own: &'static [&'static str],
    /// For each of them the other words that say just that in this column.
    pub others: &'static [&'static [&'static str]],
}

impl Words {
    /// The word that a text says: it or another for it, in any case and spelling, with or without
    /// spaces and hyphens.
    pub fn meant(&self, text: &str) -> Option<&'static str> {
        if let Some(word) = self.own.iter().find(|word| **word == text) {
            return Some(word);
        }
        let letters = fold(text);
        let says = |word: &&str| is_spelled(word, &letters);
        let others = |place: usize| self.others.get(place).is_some_and(|others| others.iter().any(says));
        let mut own = self.own.iter().enumerate();
        own.find(|(place, word)| says(word) || others(*place)).map(|(_, word)| *word)
    }
}

/// A choice and the words that spell it, the first of them the column's own and the others what
/// people say elsewhere or in short:
/// `/// What it is. Draw { /// At the left. Left = "left" | "l" | "left hand", }`.
macro_rules! choice {
    ($(#[$doc:meta])* $name:ident {
        $($(#[$each:meta])* $variant:ident = $word:literal $(| $other:literal)*),* $(,)?
    }) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum $name { $($(#[$each])* $variant),* }
        impl $name {
            /// Its words.
            pub const WORDS: &'static $crate::schema::choices::Words =
                &$crate::schema::choices::Words { own: &[$($word),*], others: &[$(&[$($other),*]),*] };
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

/// The words of a column that asks whether.
pub const YES_NO: &Words = &Words { own: &["yes", "no"], others: &[&["y", "true"], &["n", "false"]] };

impl Choice for bool {
    fn of(word: &str) -> Option<bool> {
        match word {
            "yes" => Some(true),
            "no" => Some(false),
            _ => None,
        }
    }
}

/// The words of the item that says what a bare number is in; each is read in any of its spellings.
pub const UNITS: &Words = &Words {
    own: &[Unit::Inch.symbol(), Unit::Millimeter.symbol(), Unit::Centimeter.symbol(), Unit::Meter.symbol()],
    others: &[],
};

impl Choice for Unit {
    fn of(word: &str) -> Option<Unit> {
        UNITS.own.contains(&word).then(|| Unit::named(word)).flatten()
    }
}

choice! {
    /// What an opening is.
    Kind {
        /// A wide door, mostly glass.
        PatioDoor = "patio door" | "patio doors" | "patio" | "sliding door" | "sliding doors" | "sliding patio door"
            | "sliding glass door" | "glass sliding door" | "terrace door" | "balcony door",
        /// Any other door. French doors are hinged leaves.
        Door = "door" | "doors" | "french door" | "french doors" | "hinged door" | "single door" | "double door"
            | "entry door" | "entrance door" | "front door" | "exterior door" | "external door",
        /// A window.
        Window = "window" | "windows" | "casement" | "casement window" | "sash" | "sash window" | "single hung"
            | "single hung window" | "double hung" | "double hung window" | "sliding window" | "fixed window"
            | "picture window" | "awning" | "awning window" | "hopper" | "hopper window" | "tilt and turn"
            | "tilt and turn window" | "louver window",
    }
}
choice! {
    /// Where a size comes from.
    #[derive(Default)]
    SizeSource {
        /// Measured on site.
        #[default]
        Tape = "tape" | "tape measure" | "tape measured" | "on site" | "site" | "site measured" | "laser",
        /// Taken from another like it.
        Typical = "typical" | "typ",
        /// Read off a drawing.
        Drawing = "drawing" | "drawings" | "from drawing" | "from drawings" | "dwg" | "plan" | "plans",
        /// Of the rough opening, before it was finished.
        Rough = "rough" | "rough opening" | "rough size" | "ro" | "structural opening",
    }
}
choice! {
    /// What a recess depth was measured to.
    DepthTo {
        /// The glass.
        Glass = "glass" | "glazing" | "pane",
        /// The frame.
        Frame = "frame" | "window frame" | "door frame",
        /// The tip of the handle.
        Handle = "handle" | "lever" | "door handle" | "window handle",
    }
}
choice! {
    /// What free wall ends at.
    #[derive(Default)]
    EndsAt {
        /// A wall standing out into the room: it closes the gap.
        Wall = "wall" | "side wall" | "return wall",
        /// A cupboard.
        Cupboard = "cupboard" | "cupboards" | "cabinet" | "cabinets" | "wardrobe",
        /// Nothing.
        #[default]
        Free = "free" | "none" | "nothing" | "open" | "clear" | "no obstruction",
    }
}
choice! {
    /// The floor in front of an opening.
    Floor {
        /// Tiles, boards, concrete to stay.
        Hard = "hard" | "hard floor" | "tile" | "tiles" | "tiled" | "wood" | "wooden" | "timber" | "lumber" | "hardwood"
            | "parquet" | "floorboards" | "laminate" | "vinyl" | "linoleum" | "concrete" | "polished concrete"
            | "stone" | "marble" | "brick",
        /// Carpet.
        Carpet = "carpet" | "carpeted" | "carpets" | "carpet tile" | "carpet tiles" | "fitted carpet",
        /// Not laid yet.
        Unfinished = "unfinished" | "not finished" | "not laid" | "screed" | "bare screed" | "slab" | "bare slab"
            | "concrete slab" | "bare concrete" | "subfloor",
    }
}
choice! {
    /// The mount that the survey asks for.
    MountWanted {
        /// Within the recess.
        Inside = "inside" | "inside mount" | "inside fix" | "inside recess" | "in recess" | "recess" | "recess fix"
            | "recess mount" | "recessed" | "within recess" | "reveal" | "reveal fix" | "inside reveal" | "im",
        /// On the wall face.
        Outside = "outside" | "outside mount" | "outside fix" | "outside recess" | "face" | "face fix" | "face fixed"
            | "face mount" | "wall" | "wall mount" | "wall mounted" | "wall fix" | "om",
        /// Up into the ceiling or a soffit.
        Ceiling = "ceiling" | "ceiling mount" | "ceiling mounted" | "ceiling fix" | "ceiling fixed" | "soffit"
            | "soffit mount",
        /// Inside if it fits.
        Either = "either" | "either way" | "any" | "inside or outside",
    }
}
choice! {
    /// Which leaf opens, as seen from inside.
    Leaf {
        /// The left one.
        Left = "left" | "l" | "lh" | "left hand" | "left side" | "left leaf" | "lhs",
        /// The right one.
        Right = "right" | "r" | "rh" | "right hand" | "right side" | "right leaf" | "rhs",
        /// Both.
        Both = "both" | "both leaves" | "both sides" | "left and right",
        /// None.
        None = "none" | "no leaf" | "neither" | "fixed",
    }
}
choice! {
    /// How an opening opens.
    Opens {
        /// Sideways.
        Slide = "slide" | "slides" | "sliding" | "slider" | "sliding door" | "sliding window" | "gliding",
        /// Into the room.
        In = "in" | "inward" | "inwards" | "opens in" | "opening in" | "inward opening" | "inswing" | "swings in",
        /// Outwards.
        Out = "out" | "outward" | "outwards" | "opens out" | "opening out" | "outward opening" | "outswing"
            | "swings out" | "awning",
        /// Its top comes into the room.
        Tilt = "tilt" | "tilts" | "tilting" | "tilt and turn" | "tilt turn" | "hopper",
        /// Upwards.
        Up = "up" | "upward" | "upwards" | "sash" | "single hung" | "double hung" | "vertical slider",
    }
}
choice! {
    /// Where the louvers stack when open, as seen from inside.
    Draw {
        /// At the left.
        Left = "left" | "l" | "lh" | "left hand" | "left side" | "lhs" | "left stack" | "stack left" | "to the left",
        /// At the right.
        Right = "right" | "r" | "rh" | "right hand" | "right side" | "rhs" | "right stack" | "stack right"
            | "to the right",
        /// Half at each side.
        Split = "split" | "split draw" | "split stack" | "both" | "both sides" | "both ways" | "left and right"
            | "center open" | "center opening" | "bi part" | "bi parting" | "two way",
    }
}
choice! {
    /// How a blind is worked.
    Control {
        /// A wand on the leading carrier.
        Wand = "wand" | "wands" | "wand control",
        /// A cord.
        Cord = "cord" | "cords" | "corded" | "cord control" | "pull cord",
        /// A motor.
        Motor = "motor" | "motorized" | "motorised" | "motor control" | "electric" | "powered",
    }
}
choice! {
    /// The end of a rail that its motor is at.
    MotorSide {
        /// The left end.
        Left = "left" | "l" | "lh" | "left hand" | "left side" | "lhs" | "left end",
        /// The right end.
        Right = "right" | "r" | "rh" | "right hand" | "right side" | "rhs" | "right end",
    }
}
choice! {
    /// What keeps a cord out of reach.
    CordDevice {
        /// It holds a loop taut.
        TensionDevice = "tension device" | "tensioner" | "cord tensioner" | "chain tensioner" | "tension pulley",
        /// A cord is wound on it.
        Cleat = "cleat" | "cord cleat" | "wall cleat",
        /// It holds a cord to the wall.
        CordGuide = "cord guide" | "guide" | "wall guide",
        /// It opens under a child's weight.
        Breakaway = "breakaway" | "break away" | "breakaway connector" | "safety connector",
        /// Nothing.
        None = "none" | "nothing" | "no device",
    }
}
choice! {
    /// A group of species of wood, as grade stamps name it.
    Species {
        /// Douglas Fir-Larch.
        DouglasFirLarch = "Douglas Fir-Larch" | "Douglas Fir" | "D Fir-L" | "DF-L" | "DF",
        /// Douglas Fir-Larch from the north.
        DouglasFirLarchNorth = "Douglas Fir-Larch (North)" | "D Fir-L (N)" | "DF-L (N)",
        /// Southern Pine.
        SouthernPine = "Southern Pine" | "Southern Yellow Pine" | "SYP" | "SP",
        /// Spruce-Pine-Fir.
        SprucePineFir = "Spruce-Pine-Fir" | "SPF" | "S-P-F",
        /// Spruce-Pine-Fir from the south.
        SprucePineFirSouth = "Spruce-Pine-Fir (South)" | "SPF (S)" | "SPFs" | "SPF-S",
        /// Hem-Fir.
        HemFir = "Hem-Fir" | "HF",
        /// Hem-Fir from the north.
        HemFirNorth = "Hem-Fir (North)" | "Hem-Fir (N)" | "HF (N)",
        /// Western Woods.
        WesternWoods = "Western Woods" | "WW",
        /// Western Cedars.
        WesternCedars = "Western Cedars" | "Western Cedar" | "Western Red Cedar" | "Red Cedar" | "Cedar",
        /// Northern Species.
        NorthernSpecies = "Northern Species" | "Northern",
        /// Mixed Maple.
        MixedMaple = "Mixed Maple",
        /// Red Oak.
        RedOak = "Red Oak" | "Northern Red Oak",
    }
}
choice! {
    /// The concrete above an opening or over a room.
    Slab {
        /// Reinforced, without tendons.
        Plain = "plain" | "not tensioned" | "reinforced" | "rc",
        /// With tendons under tension.
        Tensioned = "tensioned" | "post tensioned" | "post tension" | "pt" | "prestressed" | "pre stressed"
            | "pre tensioned" | "stressed",
        /// Searched, and released for drilling.
        Cleared = "cleared" | "cleared for drilling" | "scanned and cleared" | "cleared to drill",
    }
}
choice! {
    /// What brackets go into.
    Substrate {
        /// Solid wood.
        Wood = "wood" | "wooden" | "timber" | "lumber" | "solid wood" | "softwood" | "hardwood",
        /// Board on studs.
        StudWall = "stud wall" | "stud" | "studs" | "studwork" | "stud partition" | "wood stud" | "wood studs"
            | "timber stud" | "timber studs",
        /// Board alone.
        Drywall = "drywall" | "sheetrock" | "gypsum" | "gypsum board" | "gyp board" | "plasterboard",
        /// Brick or block.
        Masonry = "masonry" | "brick" | "bricks" | "brickwork" | "block" | "blocks" | "blockwork" | "concrete block"
            | "concrete blocks" | "cmu" | "stone" | "stonework",
        /// Concrete.
        Concrete = "concrete" | "cast concrete" | "poured concrete" | "reinforced concrete",
        /// Steel studs.
        Steel = "steel" | "steel stud" | "steel studs" | "metal stud" | "metal studs",
    }
}

impl Substrate {
    /// Whether it may have studs, joined by board.
    pub const fn has_studs(self) -> bool {
        matches!(self, Substrate::StudWall | Substrate::Drywall | Substrate::Steel)
    }

    /// Whether it is drilled with a hammer and gives off silica dust.
    pub const fn is_hard(self) -> bool {
        matches!(self, Substrate::Masonry | Substrate::Concrete)
    }
}

choice! {
    /// Within the recess, on the wall face, or from the ceiling in front of the opening.
    Mount {
        /// Within the recess.
        Inside = "inside",
        /// On the wall face, or on the casing.
        Outside = "outside",
        /// From a ceiling or a soffit in front of the opening.
        Ceiling = "ceiling",
    }
}

choice! {
    /// Whether a blind may be made now.
    Release {
        /// It may.
        Make = "make",
        /// Sized and costed, but not to be made until it is measured with a tape.
        Provisional = "provisional",
    }
}

choice! {
    /// Whether a blind is made or comes from stock.
    Origin {
        /// Made to measure.
        Made = "made",
        /// Of a stock size, cut down or not.
        Stock = "stock",
    }
}

choice! {
    /// Where a blind is operated from, with the blind closed, as seen from inside.
    ControlSide {
        /// At the left end.
        Left = "left",
        /// At the right end.
        Right = "right",
        /// Two wands, at the middle.
        Middle = "middle",
    }
}
