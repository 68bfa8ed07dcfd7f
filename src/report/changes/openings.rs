//! Openings that are new, gone, or perhaps the same under another name, and what differs of those that
//! stayed.

use std::collections::{BTreeMap, BTreeSet, HashMap, VecDeque};

use super::cause::Cause;
use super::memory::{Blinds, Memory, Stands};
use super::place::PlaceIndex;
use super::{About, Both, Change, HELD, orders, sizes, twins, typed};
use crate::schema::blinds::{BlindState, DO, Do, GOES_TO};

/// Which opening of then is which of now.
pub(super) struct Pairs {
    /// For each opening of now the one that it was then.
    pub before: Vec<Option<PlaceIndex>>,
    /// The same from then to now.
    pub after: BTreeMap<PlaceIndex, PlaceIndex>,
    /// Openings of then that are gone, in their order.
    pub gone: Vec<PlaceIndex>,
    /// For those that are gone the new ones that they may be.
    pub twins: BTreeMap<PlaceIndex, PlaceIndex>,
}

impl Pairs {
    /// Openings of one key are the same; of several with one, the first is the first.
    pub fn of(then: &Memory<'_>, now: &Memory<'_>) -> Pairs {
        // Looked up only, never walked.
        let mut known: HashMap<String, VecDeque<PlaceIndex>> = HashMap::new();
        for (index, place) in then.openings.iter().enumerate() {
            known.entry(place.key()).or_default().push_back(index);
        }
        let before: Vec<Option<PlaceIndex>> =
            now.openings.iter().map(|place| known.get_mut(&place.key())?.pop_front()).collect();
        let after: BTreeMap<PlaceIndex, PlaceIndex> =
            before.iter().enumerate().filter_map(|(now, then)| Some(((*then)?, now))).collect();
        let gone: Vec<PlaceIndex> =
            (0..then.openings.len()).filter(|then| !after.contains_key(then)).collect();
        let new: Vec<PlaceIndex> = (0..before.len()).filter(|&index| before[index].is_none()).collect();
        let twins = twins::of(then, &gone, now, &new);
        Pairs { before, after, gone, twins }
    }
}

/// What differs of each opening of now, in survey order.
pub(super) fn of_survey(both: &Both<'_, '_>) -> Vec<Change> {
    let twin_of: BTreeMap<PlaceIndex, PlaceIndex> =
        both.pairs.twins.iter().map(|(gone, new)| (*new, *gone)).collect();
    let mut changes = Vec::new();
    for (opening, place) in both.now.openings.iter().enumerate() {
        match (both.pairs.before[opening], twin_of.get(&opening)) {
            (Some(_), _) => {
                let ordered = both.hung_now[opening].iter().find(|blinds| blinds.ordered.is_some());
                changes.extend(both.facts[opening].iter().map(|fact| Change {
                    state: ordered.and_then(|blinds| blinds.state()),
                    line_now: ordered.map(|blinds| blinds.line),
                    to_do: match ordered {
                        Some(blinds) if fact.may_decide() => whether_it_fits(both, opening, blinds).into(),
                        _ => "".into(),
                    },
                    ..fact.change(*place)
                }));
                changes.extend(sizes::change(both, opening));
                changes.extend(typed::change(both, opening));
            }
            (None, Some(&gone)) => changes.push(maybe_same(both, gone, opening)),
            (None, None) => changes.push(new(both, opening)),
        }
        changes.extend(orders::make_again(both, opening));
        changes.extend(orders::surplus(both, opening));
    }
    changes
}

/// What is known of an ordered blind whose opening was measured again.
fn whether_it_fits(both: &Both<'_, '_>, opening: PlaceIndex, blinds: &Blinds<'_>) -> &'static str {
    let hangs = blinds.state() == Some(BlindState::Fitted);
    match both.now.stands.get(opening) {
        Some(Stands::Fits) if hangs => "nothing: the blind that hangs there still fits",
        Some(Stands::Fits) => "nothing: the ordered blind still fits",
        Some(Stands::Hangs) => "look at it on site: the blind that hangs there is not what it would get now",
        Some(Stands::UsedAsItIs) => "nothing: the blind no longer fits, and is used as it is",
        Some(Stands::Stop) => "the ordered blind is a stop: on its row of Blinds, enter what to do under Do",
        Some(Stands::Held) => {
            "answer the opening's stop on Queries: only then is it known whether its blind fits"
        }
        None if hangs => "see Queries of the later fit-out: whether the blind that hangs there still fits",
        None => "see Queries of the later fit-out: whether the ordered blind still fits",
    }
}

/// The new openings that may be ones for which a blind is ordered already.
pub(super) fn asked_about(both: &Both<'_, '_>) -> BTreeSet<PlaceIndex> {
    let twins = both.pairs.twins.iter().filter(|(gone, _)| ordered_for(both, **gone).is_some());
    twins.map(|(_, new)| *new).collect()
}

fn new(both: &Both<'_, '_>, opening: PlaceIndex) -> Change {
    let blinds = both.hung_now[opening].first();
    Change {
        now: blinds.map_or_else(|| HELD.to_owned(), |blinds| blinds.sort.in_words(both.now.units)),
        line_now: blinds.map(|blinds| blinds.line),
        cause: Some(Cause::Survey),
        cost_now: blinds.and_then(|blinds| blinds.price),
        to_do: match blinds {
            Some(_) => "check that it is really one more".into(),
            None => "answer its stop on Queries".into(),
        },
        ..Change::about(About::OpeningNew).at(both.now.openings[opening])
    }
}

/// An opening that is gone and a new one that it may be.
fn maybe_same(both: &Both<'_, '_>, gone: PlaceIndex, opening: PlaceIndex) -> Change {
    let (was, is) = (both.then.openings[gone], both.now.openings[opening]);
    let ordered = ordered_for(both, gone);
    let before = first_of(both, gone);
    let now = both.hung_now[opening].first().copied();
    let to_do = match ordered {
        Some(_) => format!(
            "if it is the same, enter {} under {} and {} under {} on each of its rows of Blinds, or give it its earlier name again; if not, enter cancelled under State",
            Do::Move.word(),
            DO.name,
            is.name(),
            GOES_TO.name,
        ),
        None => match before.and_then(Blinds::state) {
            None => "nothing is ordered for it; give it its earlier name again if it is the same".to_owned(),
            Some(state) => {
                format!("its blind is {state} on Blinds; give it its earlier name again if it is the same")
            }
        },
    };
    Change {
        before: was.name().to_owned(),
        now: is.name().to_owned(),
        line_before: before.map(|blinds| blinds.line),
        line_now: now.map(|blinds| blinds.line),
        state: ordered.or(before).and_then(Blinds::state),
        cause: Some(Cause::Survey),
        cost_before: before.and_then(|blinds| blinds.price),
        cost_now: now.and_then(|blinds| blinds.price),
        to_do: to_do.into(),
        ..Change::about(About::MaybeSame).at(is)
    }
}

/// The openings that are gone and are none of the new ones, and the blinds that are ordered for them.
pub(super) fn gone(both: &Both<'_, '_>) -> Vec<Change> {
    let gone = both.pairs.gone.iter().filter(|gone| !both.pairs.twins.contains_key(gone));
    let mut changes: Vec<Change> = gone
        .map(|&gone| {
            let blinds = first_of(both, gone);
            let state = blinds.and_then(Blinds::state);
            Change {
                before: blinds.map_or_else(|| HELD.to_owned(), |blinds| blinds.sort.in_words(both.now.units)),
                line_before: blinds.map(|blinds| blinds.line),
                state,
                cause: Some(Cause::Survey),
                cost_before: blinds.and_then(|blinds| blinds.price),
                to_do: of_gone(state).into(),
                ..Change::about(About::OpeningGone).at(both.then.openings[gone])
            }
        })
        .collect();
    changes.extend(orders::astray(both));
    changes
}

/// What to do about an opening that is gone, by how far its blind has come.
fn of_gone(state: Option<BlindState>) -> &'static str {
    match state {
        Some(BlindState::Cancelled) => {
            "its blind is cancelled: see what the maker charges; if it should still be there, survey it again"
        }
        Some(BlindState::Remake) => {
            "its blind was to be made again, and is not now; if it should still be there, survey it again"
        }
        _ => "if it should still be there, enter its row in the survey again",
    }
}

/// The first blind of an opening that is gone: of those that are ordered, or were, if any is.
fn first_of<'b, 'm>(both: &Both<'b, 'm>, gone: PlaceIndex) -> Option<&'b Blinds<'m>> {
    let (hung, meant) = (&both.typed.hung[gone], &both.typed.meant[gone]);
    let ordered = hung.iter().chain(meant).find(|blinds| blinds.ordered.is_some());
    ordered.or(hung.first()).copied()
}

/// The first blind that is ordered for an opening that is gone.
fn ordered_for<'b, 'm>(both: &Both<'b, 'm>, gone: PlaceIndex) -> Option<&'b Blinds<'m>> {
    both.homeless.for_opening(&both.then.openings[gone].key())
}
