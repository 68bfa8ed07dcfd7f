//! Mount, preferred width and drop, and the window of sizes that would also do.

mod floor;
mod inside;
mod mount;
mod operation;
mod outside;
mod plausible;
mod product;
mod queries;
mod size;

pub use inside::InsideAllowance;
pub use operation::Operation;
pub use outside::{OutsideAllowance, SideAllowance};
pub use product::assumed;
pub use size::{Size, SizeWindow};

use std::sync::Arc;

use rayon::prelude::*;

use crate::length::Length;
use crate::query::{Checked, Held};
use crate::rules::{Family, LouverRules, Product, Rules, SizesGiven};
use crate::survey::{DepthTo, Facts, Survey};
use crate::worked::Record;

/// Within the recess, or on the wall face.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Mount {
    /// Within the recess.
    Inside,
    /// On the wall face.
    Outside,
}

impl Mount {
    /// `inside` or `outside`.
    pub const fn word(self) -> &'static str {
        match self {
            Mount::Inside => "inside",
            Mount::Outside => "outside",
        }
    }
}

/// Whether a blind may be made now.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Release {
    /// It may.
    Make,
    /// Sized and costed, but not to be made until it is measured with a tape.
    Provisional,
}

impl Release {
    /// `make` or `provisional`.
    pub const fn word(self) -> &'static str {
        match self {
            Release::Make => "make",
            Release::Provisional => "provisional",
        }
    }
}

/// How one opening is to be covered: all that its final size will not change.
#[derive(Clone, Debug)]
pub struct Sizing<'r> {
    /// The product.
    pub product: &'r Product,
    /// The colour.
    pub colour: Arc<str>,
    /// The mount.
    pub mount: Mount,
    /// Whether it may be made now.
    pub release: Release,
    /// How it is worked.
    pub operation: Operation,
    /// The bracket that hangs it.
    pub bracket: Bracket<'r>,
    /// The preferred size and what else would do.
    pub window: SizeWindow,
    /// What the opening allows; `None` in a survey of finished sizes, where it is unknown.
    pub allowance: Option<Allowance>,
}

/// The bracket of one opening, and where it puts the rail.
#[derive(Clone, Debug)]
pub struct Bracket<'r> {
    /// The bracket's item.
    pub item: &'r Arc<str>,
    /// Wall to the line of the louvers; `None` inside.
    pub reach: Option<Length>,
    /// Inside: wall face to the rail's centre; `None` outside or if the depth is unknown.
    pub setback: Option<Length>,
    /// Inside: how far turned louvers stand out of the recess; `None` likewise.
    pub stands_proud: Option<Length>,
}

/// What the opening allows a blind of any size that hangs there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Allowance {
    /// Within the recess.
    Inside(InsideAllowance),
    /// On the wall face.
    Outside(OutsideAllowance),
}

/// Sizes every opening, in parallel and in survey order; `None` where one is held.
pub fn size_openings<'r>(survey: &Survey, rules: &'r Rules) -> Checked<Vec<Option<Sizing<'r>>>> {
    let outcomes: Vec<_> = survey
        .openings
        .par_iter()
        .enumerate()
        .map(|(index, opening)| {
            let mut record = Record::silent(index, opening.who.at, rules.project.units);
            let sizing = opening
                .facts
                .as_ref()
                .and_then(|facts| size(facts, opening.who.quantity, rules, &mut record).ok());
            (sizing, record.finish().0)
        })
        .collect();
    outcomes.into_iter().collect()
}

/// Sizes one opening of a row that stands for `quantity`.
///
/// # Errors
/// [`Held`] once a stop is on the record.
pub fn size<'r>(
    facts: &Facts,
    quantity: u32,
    rules: &'r Rules,
    record: &mut Record<'r>,
) -> Result<Sizing<'r>, Held> {
    let product = product::choose(facts, rules, record)?;
    let colour = product::colour(facts, product, record);
    let Family::Louver(louver) = &product.family;
    plausible::check(facts, louver, &rules.project, record)?;
    let operation = operation::settle(facts, record)?;
    let covered = match rules.project.sizes_given {
        SizesGiven::Opening => mount::cover(facts, louver, rules, record)?,
        SizesGiven::Finished => mount::take_finished(facts, louver, record)?,
    };
    let release = mount::release(facts, covered.mount, quantity, rules, record);
    Ok(Sizing {
        product,
        colour,
        mount: covered.mount,
        release,
        operation,
        bracket: covered.bracket,
        window: covered.window,
        allowance: covered.allowance,
    })
}

/// A mount with the sizes that it takes, before the blind's other properties are known.
struct Covered<'r> {
    mount: Mount,
    bracket: Bracket<'r>,
    window: SizeWindow,
    allowance: Option<Allowance>,
}

/// How far the handle stands in the louvers' way from the plane that the depth was taken to:
/// 0 where the depth was taken to the handle itself, or the handle is not known.
fn handle_in_the_way(facts: &Facts) -> Length {
    match facts.depth_to {
        Some(depth_to) if depth_to.value == DepthTo::Handle => Length::ZERO,
        _ => facts.handle.map_or(Length::ZERO, |handle| handle.value),
    }
}

/// Half a louver: what it sweeps to each side of its carrier.
fn half_louver(louver: &LouverRules) -> Length {
    louver.louver_width.share(1, 2)
}
