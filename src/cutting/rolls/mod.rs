//! Rolls blind by blind. Shade differs between rolls, and a blind is finished when its last louver is cut:
//! so rolls are used up one after another, and a blind comes from one of them, or from the end of one and
//! the beginning of the next; never from more unless it is longer than a roll.
//!
//! Those on hand come first and may stay unused. Within a floor blinds may change places. A roll may be
//! left with a rest rather than tear a blind, and [`MOST_WAITING`] rests may wait at a time for a later
//! blind that they hold whole. Of all such orders the least is taken of the rolls bought and what the torn
//! blinds are worth, then the fewest rolls. Spares come from what is left when all blinds are cut.
//!
//! The search goes blind by blind and keeps the states that look best by what they cost so far and what
//! the length to come takes. Two states are one if they leave the same blinds of the floor, the same roll in
//! use, the same rests waiting and the same rolls on hand; as long as fewer states come up than are kept
//! (256, fewer for more than some 390 blinds) the order is the least there is, but for what follows. Beyond
//! that it is a heuristic, as it is in these: of a floor with more than eight sorts of blinds left, the
//! first eight are tried next; of rolls on hand the eight longest kinds are tried; a torn blind takes as many
//! pieces from the end of a roll as that gives, the longest first; a blind longer than a roll goes on with
//! the longest roll on hand or a new one; what spares take is counted only for the orders that the search
//! ends with; the order of fewest rolls, which is told beside that one, is looked for with a quarter of the
//! states; where rolls of several lengths are sold the longest is planned with, and each is then bought in
//! the cheapest length that gives what is cut from it.
//!
//! `at_least` is the bound by length alone: what all pieces take over what a roll gives. A plan is proven
//! only where it meets that. Work is counted, never timed.

mod check;
mod job;
mod lay;
mod left;
mod search;
mod state;
mod torn;
mod weights;

pub(super) use check::check_rolls;
pub use state::MOST_WAITING;
pub(super) use torn::torn_apart;

use super::check::{AtLeast, offcut};
use super::money::Money;
use super::{CutFault, CutPlan, Demand, FewestRolls, Pattern, Share};
use crate::cutting::money::too_many_digits;
use job::{Job, gives, takes};
use lay::{Part, Roll, bought, lay};
use search::{Found, search, search_to_tell};
use weights::Weights;

/// Plans the rolls of one material in one color, blind by blind.
///
/// # Errors
/// As [`plan`](super::plan::plan).
pub(super) fn plan(demand: &Demand) -> Result<CutPlan, CutFault> {
    let job = Job::of(demand)?;
    let weights = Weights::of(demand.torn_costs);
    let bound = Bound::of(demand, &job);
    let blinds = bound.rolls(job.total - job.all_on_hand());
    // With rolls on hand the fewest are not known to be.
    let all_new = job.on_hand.is_empty();
    let enough = |found: &Found| all_new && found.bought <= blinds && found.torn == 0;
    let best = |weights, found| best_laid(demand, &job, weights, found);
    // Nearly every job wants both, so the second is not waited with.
    let (usual, fewest) = rayon::join(
        || best(weights, search(&job, weights, enough)),
        || best(Weights::FEWEST_ROLLS, search_to_tell(&job, Weights::FEWEST_ROLLS)),
    );
    // Where no plan has fewer rolls there is nothing to compare.
    let needed = bound.rolls(bound.length);
    let fewest = fewest.filter(|_| usual.as_ref().is_some_and(|laid| laid.bought > needed));
    // A search for something else may have come upon the better one.
    let (chosen, other) = match (usual, fewest) {
        (Some(usual), Some(fewest)) if fewest.costs(weights) < usual.costs(weights) => (fewest, None),
        (Some(usual), fewest) => (usual, fewest),
        (None, _) => return CutPlan::checked(demand, Vec::new(), AtLeast { bars: None, cost: None }),
    };
    let patterns = patterns(demand, chosen.rolls);
    let plan = CutPlan::checked(demand, patterns, bound.at_least(demand, &job)?)?;
    let fewest_rolls = other
        .filter(|other| other.bought < chosen.bought)
        .map(|other| FewestRolls { rolls: other.bought, torn: other.torn });
    Ok(CutPlan { fewest_rolls, ..plan })
}

/// An order with everything on its rolls.
struct Laid {
    rolls: Vec<Roll>,
    bought: u64,
    torn: u64,
}

impl Laid {
    /// What it costs, then its rolls, then what it tears.
    fn costs(&self, weights: Weights) -> (i128, usize, u64) {
        (weights.cost(self.bought, self.torn), self.rolls.len(), self.torn)
    }
}

/// The best order once its spares are cut. Those that cost more without are not better with them.
fn best_laid(demand: &Demand, job: &Job, weights: Weights, found: Vec<Found>) -> Option<Laid> {
    let mut best: Option<Laid> = None;
    for found in found {
        let cost = weights.cost(found.bought, found.torn);
        if best.as_ref().is_some_and(|best| cost >= best.costs(weights).0) {
            break;
        }
        let rolls = lay(demand, job, &found);
        let laid = Laid { bought: bought(&rolls), torn: found.torn, rolls };
        if best.as_ref().is_none_or(|best| laid.costs(weights) < best.costs(weights)) {
            best = Some(laid);
        }
    }
    best
}

/// What no plan can undercut, by length alone.
struct Bound {
    /// What all pieces take beyond what the rolls on hand give.
    length: i128,
    /// What a roll gives.
    roll: i128,
}

impl Bound {
    fn of(demand: &Demand, job: &Job) -> Bound {
        let pieces = demand.pieces.iter();
        let pieces: i128 =
            pieces.map(|(piece, &count)| i128::from(takes(demand, piece.length)) * i128::from(count)).sum();
        let least = demand.pieces.keys().next().map_or(i64::MAX, |piece| takes(demand, piece.length));
        let on_hand: i128 = demand
            .offcuts
            .iter()
            .map(|(&raw, &count)| (gives(demand, raw), i128::from(count)))
            .filter(|(gives, _)| *gives >= least)
            .map(|(gives, count)| i128::from(gives) * count)
            .sum();
        Bound { length: pieces - on_hand, roll: i128::from(job.roll.1) }
    }

    /// Rolls of the longest length that so much takes.
    fn rolls(&self, length: i128) -> u64 {
        u64::try_from(over(length, self.roll)).unwrap_or(u64::MAX)
    }

    fn at_least(&self, demand: &Demand, job: &Job) -> Result<AtLeast, CutFault> {
        let one_length = job.on_offer.len() == 1;
        let bars = (one_length && demand.offcuts.is_empty()).then(|| self.rolls(self.length));
        let money = Money::of(&job.on_offer);
        let mut least: Option<i128> = None;
        for (&raw, &price) in &job.on_offer {
            let price = i128::from(money.counted(price, demand)?);
            let gives = i128::from(gives(demand, raw));
            // A length that gives nothing is no help.
            let cost = match gives {
                ..=0 => continue,
                _ if one_length => Some(over(self.length, gives) * price),
                _ => self.length.max(0).checked_mul(price).map(|cost| over(cost, gives)),
            };
            let cost = cost.ok_or_else(|| too_many_digits(demand))?;
            least = Some(least.map_or(cost, |least| least.min(cost)));
        }
        let cost = u128::try_from(least.unwrap_or(0)).unwrap_or(0);
        Ok(AtLeast { bars, cost: money.of_count(cost, demand)? })
    }
}

/// So much over what one gives, rounded up; 0 for nothing.
fn over(length: i128, one: i128) -> i128 {
    let length = length.max(0);
    length / one + i128::from(length % one > 0)
}

/// The rolls as patterns, numbered in the order in which they are begun.
fn patterns(demand: &Demand, rolls: Vec<Roll>) -> Vec<Pattern> {
    let pattern = |(place, roll): (usize, Roll)| {
        let shares = roll.parts.iter().map(|part| Share {
            blind: part.blind,
            pieces: part.one_by_one().count(),
            turn: part.turn,
        });
        let shares = shares.collect();
        let pieces: Vec<_> = roll.parts.iter().flat_map(Part::one_by_one).collect();
        Pattern {
            number: place + 1,
            bars: 1,
            stock: roll.raw,
            from: roll.from,
            offcut: offcut(roll.raw, &pieces, demand.saw),
            pieces,
            shares,
        }
    };
    rolls.into_iter().enumerate().map(pattern).collect()
}
