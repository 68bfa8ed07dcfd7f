//! From the final size, what follows: louvers, brackets, overlaps, valance, weight, fixings and
//! people. Every count is for one blind.

mod brackets;
mod clearance;
mod fixings;
mod heights;
mod overlap;
mod pieces;
mod queries;
mod valance;
mod wand;

pub use brackets::Brackets;
pub use fixings::Fixings;
pub use overlap::Overlaps;
pub(crate) use queries::QUERIES;
pub use valance::Returns;
pub use wand::ControlSide;

use rayon::prelude::*;
use rust_decimal::Decimal;

use crate::angle::Angle;
use crate::blinds::louver;
use crate::length::Length;
use crate::query::{Checked, Held};
use crate::rules::{Family, LouverRules, Rules};
use crate::sizing::{Hung, Mount, Sizing};
use crate::sourcing::{Sourced, Supply};
use crate::survey::{Facts, Survey};
use crate::worked::{Amount, Number, Record, Source};

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
    pub brackets: Brackets,
    /// The fixings.
    pub fixings: Fixings<'r>,
    /// Front of the valance.
    pub valance: Length,
    /// Centres of the valance clips from the left end of the rail.
    pub clips: Vec<Length>,
    /// How far it reaches past the opening; `None` if the opening is unknown.
    pub overlaps: Option<Overlaps>,
    /// What is at its sides.
    pub sides: Sides,
    /// Cut length of the headrail.
    pub rail_cut: Length,
    /// Cut length of the tilt rod.
    pub rod_cut: Length,
    /// Kilograms, exact.
    pub weight: Decimal,
    /// People to lift it: 1 or 2.
    pub people: u32,
    /// Gap under the blind above the floor as it is on the day; `None` if the sill is unknown.
    pub gap_below: Option<Length>,
}

/// What is at the two sides of a blind, by its mount.
#[derive(Clone, Copy, Debug)]
pub enum Sides {
    /// Within the recess: nothing, for the recess closes them.
    Inside,
    /// On the wall face.
    Outside {
        /// Returns of the valance, one where no wall closes the side.
        returns: Returns,
        /// See-past angle; `None` with both sides closed, or if the opening is unknown.
        see_past: Option<Angle>,
    },
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
        match self.sides {
            Sides::Inside => Returns::NONE,
            Sides::Outside { returns, .. } => returns,
        }
    }

    /// See-past angle, of a mount that has one.
    pub const fn see_past(&self) -> Option<Angle> {
        match self.sides {
            Sides::Inside => None,
            Sides::Outside { see_past, .. } => see_past,
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
    /// Spacer links along the top; the bottom has as many again.
    pub links: u32,
}

/// Fits every opening that has a size, in parallel and in survey order; `None` where one is held.
/// The three lists have one place for each opening.
pub fn fit_openings<'r>(
    survey: &Survey,
    sizings: Vec<Option<Sizing<'r>>>,
    sourced: Vec<Option<Sourced<'r>>>,
    rules: &'r Rules,
) -> Checked<Vec<Option<Blind<'r>>>> {
    let outcomes: Vec<_> = sizings
        .into_par_iter()
        .zip(sourced)
        .enumerate()
        .map(|(index, (sizing, sourced))| {
            let opening = &survey.openings[index];
            let (Some(facts), Some(sizing), Some(sourced)) = (&opening.facts, sizing, sourced) else {
                return (None, Vec::new());
            };
            let mut record = Record::silent(index, opening.who.at, rules.project.units);
            let fitted = fit(facts, &sizing, &sourced, rules, &mut record);
            (fitted.ok().map(|fitted| Blind { sizing, sourced, fitted }), record.finish().0)
        })
        .collect();
    outcomes.into_iter().collect()
}

/// Works out what follows from one opening's final size.
///
/// # Errors
/// [`Held`] once a stop is on the record: a part that no bar is long enough for.
pub fn fit<'r>(
    facts: &Facts,
    sizing: &Sizing<'r>,
    sourced: &Sourced<'r>,
    rules: &'r Rules,
    record: &mut Record<'r>,
) -> Result<Fitted<'r>, Held> {
    let Family::Louver(family) = &sizing.product.family;
    let (size, draw) = (sourced.size, sizing.operation.draw);
    note_source(sizing, sourced, record);

    let overlaps = overlap::settle(sizing, size.width, family, record);
    let heights = heights::settle(facts, sizing, size.drop, family, record);
    let brackets = brackets::place(sizing, overlaps.as_ref(), &heights, size.width, family, record);
    let louvers = louvers(sizing, sourced, family, record);
    let stack = record.step(
        Number::Stack,
        "for each louver on a side, and the base",
        &family.stack_per_louver,
        louver::stack(louvers.count, draw, family),
    );
    let clear_open = clearance::when_open(facts, sizing, stack, overlaps.as_ref(), record);
    let valance = valance::front(sizing.hung.mount(), size.width, family, record);
    let sides = match &sizing.hung {
        Hung::Inside(_) => Sides::Inside,
        Hung::Outside(wall) => {
            let returns = valance::returns(wall.reach, overlaps.as_ref(), family, record);
            let see_past = overlap::see_past(wall.reach, overlaps.as_ref(), family, record);
            Sides::Outside { returns, see_past }
        }
    };
    clearance::check_leaf(facts, sizing, clear_open, &heights, family, record);
    let wand = wand::choose(facts, sizing, &heights, size.drop, family, record);
    let fixings = fixings::choose(facts, sizing, &heights, &brackets, rules, family, record);

    let rail_cut = louver::rail_cut(size.width, family);
    let rod_cut = louver::rod_cut(size.width, family);
    record.step(Number::HeadrailCut, "width less two end caps", &family.end_cap, rail_cut);
    record.step(Number::TiltRodCut, "width less what the ends take", &family.rod_off, rod_cut);
    let hung = louver::louver_mass(louvers.count, louvers.length, family);
    let weight = hung + louver::rail_and_valance_mass(size, valance, family);
    record.step(Number::Weight, "louvers with their weights and carriers", &family.fabric_mass, Mass(hung));
    record.step(Number::Weight, "and headrail and valance", &family.rail_mass, Mass(weight));
    let heavy = size.width >= *family.two_people_length || weight > *family.two_people_mass;
    let people = record.step(
        Number::People,
        "by length and weight",
        &family.two_people_length,
        if heavy { 2 } else { 1 },
    );

    let fitted = Fitted {
        control_side: wand.map(|wand| wand.side),
        wand: wand.map(|wand| wand.length),
        louvers,
        stack,
        clear_open,
        clips: valance::clips(&brackets, size.width, *family.clip_offset),
        brackets,
        fixings,
        valance,
        overlaps,
        sides,
        rail_cut,
        rod_cut,
        weight,
        people,
        gap_below: heights.gap_below,
    };
    match sourced.supply {
        Supply::Made => pieces::check(&fitted, family, rules, record)?,
        Supply::Stock(_) | Supply::CutFromStock(_) => {}
    }
    Ok(fitted)
}

/// Kilograms as a step's value.
#[derive(Clone)]
struct Mass(Decimal);

impl From<Mass> for Amount {
    fn from(mass: Mass) -> Amount {
        Amount::Mass(mass.0)
    }
}

/// Notes where a final size comes from that is not the preferred one.
fn note_source<'r>(sizing: &Sizing<'r>, sourced: &Sourced<'r>, record: &mut Record<'r>) {
    let preferred = sizing.window.preferred();
    let step = match sourced.supply {
        Supply::Made => "moved to share a size",
        Supply::Stock(_) => "a stock size",
        Supply::CutFromStock(_) => "a stock size, cut down",
    };
    if sourced.size.width != preferred.width {
        record.step(Number::Width, step, Source::Above, sourced.size.width);
    }
    if sourced.size.drop != preferred.drop {
        record.step(Number::Drop, step, Source::Above, sourced.size.drop);
    }
}

fn louvers<'r>(
    sizing: &Sizing<'r>,
    sourced: &Sourced<'r>,
    family: &'r LouverRules,
    record: &mut Record<'r>,
) -> Louvers {
    let draw = sizing.operation.draw;
    let count = louver::count(sourced.size.width, draw, family);
    let count = record.step(Number::Louvers, "to cover the width at the pitch", &family.pitch, count);
    let mount = sizing.hung.mount();
    let off = match mount {
        Mount::Inside => &family.louver_off_inside,
        Mount::Outside => &family.louver_off_outside,
    };
    let length = louver::length(sourced.size.drop, mount, family);
    Louvers {
        count,
        length: record.step(Number::LouverLength, "drop less what the rail takes", off, length),
        links: louver::links(count, draw),
    }
}
