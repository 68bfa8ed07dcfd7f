//! Where a change comes from.
//!
//! What an opening gets follows from much at once, and two fit-outs do not say from what. So the first of
//! these that there is is named: its own cells (an answer if only answers differ, else the survey); stock,
//! where its blind came from a box, or comes from one, and that is another; the rules that sizes follow from; sharing sizes,
//! where the project asks for it, since others moved; and where all of that is as it was, the program, of
//! which another version was used. What a person typed beside a blind has no cause here.

use super::memory::{Blinds, Memory, PlaceIndex};
use super::rules::Differs;
use super::{Both, sizes};
use crate::frozen::BoundFor;
use crate::rules::columns::project::{COLUMNS, PROJECT};
use crate::schema::choices::Origin;

/// Where a change comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cause {
    /// The survey says something else.
    Survey,
    /// An answer to a query says something else.
    Answer,
    /// A rule is another.
    Rules,
    /// Blinds share other sizes.
    Merging,
    /// Another box is taken, or none.
    Stock,
    /// Another version of the program works it out in another way.
    Program,
}

impl Cause {
    /// The word that every output uses.
    pub const fn word(self) -> &'static str {
        match self {
            Cause::Survey => "survey",
            Cause::Answer => "answer",
            Cause::Rules => "rules",
            Cause::Merging => "merging",
            Cause::Stock => "stock",
            Cause::Program => "program",
        }
    }
}

/// What changes come from, as far as it is known.
pub(super) struct Causes {
    /// Of each opening of now, why its blinds are others; `None` where they are the same.
    pub openings: Vec<Option<Cause>>,
    /// Whether a rule differs from which sizes follow, beside how far sizes may move to be shared.
    sizing: bool,
    /// Whether sizes are shared, before or now.
    merging: bool,
    /// Whether a rule differs from which prices follow.
    pricing: bool,
}

impl Causes {
    /// What the rules may cause.
    pub fn of_rules(rules: &[Differs<'_>], then: &Memory<'_>, now: &Memory<'_>) -> Causes {
        let shares = |memory: &Memory<'_>| {
            let shared = memory.rules.iter().find(|rule| rule.is(PROJECT.sheet, COLUMNS.merge_sizes.name));
            shared.is_some_and(|rule| !rule.value.eq_ignore_ascii_case("no"))
        };
        Causes {
            openings: Vec::new(),
            sizing: rules.iter().any(|rule| rule.may_size() && !rule.is_of_merging()),
            merging: shares(then) || shares(now),
            pricing: rules.iter().any(Differs::may_price),
        }
    }

    /// Why the blinds of an opening are others, where its own cells are not why.
    pub fn of_sort(&self, before: &Blinds<'_>, now: &Blinds<'_>) -> Option<Cause> {
        let is_from_stock = [before, now].into_iter().any(|blinds| blinds.sort.source == Origin::Stock);
        let is_another_box = (before.sort.source, before.sort.stock) != (now.sort.source, now.sort.stock);
        let was_moved = now.ordered.is_some_and(|kept| kept.bound_for() != BoundFor::Home);
        match () {
            () if was_moved => None,
            () if is_from_stock && is_another_box => Some(Cause::Stock),
            () if self.sizing => Some(Cause::Rules),
            () if self.merging => Some(Cause::Merging),
            () => Some(Cause::Program),
        }
    }

    /// Why a price is another.
    pub fn of_price(&self, before: &Blinds<'_>, now: &Blinds<'_>) -> Cause {
        match () {
            () if self.pricing => Cause::Rules,
            () if [before, now].into_iter().any(|blinds| blinds.sort.source == Origin::Stock) => Cause::Stock,
            () => Cause::Program,
        }
    }

    /// Why a line is new or gone: what its first opening that differs comes from, else the rules.
    pub fn of_line(&self, openings: impl Iterator<Item = Option<Cause>>) -> Option<Cause> {
        let of_openings = openings.flatten().next();
        of_openings.or_else(|| (self.sizing || self.pricing).then_some(Cause::Rules))
    }
}

/// Why an opening's blinds are others; `None` where they are not.
pub(super) fn of_opening(both: &Both<'_, '_>, opening: PlaceIndex) -> Option<Cause> {
    if both.pairs.before[opening].is_none() {
        return Some(Cause::Survey);
    }
    match sizes::differs(both, opening) {
        Some(differs) => sizes::cause(both, opening, &differs),
        None => both.facts[opening].first().map(super::facts::Differs::cause),
    }
}
