//! Which fixing holds the brackets, and how many.

use rust_decimal::Decimal;

use super::brackets::Brackets;
use super::heights::Heights;
use super::queries::FittingQuery;
use crate::length::Length;
use crate::rules::{CoverRules, Fixing, Rules};
use crate::sizing::{Hung, Sizing};
use crate::survey::{Facts, Substrate};
use crate::worked::{Number, Record};

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

/// The first fixing listed for the substrate. A stud wall takes the wood fixing where both
/// screws lie in a known header, else the one for board alone, with a check.
pub(super) fn choose<'r>(
    facts: &Facts,
    sizing: &Sizing<'r>,
    heights: &Heights,
    brackets: &Brackets,
    rules: &'r Rules,
    cover: &'r CoverRules,
    record: &mut Record<'r>,
) -> Fixings<'r> {
    let each = &cover.fixings_per_bracket;
    let count =
        record.step(Number::Fixings, "brackets x fixings per bracket", each, brackets.count() * **each);
    let nothing = Fixings { fixing: None, count, use_of_capacity: None };
    let Some(substrate) = facts.substrate else {
        record.ask(&FittingQuery::SubstrateUnknown, None, "");
        return nothing;
    };
    let listed_for = match substrate.value {
        Substrate::StudWall if in_header(facts, sizing, heights, cover) => Substrate::Wood,
        Substrate::StudWall => {
            record.ask(&FittingQuery::BoardAlone, Some(substrate.at), "");
            Substrate::Drywall
        }
        known => known,
    };
    let Some(fixing) = rules.fixings.iter().find(|fixing| fixing.substrate == listed_for) else {
        record.ask(&FittingQuery::NoFixingListed { substrate: listed_for }, Some(substrate.at), "");
        return nothing;
    };
    record.step(Number::Fixing, "first fixing listed for this substrate", substrate.at, listed_for.word());
    Fixings { fixing: Some(fixing), count, use_of_capacity: None }
}

/// Whether both screws of every bracket lie well inside a header that was measured: above the
/// head outside; straight up into it from a recess that it lies right on.
fn in_header(facts: &Facts, sizing: &Sizing<'_>, heights: &Heights, cover: &CoverRules) -> bool {
    let Some(height) = facts.header_height.filter(|height| height.value > Length::ZERO) else {
        return false;
    };
    let offset = facts.header_offset_or_zero();
    match (&sizing.hung, heights.above_head) {
        (Hung::Inside(_), _) => offset == Length::ZERO,
        (Hung::Outside(_), Some(above)) => {
            let top = above.bracket_top;
            let (lower, upper) = (top - *cover.lower_screw, top - *cover.upper_screw);
            let edge = *cover.screw_edge;
            lower >= offset + edge && upper <= offset + height.value - edge
        }
        (Hung::Outside(_), None) => false,
    }
}
