//! From the final size, what follows: louvers, brackets, overlaps, valance, weight, fixings and
//! people. Every count is for one blind.

mod accessible;
mod assumed;
mod clearance;
mod control;
mod cord;
mod escape;
mod heights;
mod holding;
mod motor;
mod overlap;
mod pieces;
mod queries;
mod time;
mod valance;
mod wand;
mod wares;

pub use assumed::assumed;
pub use control::ControlSide;
pub use cord::Cord;
pub use escape::Escape;
pub use holding::{Brackets, Fixings, Holding, Screws, Working};
pub use overlap::Overlaps;
pub(crate) use queries::QUERIES;
pub use time::{fitting_minutes, hard_brackets};

use std::sync::Arc;

use rayon::prelude::*;
use rust_decimal::Decimal;

use crate::angle::Angle;
use crate::blinds::{CutPart, Made, Panel, Returns, Valance, Wanted, Ware};
use crate::frozen::Frozen;
use crate::length::Length;
use crate::query::{Checked, Held};
use crate::rules::Rules;
use crate::sizing::Sizing;
use crate::sourcing::{Sourced, Supply};
use crate::survey::{Facts, Survey};
use crate::worked::{Number, Record, Source};

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
    /// Side of the wand or the cord with the blind closed, or the end of the motor; `None` if nobody
    /// says which that is.
    pub control_side: Option<ControlSide>,
    /// Length of each wand; `None` without a wand.
    pub wand: Option<Length>,
    /// The cord; `None` without one.
    pub cord: Option<Cord>,
    /// What hangs in front of the opening.
    pub panel: Panel,
    /// Clear width of the opening when the blind is open; `None` if the opening is unknown.
    pub clear_open: Option<Length>,
    /// What it leaves clear for escape; `None` for an opening that does not serve for it.
    pub escape: Option<Escape>,
    /// The brackets.
    pub brackets: Brackets,
    /// The fixings.
    pub fixings: Fixings<'r>,
    /// Front of the valance; `None` for a blind without.
    pub valance: Option<Length>,
    /// Centers of the valance clips from the left end of the rail.
    pub clips: Vec<Length>,
    /// How far it reaches past the opening; `None` if the opening is unknown.
    pub overlaps: Option<Overlaps>,
    /// What is at its sides.
    pub sides: Sides,
    /// What it is cut from.
    pub parts: Arc<[CutPart]>,
    /// What its family needs beside that, and how many of each.
    pub wares: Vec<(Ware, u32)>,
    /// Kilograms, exact.
    pub weight: Decimal,
    /// People to lift it: 1 or 2.
    pub people: u32,
    /// Gap under the blind above the floor as measured; `None` if the sill is unknown.
    pub gap_below: Option<Length>,
    /// Gap under the blind above the sill; `None` outside or if the opening is unknown.
    pub gap_to_sill: Option<Length>,
}

/// What is at the two sides of a blind, by its mount.
#[derive(Clone, Copy, Debug)]
pub enum Sides {
    /// Within the recess: nothing, for the recess closes them.
    Inside,
    /// In front of the wall.
    InFront {
        /// Returns of the valance, one where no wall closes the side.
        returns: Returns,
        /// See-past angle; `None` with both sides closed, or if the opening is unknown.
        see_past: Option<Angle>,
    },
}

impl Sides {
    /// Returns of the valance.
    const fn returns(self) -> Returns {
        match self {
            Sides::Inside => Returns::NONE,
            Sides::InFront { returns, .. } => returns,
        }
    }
}

impl Fitted<'_> {
    /// Overlap on the left; negative for a gap, as inside; `None` if the opening is unknown.
    pub fn overlap_left(&self) -> Option<Length> {
        self.overlaps.as_ref().map(|overlaps| overlaps.left)
    }

    /// Overlap on the right.
    pub fn overlap_right(&self) -> Option<Length> {
        self.overlaps.as_ref().map(|overlaps| overlaps.right)
    }

    /// Returns of the valance.
    pub const fn returns(&self) -> Returns {
        self.sides.returns()
    }

    /// See-past angle, of a mount that has one.
    pub const fn see_past(&self) -> Option<Angle> {
        match self.sides {
            Sides::Inside => None,
            Sides::InFront { see_past, .. } => see_past,
        }
    }
}

/// Fits every opening that has a size, in parallel and in survey order; `None` where one is held.
/// The three lists have one place for each opening.
pub fn fit_openings<'r>(
    survey: &Survey,
    sizings: Vec<Option<Sizing<'r>>>,
    sourced: Vec<Option<Sourced<'r>>>,
    frozen: &Frozen<'_>,
    rules: &'r Rules,
) -> Checked<Vec<Option<Blind<'r>>>> {
    let outcomes = sizings
        .into_par_iter()
        .zip(sourced)
        .enumerate()
        .map(|(index, (sizing, sourced))| {
            let opening = &survey.openings[index];
            let (Some(facts), Some(sizing), Some(sourced)) = (&opening.facts, sizing, sourced) else {
                return (None, Vec::new());
            };
            let mut record = Record::silent(index, opening.who.at, rules.project.units);
            let facts = &frozen.facts(index, facts, sizing.otherwise);
            let fitted = fit(facts, &sizing, &sourced, rules, &mut record);
            (fitted.ok().map(|fitted| Blind { sizing, sourced, fitted }), record.finish().0)
        })
        .unzip();
    Checked::one_by_one(outcomes)
}

/// Works out what follows from one opening's final size.
///
/// # Errors
/// [`Held`] once a stop is on the record: a part that no bar is long enough for, a cord that may not
/// hang as it is to.
pub fn fit<'r>(
    facts: &Facts,
    sizing: &Sizing<'r>,
    sourced: &Sourced<'r>,
    rules: &'r Rules,
    record: &mut Record<'r>,
) -> Result<Fitted<'r>, Held> {
    let (cover, family) = (&sizing.product.cover, &sizing.product.family);
    let (size, draw) = (sourced.size, sizing.operation.draw);
    note_source(sizing, sourced, record);

    let overlaps = overlap::settle(sizing, size.width, cover, record);
    let heights = heights::settle(facts, sizing, size.drop, cover, record);
    let wanted = Wanted { size, mount: sizing.hung.mount(), draw };
    let panel = family.hang(wanted, record);
    let clear_open = clearance::when_open(facts, panel.stack, overlaps.as_ref(), record);
    let valance = family.valance();
    let front = valance.map(|_| valance::front(wanted.mount, size.width, cover, record));
    let sides = match sizing.hung.line() {
        None => Sides::Inside,
        Some(line) => {
            let returns = valance.map_or(Returns::NONE, |valance| {
                valance::returns(line, facts, overlaps.as_ref(), cover, valance, record)
            });
            let from_face = sizing.hung.reach().unwrap_or(line);
            let see_past = overlap::see_past(from_face, overlaps.as_ref(), cover, record);
            Sides::InFront { returns, see_past }
        }
    };
    clearance::check_leaf(facts, sizing, clear_open, &heights, cover, record);
    accessible::check_door(facts, clear_open, rules, record);
    let escape = escape::check(facts, sizing.operation.control, clear_open, rules, record);
    let operated = control::settle(facts, sizing, sourced, &heights, rules, record)?;
    let cut = front.map(|front| Valance { front, returns: sides.returns() });
    let Made { parts, wares, mass, moving } = family.make(wanted, cut, record);
    let motor = motor::mass(sizing.operation.control, mass, cover, record);
    let mass = mass + motor;
    let weights =
        holding::Weights { all: mass, moving, motor, motor_at: facts.motor_side.map(|side| side.value) };
    let Holding { brackets, fixings } = holding::hold(
        &holding::Wanted {
            facts,
            sizing,
            overlaps: overlaps.as_ref(),
            heights: &heights,
            width: size.width,
            stack: panel.stack,
            weights,
            rules,
            cover,
        },
        record,
    )?;
    let high = heights.bracket_top.is_some_and(|top| top >= *cover.two_people_height)
        && size.width > *cover.two_people_high_length;
    let heavy = size.width >= *cover.two_people_length || mass > *cover.two_people_mass || high;
    let step = "by rail length, weight and height";
    let people = record.step(Number::People, step, &cover.two_people_length, if heavy { 2 } else { 1 });
    match sourced.supply {
        Supply::Made => pieces::check(&parts, rules, record)?,
        Supply::Stock(_) | Supply::CutFromStock(_) | Supply::Unlisted => {}
    }
    Ok(Fitted {
        control_side: operated.side,
        wand: operated.wand,
        cord: operated.cord,
        panel,
        clear_open,
        escape,
        clips: valance
            .map_or_else(Vec::new, |rules| valance::clips(&brackets, size.width, **rules.clip_offset)),
        brackets,
        fixings,
        valance: front,
        overlaps,
        sides,
        parts: parts.into(),
        wares,
        weight: mass,
        people,
        gap_below: heights.gap_below,
        gap_to_sill: heights.gap_to_sill,
    })
}

/// Notes where a final size comes from that is not the preferred one.
fn note_source<'r>(sizing: &Sizing<'r>, sourced: &Sourced<'r>, record: &mut Record<'r>) {
    let preferred = sizing.window.preferred();
    let step = match sourced.supply {
        Supply::Made => "adjusted to match other blinds",
        Supply::Stock(_) | Supply::Unlisted => "stock size",
        Supply::CutFromStock(_) => "stock size, cut down",
    };
    if sourced.size.width != preferred.width {
        record.step(Number::Width, step, Source::Above, sourced.size.width);
    }
    if sourced.size.drop != preferred.drop {
        record.step(Number::Drop, step, Source::Above, sourced.size.drop);
    }
}
