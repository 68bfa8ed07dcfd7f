//! The product families: what a blind of a given size is made of. What is true of any blind that
//! covers an opening stands elsewhere; here alone one [`Family`] is told from another.

mod louver;
mod part;
#[cfg(test)]
#[path = "../../tests/toy_family.rs"]
mod toy;
mod ware;

pub use louver::{HEADRAIL, LOUVER, Louvers, TILT_ROD};
pub use part::{CutPart, Part, Spares};
pub use ware::{NOT_CHOSEN, SparesBy, Ware};

use rust_decimal::Decimal;

use crate::length::Length;
use crate::rules::{Family, WandTilt};
use crate::sizing::{Mount, Size};
use crate::survey::Draw;
use crate::worked::{Record, Rule};

/// Front of a valance.
pub const VALANCE_FRONT: Part = Part::named("valance front");
/// Return of a valance.
pub const VALANCE_RETURN: Part = Part::named("valance return");

/// What is wanted of a family: the final size, and how the blind hangs and is worked.
#[derive(Clone, Copy, Debug)]
pub struct Wanted {
    /// Finished size.
    pub size: Size,
    /// The mount.
    pub mount: Mount,
    /// To which side it is drawn, if it is.
    pub draw: Draw,
}

/// What hangs in front of the opening.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Panel {
    /// Finished length: what the drop leaves under the rail.
    pub length: Length,
    /// Where it goes when the blind is drawn aside; `None` for a blind that is not.
    pub stack: Option<Stack>,
    /// The louvers; `None` for a blind without.
    pub louvers: Option<Louvers>,
}

/// The bundle in which what was drawn aside stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Stack {
    /// On which side, as seen from inside.
    pub draw: Draw,
    /// Width of one side's bundle.
    pub width: Length,
}

/// The lengths of a valance.
#[derive(Clone, Copy, Debug)]
pub struct Valance {
    /// Its front.
    pub front: Length,
    /// Its returns.
    pub returns: Returns,
}

/// Returns of a valance; 0 where there is none.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Returns {
    /// On the left.
    pub left: Length,
    /// On the right.
    pub right: Length,
}

impl Returns {
    /// Of a valance that is a front alone.
    pub const NONE: Returns = Returns { left: Length::ZERO, right: Length::ZERO };

    /// How many there are.
    pub fn count(self) -> u32 {
        [self.left, self.right].into_iter().filter(|&length| length > Length::ZERO).map(|_| 1).sum()
    }
}

/// The rules of a valance, of a family whose blinds have one.
#[derive(Clone, Copy, Debug)]
pub struct ValanceRules<'r> {
    /// What a return adds to the reach and half of what hangs.
    pub beyond: &'r Rule<Length>,
    /// How far a clip is moved from its bracket.
    pub clip_offset: &'r Rule<Length>,
}

/// The rules of a wand, of a family whose blinds may be worked by one.
#[derive(Clone, Copy, Debug)]
pub struct WandRules<'r> {
    /// Lengths come in steps of this, one step at the least.
    pub step: &'r Rule<Length>,
    /// Height above the floor at or above which a wand is to end.
    pub end_height: &'r Rule<Length>,
    /// How far above the blind's own bottom it ends at the least.
    pub above_bottom: &'r Rule<Length>,
    /// Height above the finished floor up to which most people reach its end.
    pub in_reach: &'r Rule<Length>,
    /// How it turns the louvers.
    pub tilt: &'r Rule<WandTilt>,
}

/// What a blind is made of, less what any blind hangs by.
#[derive(Clone, Debug)]
pub struct Made {
    /// What it is cut from.
    pub parts: Vec<CutPart>,
    /// What it needs beside that, and how many of each.
    pub wares: Vec<(Ware, u32)>,
    /// Kilograms, exact.
    pub mass: Decimal,
    /// What of that is drawn aside.
    pub moving: Decimal,
}

impl Family {
    /// The rules of its valance; `None` for a family without.
    pub const fn valance(&self) -> Option<ValanceRules<'_>> {
        match self {
            Family::Louver(rules) => Some(louver::valance(rules)),
            #[cfg(test)]
            Family::Toy => None,
        }
    }

    /// The rules of its wand; `None` for a family without.
    pub const fn wand(&self) -> Option<WandRules<'_>> {
        match self {
            Family::Louver(rules) => Some(louver::wand(rules)),
            #[cfg(test)]
            Family::Toy => None,
        }
    }

    /// What hangs in a blind of this family.
    pub fn hang<'r>(&'r self, wanted: Wanted, record: &mut Record<'r>) -> Panel {
        match self {
            Family::Louver(rules) => louver::hang(rules, wanted, record),
            #[cfg(test)]
            Family::Toy => toy::hang(wanted),
        }
    }

    /// What a blind of this family is made of.
    pub fn make<'r>(&'r self, wanted: Wanted, valance: Option<Valance>, record: &mut Record<'r>) -> Made {
        match self {
            Family::Louver(rules) => louver::make(rules, wanted, valance, record),
            #[cfg(test)]
            Family::Toy => toy::make(wanted),
        }
    }
}
