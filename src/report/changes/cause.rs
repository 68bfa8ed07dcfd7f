//! Where a change comes from.
//!
//! What an opening gets follows from much at once, and two fit-outs do not say from what. So the first of
//! these that there is is named: its own cells (an answer if only answers differ, else the survey); what a
//! person typed beside a blind of it, which is an answer too; stock, where its blind came from a box, or comes
//! from one, and that is another; the rules that sizes follow from; sharing sizes, where the project asks for
//! it, since others moved; and where all of that is as it was, the program, of which another version was used.

use super::memory::{Blinds, Memory};
use super::place::PlaceIndex;
use super::rules::Differs;
use super::{Both, sizes};
use crate::rules::columns::project::{COLUMNS, PROJECT};
use crate::schema::choices::Origin;

/// Where a change comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cause {
    /// The survey says something else.
    Survey,
    /// What a person answered, or typed on `Blinds` or `Cost summary`, says something else.
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
    /// Where rules differ from which sizes follow, beside how far sizes may move to be shared.
    sizing: Option<Cause>,
    /// Whether sizes are shared, before or now.
    merging: bool,
    /// Where rules differ from which prices follow.
    pricing: Option<Cause>,
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
            sizing: of_all(rules.iter().filter(|rule| rule.may_size() && !rule.is_of_merging())),
            merging: shares(then) || shares(now),
            pricing: of_all(rules.iter().filter(|rule| rule.may_price())),
        }
    }

    /// Why the blinds of an opening are others, where neither its own cells are why nor what was typed
    /// beside a blind; `None` for the blinds where there were, or are, none.
    pub fn of_sort(&self, before: Option<&Blinds<'_>>, now: Option<&Blinds<'_>>) -> Cause {
        let is_from_stock =
            [before, now].into_iter().flatten().any(|blinds| blinds.sort.source == Origin::Stock);
        let box_of =
            |blinds: Option<&Blinds<'_>>| blinds.map(|blinds| (blinds.sort.source, blinds.sort.stock));
        match self.sizing {
            _ if is_from_stock && box_of(before) != box_of(now) => Cause::Stock,
            Some(rules) => rules,
            None if self.merging => Cause::Merging,
            None => Cause::Program,
        }
    }

    /// Why a price is another.
    pub fn of_price(&self, before: &Blinds<'_>, now: &Blinds<'_>) -> Cause {
        let both = [before, now];
        match self.pricing {
            Some(rules) => rules,
            // Who pays for what is made again is typed beside the blind in whose place it is.
            None if both.iter().any(|blinds| blinds.taken_back || blinds.remake_of.is_some()) => {
                Cause::Answer
            }
            None if both.iter().any(|blinds| blinds.sort.source == Origin::Stock) => Cause::Stock,
            None => Cause::Program,
        }
    }

    /// Why a line is new or gone: what its first opening that differs comes from, else the rules.
    pub fn of_line(&self, openings: impl Iterator<Item = Option<Cause>>) -> Option<Cause> {
        let of_openings = openings.flatten().next();
        of_openings.or(self.sizing).or(self.pricing)
    }
}

/// What rules come to that differ: the rules, unless all of them were typed on `Cost summary`.
fn of_all<'d>(rules: impl Iterator<Item = &'d Differs<'d>>) -> Option<Cause> {
    let causes = rules.map(|rule| if rule.cause == Cause::Answer { Cause::Answer } else { Cause::Rules });
    causes.reduce(|one, other| if one == other { one } else { Cause::Rules })
}

/// Why an opening's blinds are others; `None` where they are not.
pub(super) fn of_opening(both: &Both<'_, '_>, opening: PlaceIndex) -> Option<Cause> {
    let Some(before) = both.pairs.before[opening] else { return Some(Cause::Survey) };
    match sizes::differs(both, opening) {
        Some(differs) => Some(sizes::cause(both, opening, &differs)),
        None if both.typed.is_at(before) => Some(Cause::Answer),
        None => both.facts[opening].first().map(super::facts::Differs::cause),
    }
}
