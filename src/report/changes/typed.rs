//! What people typed on `Blinds` beside ordered blinds after the earlier fit-out was worked out: blinds that
//! were moved, cancelled, or given up to be made again.
//!
//! A fit-out does not say when something was typed into it. It is told from its blinds: one that was worked
//! out with what is typed has another blind in the place of each that went, as long as its opening is not
//! held, and none too many where one came.

use std::collections::HashSet;

use super::memory::{Blinds, Memory, Stands};
use super::openings::Pairs;
use super::place::PlaceIndex;
use super::{About, Both, Cause, Change, NONE, facts};
use crate::earlier::BlindNumber;

/// The blinds of then, by its openings.
pub(super) struct Typed<'b, 'm> {
    /// Those that were meant for each opening.
    pub meant: Vec<Vec<&'b Blinds<'m>>>,
    /// Those that hung at each opening, or were to, when that fit-out was worked out.
    pub hung: Vec<Vec<&'b Blinds<'m>>>,
    /// Those that went from it by what was typed since.
    pub went: Vec<Vec<&'b Blinds<'m>>>,
    /// Those that came to it from another opening.
    pub came: Vec<Vec<&'b Blinds<'m>>>,
}

impl<'b, 'm> Typed<'b, 'm> {
    /// `hung_now` are the blinds of each opening of now, `facts` what differs in its cells.
    pub fn of(
        then: &'b Memory<'m>,
        now: &Memory<'_>,
        pairs: &Pairs,
        hung_now: &[Vec<&Blinds<'_>>],
        facts: &[Vec<facts::Differs>],
    ) -> Typed<'b, 'm> {
        let none = || vec![Vec::new(); then.openings.len()];
        let mut typed = Typed { meant: none(), hung: none(), went: none(), came: none() };
        let mut missing = missing(then, now, pairs, hung_now, facts);
        let is_too_full = too_full(then);
        // Looked up only, never walked.
        let remade: HashSet<BlindNumber> = then.blinds.iter().filter_map(|new| new.remake_of).collect();
        for blinds in &then.blinds {
            if let Some(home) = blinds.home {
                typed.meant[home].push(blinds);
            }
        }
        // The last of them first: those of which something was typed before have mostly lower numbers.
        for blinds in then.blinds.iter().rev() {
            if let (true, Some(home)) = (blinds.at == blinds.home, blinds.home) {
                typed.hung[home].push(blinds);
                continue;
            }
            let came_since = blinds.at.is_some_and(|to| is_too_full[to]);
            let is_replaced = remade.contains(&blinds.first_number());
            let left = blinds.home.filter(|&home| missing[home] > 0 && !is_replaced);
            if let Some(home) = left {
                missing[home] = missing[home].saturating_sub(blinds.count());
                typed.hung[home].push(blinds);
                typed.went[home].push(blinds);
            }
            match blinds.at {
                Some(to) if came_since || left.is_some() => typed.came[to].push(blinds),
                Some(at) => typed.hung[at].push(blinds),
                None => {}
            }
        }
        for blinds in typed.hung.iter_mut().chain(&mut typed.went).chain(&mut typed.came) {
            blinds.sort_by_key(|blinds| (blinds.line, blinds.first));
        }
        typed
    }

    /// Whether an opening of then has other blinds by what was typed.
    pub fn is_at(&self, opening: PlaceIndex) -> bool {
        !self.went[opening].is_empty() || !self.came[opening].is_empty()
    }
}

/// How many blinds each opening of then lacks, for one of its own is elsewhere. One that is held now, and
/// whose cells say the same, was held then: it lacks none.
fn missing(
    then: &Memory<'_>,
    now: &Memory<'_>,
    pairs: &Pairs,
    hung_now: &[Vec<&Blinds<'_>>],
    facts: &[Vec<facts::Differs>],
) -> Vec<u64> {
    let mut at = vec![0; then.openings.len()];
    for blinds in &then.blinds {
        if let Some(opening) = blinds.at {
            at[opening] += blinds.count();
        }
    }
    let was_held = |opening: PlaceIndex| {
        pairs.after.get(&opening).is_some_and(|&after| {
            let count: u64 = hung_now[after].iter().map(|blinds| blinds.count()).sum();
            count < now.openings[after].quantity() && !facts[after].iter().any(facts::Differs::may_decide)
        })
    };
    let of_openings = at.into_iter().zip(&then.openings).enumerate();
    let missing = of_openings.map(|(opening, (count, place))| match was_held(opening) {
        true => 0,
        false => place.quantity().saturating_sub(count),
    });
    missing.collect()
}

/// Whether each opening of then has more blinds than it has room for, and some of them are not ordered: no
/// run orders those.
fn too_full(then: &Memory<'_>) -> Vec<bool> {
    let mut counts = vec![(0, false); then.openings.len()];
    for blinds in &then.blinds {
        if let Some(opening) = blinds.at {
            let (count, is_any_open) = &mut counts[opening];
            *count += blinds.count();
            *is_any_open |= blinds.ordered.is_none();
        }
    }
    let of_openings = counts.into_iter().zip(&then.openings);
    of_openings.map(|((count, is_any_open), place)| is_any_open && count > place.quantity()).collect()
}

/// The row of an opening of now to which a blind was moved, or from which one was.
pub(super) fn change(both: &Both<'_, '_>, opening: PlaceIndex) -> Option<Change> {
    let before = both.pairs.before[opening]?;
    let (had, has) = (&both.typed.hung[before], &both.hung_now[opening]);
    let came = &both.typed.came[before];
    let moved = both.typed.went[before].iter().find(|blinds| blinds.is_moved());
    let to_do = match (came.first(), moved) {
        (Some(came), _) => {
            let (line, numbers, label) = (came.line, came.numbers(), came.meant_for[2]);
            match both.now.stands.get(opening) {
                Some(Stands::Stop | Stands::Held) => {
                    format!("line {line}, {numbers} is a stop here: see Queries; its label says {label}")
                }
                _ => format!("line {line}, {numbers} goes up here; its label says {label}"),
            }
        }
        (None, Some(moved)) => {
            let to = moved.ordered.map_or("", |kept| &*kept.typed.goes_to);
            let new = match has.iter().find(|blinds| blinds.ordered.is_none()) {
                Some(new) => format!("order line {} in its place", new.line),
                None => "answer the opening's stop on Queries, so that another can be ordered".to_owned(),
            };
            format!("line {}, {} goes to {to}; {new}", moved.line, moved.numbers())
        }
        (None, None) => return None,
    };
    let first = |blinds: &[&Blinds<'_>]| blinds.first().map(|blinds| blinds.line);
    Some(Change {
        fact: BLIND.to_owned(),
        before: places(had),
        now: places(has),
        line_before: first(had),
        line_now: came.first().map(|came| came.line).or_else(|| first(has)),
        state: match came.first() {
            Some(came) => came.state(),
            None => has.first().and_then(|blinds| blinds.state()),
        },
        cause: Some(Cause::Answer),
        to_do: to_do.into(),
        ..Change::about(About::Fact).at(both.now.openings[opening])
    })
}

/// The fact that a row is about which tells of blinds by their numbers.
pub(super) const BLIND: &str = "blind";

/// `line 7, 1-2 of 3; line 9, 1 of 1`.
fn places(blinds: &[&Blinds<'_>]) -> String {
    let mut joined: Vec<Blinds<'_>> = Vec::new();
    for &next in blinds {
        match joined.last_mut() {
            Some(last) if last.line == next.line && last.last + 1 == next.first => {
                last.last = next.last;
            }
            _ => joined.push(*next),
        }
    }
    match joined.is_empty() {
        true => NONE.to_owned(),
        false => {
            let words = joined.iter().map(|blinds| format!("line {}, {}", blinds.line, blinds.numbers()));
            words.collect::<Vec<_>>().join("; ")
        }
    }
}
