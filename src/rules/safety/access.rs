//! What a person in a wheelchair can reach, work and pass.

use serde::Deserialize;

use super::{Exact, Written};
use crate::length::Length;

/// What an accessible unit asks of a blind.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Access {
    /// Where a control must be.
    pub reach: Reach,
    /// How a control must work: with one hand, without a tight grasp, a pinch or a twist of the wrist.
    pub operation: Operation,
    /// What a door must leave clear.
    pub door: Door,
}

/// Heights above the finished floor at which a control is in reach, both ends included. Such a range
/// has no tolerance (ADA 104.1.1, from memory).
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Reach {
    /// The lowest.
    pub lowest: Exact,
    /// The highest.
    pub highest: Exact,
    /// How far something may stand out below before one reaches less high over it.
    pub over: Exact,
    /// The highest over something that stands out further.
    pub highest_over: Exact,
    /// The furthest out over which anything can be reached.
    pub deepest: Exact,
    /// Where it stands written.
    pub source: Written,
}

/// How a control must work.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Operation {
    /// Where it stands written.
    pub source: Written,
}

/// What a door must leave clear.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Door {
    /// Least clear width.
    pub clear: Exact,
    /// Where it stands written.
    pub source: Written,
}

impl Reach {
    /// `15 in to 48 in; to 44 in over more than 20 in; over nothing more than 25 in`.
    pub(super) fn in_words(&self) -> String {
        let Reach { lowest, highest, over, highest_over, deepest, .. } = self;
        format!(
            "{lowest} to {highest}; to {highest_over} over more than {over}; over nothing more than {deepest}"
        )
    }

    /// The highest control that can be reached over what stands out below by so much, if anything.
    pub fn highest_for(&self, stands_out: Option<Length>) -> &Exact {
        match stands_out {
            Some(out) if out > self.over.length => &self.highest_over,
            _ => &self.highest,
        }
    }
}
