//! Blinds that are ordered and not wanted, and those that are to be made again. Each holds until somebody
//! says on `Blinds` that it is done.

use std::borrow::Cow;
use std::collections::{HashMap, HashSet};

use super::memory::{Blinds, Memory};
use super::place::PlaceIndex;
use super::{About, Both, Change};
use crate::earlier::{BlindNumber, KeptBlind};
use crate::frozen::BoundFor;
use crate::schema::blinds::{BlindState, DO, Do, GOES_TO, STATE, STORE};

/// The blinds of an opening that are to be made again, and have not been ordered again.
pub(super) fn make_again(both: &Both<'_, '_>, opening: PlaceIndex) -> Vec<Change> {
    let rows = both.again[opening].iter().map(|(blinds, new)| {
        let reason = blinds.ordered.and_then(|kept| kept.typed.reason);
        Change {
            fact: reason.map_or_else(String::new, |reason| reason.to_string()),
            before: format!("{}, {}", blinds.numbers(), blinds.sort.in_words(both.now.units)),
            now: new.map_or_else(String::new, |new| new.sort.in_words(both.now.units)),
            line_before: Some(blinds.line),
            line_now: new.map(|new| new.line),
            state: blinds.state(),
            cost_before: blinds.price,
            cost_now: new.and_then(|new| new.price),
            to_do: match new {
                Some(_) => {
                    format!("order the new one, then enter ordered under {} on its row", STATE.name).into()
                }
                None => "answer its stop on Queries, so that it can be made again".into(),
            },
            ..Change::about(About::MakeAgain).at(both.now.openings[opening])
        }
    });
    rows.collect()
}

/// A blind that is to be made again, and the one in its place, unless its opening is held.
pub(super) type Again<'b, 'm> = (&'b Blinds<'m>, Option<&'b Blinds<'m>>);

/// Blinds that are to be made again by the opening that they were meant for.
pub(super) fn to_make_again<'b, 'm>(blinds: &'b [Blinds<'m>], openings: usize) -> Vec<Vec<Again<'b, 'm>>> {
    // Looked up only, never walked.
    let remakes: HashMap<BlindNumber, &Blinds<'m>> =
        blinds.iter().filter_map(|new| Some((new.remake_of?, new))).collect();
    let mut again = vec![Vec::new(); openings];
    for blinds in blinds.iter().filter(|blinds| blinds.ordered.is_some_and(KeptBlind::is_made_again)) {
        let new = remakes.get(&blinds.first_number()).copied();
        let is_ordered_again = new.is_some_and(|new| new.ordered.is_some());
        if let (Some(home), false) = (blinds.home, is_ordered_again) {
            again[home].push((blinds, new));
        }
    }
    again
}

/// Blinds that are ordered for an opening beyond those that it has room for.
pub(super) fn surplus(both: &Both<'_, '_>, opening: PlaceIndex) -> Vec<Change> {
    let ordered = both.hung_now[opening].iter().filter(|blinds| blinds.ordered.is_some());
    let room = usize::try_from(both.now.openings[opening].quantity()).unwrap_or(usize::MAX);
    ordered.skip(room).map(|blinds| to_cancel(both, blinds)).collect()
}

/// Blinds that are ordered for openings that the survey has no more.
pub(super) struct Homeless<'b, 'm> {
    /// By line and number.
    all: Vec<&'b Blinds<'m>>,
    /// The first of each key. Looked up only, never walked.
    by_key: HashMap<String, &'b Blinds<'m>>,
}

impl<'b, 'm> Homeless<'b, 'm> {
    pub fn of(now: &'b Memory<'m>) -> Homeless<'b, 'm> {
        let is_for_home = |kept: &KeptBlind| kept.is_wanted() && kept.bound_for() == BoundFor::Home;
        let is_homeless =
            |blinds: &&Blinds<'m>| blinds.home.is_none() && blinds.ordered.is_some_and(is_for_home);
        let all: Vec<&Blinds<'m>> = now.blinds.iter().filter(is_homeless).collect();
        let mut by_key = HashMap::new();
        for blinds in &all {
            if let Some(key) = key_of(blinds) {
                by_key.entry(key).or_insert(*blinds);
            }
        }
        Homeless { all, by_key }
    }

    /// The first blind that is ordered for an opening that is gone.
    pub fn for_opening(&self, key: &str) -> Option<&'b Blinds<'m>> {
        self.by_key.get(key).copied()
    }
}

/// Their rows, but for those whose opening may be there under another name.
pub(super) fn astray(both: &Both<'_, '_>) -> Vec<Change> {
    // Looked up only, never walked.
    let asked: HashSet<String> =
        both.pairs.twins.keys().map(|&gone| both.then.openings[gone].key()).collect();
    let is_astray = |blinds: &&&Blinds<'_>| key_of(blinds).is_none_or(|key| !asked.contains(&key));
    both.homeless.all.iter().filter(is_astray).map(|blinds| to_cancel(both, blinds)).collect()
}

/// The key of the opening that a blind was meant for; `None` if that had no id.
fn key_of(blinds: &Blinds<'_>) -> Option<String> {
    blinds.ordered.and_then(KeptBlind::key)
}

fn to_cancel(both: &Both<'_, '_>, blinds: &Blinds<'_>) -> Change {
    let state = blinds.state();
    Change {
        before: format!("{}, {}", blinds.numbers(), blinds.sort.in_words(both.now.units)),
        line_before: Some(blinds.line),
        line_now: Some(blinds.line),
        state,
        cost_before: blinds.price,
        to_do: instead(state),
        ..Change::about(About::ToCancel).meant_for(blinds.meant_for)
    }
}

/// What to do with a blind that no opening wants.
fn instead(state: Option<BlindState>) -> Cow<'static, str> {
    let elsewhere =
        format!("{} under {} and an opening or {STORE} under {}", Do::Move.word(), DO.name, GOES_TO.name);
    match state {
        None | Some(BlindState::Ordered) => format!(
            "ask the maker to cancel it, then enter cancelled under {} on its row of Blinds; or enter {elsewhere}",
            STATE.name
        ),
        _ => format!("it is made: on its row of Blinds, enter {elsewhere}"),
    }
    .into()
}
