//! Pieces to bars, for each material in each color.
//!
//! [`demand`] lists the pieces of the order's lines, [`solver`] fills bars with them and proves how
//! few can do, [`allot`] says which piece is for which line, and [`CutPlan::checked`] counts every
//! piece on every bar again before a plan is handed on. The solver knows only lengths, quantities
//! and prices. [`batches`] saws each phase by itself where the project says so, and [`left`] counts
//! the offcuts that the next job may use. Rolls are cut blind by blind ([`blind`], [`rolls`]); a project of
//! bars alone knows nothing of that.
//!
//! The gap of a plan that is not proven is stated in bars where there is a bound in bars, and in
//! money where every bar has a price. With several lengths, or offcuts on hand, the aim is the
//! cost, and so is the gap.

mod allot;
mod batches;
mod blind;
mod check;
mod demand;
mod fault;
mod known;
mod left;
mod money;
mod ordered;
mod plan;
mod rolls;
pub mod solver;

pub use blind::{BlindId, BlindToCut};
pub use check::AtLeast;
pub use demand::{Demand, Offered, demand};
pub use fault::{CutFault, PlanFault};
pub use known::KnownPlans;
pub use left::{LeftFrom, OffcutLeft};
pub use ordered::ordered_too_long;
pub use plan::plan;
pub use rolls::MOST_WAITING;

use std::sync::Arc;

use rayon::prelude::*;
use rust_decimal::Decimal;

use crate::blinds::Part;
use crate::length::Length;
use crate::order::Order;
use crate::rules::{CutIn, Rules};
use crate::spares::Spare;
use crate::survey::Survey;
use batches::Planned;

/// Plans the cutting of every line that is made and may be made now, with the spares where blinds are
/// not bought; materials in parallel, in order of material and color, and the phases of each in survey
/// order. `known` are the plans of runs that this one is compared with.
///
/// # Errors
/// [`CutFault`] where the order asks for what cannot be cut. Pieces that are too long, and
/// materials without a bar, are stops at their openings before any order is written; so each of
/// these is a slip of an earlier stage.
pub fn plan_cuts(
    order: &Order,
    spares: &[Spare],
    survey: &Survey,
    rules: &Rules,
    known: &KnownPlans,
) -> Result<Cuts, CutFault> {
    let demands = demand(order, spares, survey, rules)?;
    let planned: Vec<Result<Planned, CutFault>> = demands
        .par_iter()
        .map(|demand| batches::plan_batches(demand, order, rules.project.sawn_together, known))
        .collect();
    let mut cuts = Cuts::default();
    // Taken one by one: of several faults, the first in order is the one to tell.
    for planned in planned {
        let Planned { plans, at_once } = planned?;
        cuts.plans.extend(plans);
        cuts.at_once.extend(at_once);
    }
    cuts.offcuts = left::offcuts_left(&cuts.plans, rules);
    Ok(cuts)
}

/// How the bars of the job are cut.
#[derive(Clone, Debug, Default)]
pub struct Cuts {
    /// The plans that are sawn and paid for, in order of material and color, then of phase.
    pub plans: Vec<CutPlan>,
    /// Where each phase is sawn by itself: beside them the plans of the whole project at once, for
    /// comparison, in order of material and color. Empty otherwise.
    pub at_once: Vec<CutPlan>,
    /// What is on hand for the next job, in order of material and color, the longest first.
    pub offcuts: Vec<OffcutLeft>,
}

/// One material's plan in one color. Made only by [`CutPlan::checked`], which counts every piece
/// on every bar.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct CutPlan {
    /// The material.
    pub material: Arc<str>,
    /// Its color; empty for a material without.
    pub color: Arc<str>,
    /// The phase that is sawn by itself; `None` where the whole project is sawn together.
    pub phase: Option<Arc<str>>,
    /// What the saw takes between two pieces.
    pub kerf: Length,
    /// What comes off each raw end.
    pub trim: Length,
    /// Offcuts of at least this length are kept.
    pub least_useful: Length,
    /// The patterns, in the order of cutting: bars before offcuts, the longest stock first, then
    /// what is cut from the most bars, then what serves the earliest line. Entries of one number stand
    /// together. What is cut blind by blind has a pattern for each roll, in the order in which they are
    /// begun: those on hand, then those that are bought.
    pub patterns: Vec<Pattern>,
    /// Pieces in all.
    pub pieces: u64,
    /// Stock lengths bought; offcuts on hand are not counted.
    pub bars: u64,
    /// Bars of each length bought: length, price, how many.
    pub bought: Vec<(Length, Option<Decimal>, u64)>,
    /// No plan needs fewer bars; `None` with offcuts on hand or several lengths.
    pub at_least: Option<u64>,
    /// Cost of the bars bought, exact; `None` if a bar has no price.
    pub cost: Option<Decimal>,
    /// No plan costs less; `None` if a bar has no price.
    pub cost_at_least: Option<Decimal>,
    /// The plan meets its bound.
    pub proven: bool,
    /// Pieces over lengths used, kerf not counted as used; exact.
    pub used_share: Decimal,
    /// How its pieces are put on its stock lengths.
    pub cut_in: CutIn,
    /// Blinds that come from more than one roll; `None` where no blind can be torn apart, as of a bar.
    pub torn: Option<u64>,
    /// What fewer rolls would tear, where that is more than this plan does.
    pub fewest_rolls: Option<FewestRolls>,
}

/// The fewest rolls that could do, blind by blind.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FewestRolls {
    /// Rolls bought.
    pub rolls: u64,
    /// Blinds that they would tear.
    pub torn: u64,
}

/// How far a plan may be above the least that any could do: nothing where it is proven. It is stated in
/// bars where there is a bound in bars, and in money where every bar has a price.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Gap {
    /// In bars; `None` with offcuts on hand or bars of several lengths, where the aim, and so the gap, is
    /// the cost.
    pub bars: Option<u64>,
    /// In money, exact; `None` if a bar has no price.
    pub cost: Option<Decimal>,
}

impl CutPlan {
    /// How far the plan may be above the least.
    pub fn gap(&self) -> Gap {
        Gap {
            bars: self.at_least.map(|least| self.bars.saturating_sub(least)),
            cost: self.cost.zip(self.cost_at_least).map(|(cost, least)| (cost - least).max(Decimal::ZERO)),
        }
    }
}

/// Bars that are cut alike, for the same order lines.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pattern {
    /// Number of the pattern as the sheet shows it, from 1; patterns that differ in lines alone share it.
    pub number: usize,
    /// How many bars.
    pub bars: u64,
    /// Length of each.
    pub stock: Length,
    /// Bought, or on hand.
    pub from: From,
    /// The pieces of one bar, in the order of cutting.
    pub pieces: Vec<Piece>,
    /// What is left of each bar.
    pub offcut: Length,
    /// Which of the pieces are for which blind, in the same order; empty where they are not cut blind by
    /// blind.
    pub shares: Vec<Share>,
}

/// Pieces of a roll that are cut in one go, for one blind.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Share {
    /// The blind; `None` for spares.
    pub blind: Option<BlindId>,
    /// How many pieces.
    pub pieces: usize,
    /// When it is its turn among all goes of the plan, from 0.
    pub turn: usize,
}

/// Where a bar comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum From {
    /// Bought.
    Bar,
    /// An offcut on hand.
    Offcut,
}

impl From {
    /// `bar` or `offcut`.
    pub const fn word(self) -> &'static str {
        match self {
            From::Bar => "bar",
            From::Offcut => "offcut",
        }
    }
}

/// One piece on a bar.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Piece {
    /// Cut length.
    pub length: Length,
    /// The order line it is for; `None` for a spare.
    pub line: Option<usize>,
    /// The part it is.
    pub part: Part,
}
