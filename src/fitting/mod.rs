//! From the final size, what follows: louvers, brackets, overlaps, valance, weight, fixings,
//! people and cautions. Every count is for one blind.

use std::sync::Arc;

use rust_decimal::Decimal;

use crate::angle::Angle;
use crate::length::Length;
use crate::rules::Fixing;
use crate::sizing::Sizing;
use crate::sourcing::Sourced;
use crate::survey::{Control, Draw};

/// One opening's blinds, decided: how it is covered, in which size, and what follows.
#[derive(Clone, Debug)]
pub struct Blind<'r> {
    /// Mount, product and window of sizes.
    pub sizing: Sizing<'r>,
    /// The final size and where the blind comes from.
    pub sourced: Sourced<'r>,
    /// What follows from it.
    pub fitted: Fitted<'r>,
}

/// All that follows from one opening's final size.
#[derive(Clone, Debug)]
pub struct Fitted<'r> {
    /// Where the louvers stack.
    pub draw: Draw,
    /// How it is worked.
    pub control: Control,
    /// Side of the wand with the blind closed; `None` without a wand.
    pub control_side: Option<ControlSide>,
    /// Length of each wand; `None` without a wand.
    pub wand: Option<Length>,
    /// The louvers.
    pub louvers: Louvers,
    /// One side's stack when open.
    pub stack: Length,
    /// Clear width of the opening when the blind is open; `None` if the opening is unknown.
    pub clear_open: Option<Length>,
    /// The brackets.
    pub brackets: Brackets<'r>,
    /// The fixings.
    pub fixings: Fixings<'r>,
    /// Front of the valance.
    pub valance: Length,
    /// Return of the valance on the left; 0 if there is none.
    pub return_left: Length,
    /// Return of the valance on the right; 0 if there is none.
    pub return_right: Length,
    /// Centres of the valance clips from the left end of the rail.
    pub clips: Vec<Length>,
    /// Overlap on the left; negative for a gap; `None` if the opening is unknown.
    pub overlap_left: Option<Length>,
    /// Overlap on the right.
    pub overlap_right: Option<Length>,
    /// See-past angle; `None` inside, with both sides closed, or if the opening is unknown.
    pub see_past: Option<Angle>,
    /// Cut length of the headrail.
    pub rail_cut: Length,
    /// Cut length of the tilt rod.
    pub rod_cut: Length,
    /// Kilograms, exact.
    pub weight: Decimal,
    /// People to lift it: 1 or 2.
    pub people: u32,
    /// How far the louvers stand out of the recess; `None` outside or if the depth is unknown.
    pub stands_proud: Option<Length>,
    /// Gap under the blind above the floor as it is on the day; `None` if the sill is unknown.
    pub gap_below: Option<Length>,
}

/// Where a wand hangs with the blind closed, as seen from inside.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ControlSide {
    /// At the left end.
    Left,
    /// At the right end.
    Right,
    /// Two wands, at the middle.
    Middle,
}

impl ControlSide {
    /// The word that the sheets use.
    pub const fn word(self) -> &'static str {
        match self {
            ControlSide::Left => "left",
            ControlSide::Right => "right",
            ControlSide::Middle => "middle",
        }
    }
}

/// The louvers of one blind. Carriers, hangers and bottom weights are as many.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Louvers {
    /// How many.
    pub count: u32,
    /// Finished length of each.
    pub length: Length,
    /// Spacer links, top or bottom (as many again at the other end).
    pub links: u32,
}

/// The brackets of one blind.
#[derive(Clone, Debug)]
pub struct Brackets<'r> {
    /// The bracket's item.
    pub item: &'r Arc<str>,
    /// Its reach; `None` inside.
    pub reach: Option<Length>,
    /// Inside: wall face to the rail's centre; `None` outside or if the depth is unknown.
    pub setback: Option<Length>,
    /// Centres from the left end of the rail.
    pub from_left: Vec<Length>,
    /// Centres from the left edge of the opening; `None` if the opening is unknown.
    pub from_opening_left: Option<Vec<Length>>,
    /// Bracket top above the floor as it is on the day; `None` if the sill is unknown.
    pub top_above_floor: Option<Length>,
    /// Bracket top above the head: 0 inside; `None` if the opening is unknown.
    pub top_above_head: Option<Length>,
}

/// The fixings of one blind.
#[derive(Clone, Debug)]
pub struct Fixings<'r> {
    /// The fixing; `None` if what the brackets go into is unknown or no fixing is listed for it.
    pub fixing: Option<&'r Fixing>,
    /// How many.
    pub count: u32,
    /// Load over capacity; `None` if not known.
    pub use_of_capacity: Option<Decimal>,
}
