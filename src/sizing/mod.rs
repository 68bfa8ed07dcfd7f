//! Mount, preferred width and drop, and the window of sizes that would also do.

mod floor;
mod ground;
mod header;
mod inside;
mod lean;
mod limits;
mod mount;
mod operation;
mod ordered;
mod outside;
mod plausible;
mod product;
mod queries;
mod size;

pub(crate) use floor::still_to_come;
pub use header::{is_over_recess, rail_tops};
pub use inside::{InRecess, InsideAllowance, RailInRecess};
pub use lean::{Lean, Side};
pub use operation::Operation;
pub use ordered::size as size_opening;
pub use outside::{Down, Face, OnWall, OutsideAllowance, SideAllowance, UnderCeiling};
pub use product::assumed;
pub(crate) use queries::QUERIES;
pub use size::{Size, SizeWindow};

pub use crate::schema::choices::{Mount, Release};

use std::sync::Arc;

use rayon::prelude::*;

use crate::frozen::Frozen;
use crate::length::Length;
use crate::query::{Checked, Held};
use crate::rules::{Product, Rules, SizesGiven};
use crate::survey::{DepthTo, Facts, Survey};
use crate::worked::Record;

/// What the brackets of a blind are on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum MountOn {
    /// The face of the wall.
    Wall,
    /// The casing around the opening.
    Casing,
    /// The head of the recess.
    Recess,
    /// The ceiling.
    Ceiling,
}

impl MountOn {
    /// `wall`, `casing`, `recess` or `ceiling`.
    pub const fn word(self) -> &'static str {
        match self {
            MountOn::Wall => "wall",
            MountOn::Casing => "casing",
            MountOn::Recess => "recess",
            MountOn::Ceiling => "ceiling",
        }
    }
}

/// How one opening is to be covered: all that its final size will not change.
#[derive(Clone, Debug)]
pub struct Sizing<'r> {
    /// The product.
    pub product: &'r Product,
    /// The color.
    pub color: Arc<str>,
    /// How it hangs.
    pub hung: Hung<'r>,
    /// Whether it may be made now.
    pub release: Release,
    /// How it is worked.
    pub operation: Operation,
    /// How far the opening leans; `None` without both diagonals, or if the opening is unknown.
    pub lean: Option<Lean>,
    /// The preferred size and what else would do.
    pub window: SizeWindow,
    /// Whether it is sized as its blind was ordered, which is not what the survey asks for now.
    pub otherwise: bool,
}

/// How a blind hangs: each mount with what that mount has, and nothing of another's.
#[derive(Clone, Debug)]
pub enum Hung<'r> {
    /// Within the recess.
    Inside(InRecess<'r>),
    /// On the wall face, or on the casing.
    Outside(OnWall<'r>),
    /// From the ceiling.
    Ceiling(UnderCeiling<'r>),
}

impl<'r> Hung<'r> {
    /// The mount.
    pub const fn mount(&self) -> Mount {
        match self {
            Hung::Inside(_) => Mount::Inside,
            Hung::Outside(_) => Mount::Outside,
            Hung::Ceiling(_) => Mount::Ceiling,
        }
    }

    /// What the brackets are on.
    pub const fn on(&self) -> MountOn {
        match self {
            Hung::Inside(_) => MountOn::Recess,
            Hung::Outside(OnWall { face: Face::Wall, .. }) => MountOn::Wall,
            Hung::Outside(OnWall { face: Face::Casing { .. }, .. }) => MountOn::Casing,
            Hung::Ceiling(_) => MountOn::Ceiling,
        }
    }

    /// The bracket's item.
    pub const fn bracket(&self) -> &'r Arc<str> {
        match self {
            Hung::Inside(recess) => recess.bracket,
            Hung::Outside(wall) => wall.bracket,
            Hung::Ceiling(ceiling) => ceiling.bracket,
        }
    }

    /// Face of wall or casing to the line of the louvers, of a mount with brackets on it.
    pub const fn reach(&self) -> Option<Length> {
        match self {
            Hung::Outside(wall) => Some(wall.reach),
            Hung::Inside(_) | Hung::Ceiling(_) => None,
        }
    }

    /// Wall face to the line of the louvers in front of the wall; `None` within the recess.
    pub fn line(&self) -> Option<Length> {
        match self {
            Hung::Inside(_) => None,
            Hung::Outside(wall) => Some(wall.reach + wall.face.stands_out()),
            Hung::Ceiling(ceiling) => Some(ceiling.from_wall),
        }
    }

    /// Wall face to the rail's center, of a mount on inside brackets: into the recess, or into the room.
    pub fn setback(&self) -> Option<Length> {
        match self {
            Hung::Inside(recess) => recess.rail.map(|rail| rail.setback),
            Hung::Outside(_) => None,
            Hung::Ceiling(ceiling) => Some(ceiling.from_wall),
        }
    }

    /// What the wall allows a blind in front of its opening; `None` if the opening is unknown.
    pub const fn before_wall(&self) -> Option<&OutsideAllowance> {
        match self {
            Hung::Inside(_) => None,
            Hung::Outside(wall) => wall.allowance.as_ref(),
            Hung::Ceiling(ceiling) => ceiling.allowance.as_ref(),
        }
    }

    /// Where the rail hangs in a recess, of a mount that has one of known depth.
    pub const fn in_recess(&self) -> Option<RailInRecess> {
        match self {
            Hung::Inside(recess) => recess.rail,
            Hung::Outside(_) | Hung::Ceiling(_) => None,
        }
    }
}

/// Sizes every opening, in parallel and in survey order; `None` where one is held. One that has an
/// ordered blind is sized as that was ordered.
pub fn size_openings<'r>(
    survey: &Survey,
    frozen: &Frozen<'_>,
    rules: &'r Rules,
) -> Checked<Vec<Option<Sizing<'r>>>> {
    let outcomes = survey
        .openings
        .par_iter()
        .enumerate()
        .map(|(index, opening)| {
            let mut record = Record::silent(index, opening.who.at, rules.project.units);
            let sizing = ordered::size(index, opening, frozen, rules, &mut record);
            (sizing.ok().flatten(), record.finish().0)
        })
        .unzip();
    Checked::one_by_one(outcomes)
}

/// Sizes one opening of a row that stands for `quantity`, by its facts alone.
///
/// # Errors
/// [`Held`] once a stop is on the record.
fn size<'r>(
    facts: &Facts,
    quantity: u32,
    rules: &'r Rules,
    record: &mut Record<'r>,
) -> Result<Sizing<'r>, Held> {
    let product = product::choose(facts, rules, record)?;
    let color = product::color(facts, product, record);
    let cover = &product.cover;
    plausible::check(facts, cover, &rules.project, record)?;
    let operation = operation::settle(facts, record)?;
    let covered = match rules.project.sizes_given {
        SizesGiven::Opening => mount::cover(facts, cover, rules, record)?,
        SizesGiven::Finished => mount::take_finished(facts, cover, rules, record)?,
    };
    let release = mount::release(facts, covered.hung.mount(), quantity, rules, record);
    let Covered { hung, lean, window } = covered;
    Ok(Sizing { product, color, hung, release, operation, lean, window, otherwise: false })
}

/// A mount with the sizes that it takes, before the blind's other properties are known.
struct Covered<'r> {
    hung: Hung<'r>,
    lean: Option<Lean>,
    window: SizeWindow,
}

/// How far the handle stands in the louvers' way from the plane that the depth was taken to:
/// 0 where a depth was taken to the handle itself, or the handle is not known.
fn handle_in_the_way(facts: &Facts) -> Length {
    match facts.depth_to {
        Some(to) if to.value == DepthTo::Handle && facts.recess_depth.is_some() => Length::ZERO,
        _ => facts.handle_or_zero(),
    }
}
