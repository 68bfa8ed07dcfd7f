//! Blinds that were ordered before, tied to the openings of the survey: which opening each of them is
//! for now, which are to be made again, and what stands in the way.
//!
//! An opening is known by building, unit and id, and by nothing else: one that changed is asked about,
//! never guessed. A running number goes over to another opening when a row is put in above it, so a
//! blind without an id is a stop.
//!
//! Where an opening is held by one of these stops, its blind stays in its line, on `Blinds` and in the
//! cost; only its unit's page waits.

mod queries;
mod renamed;

pub(crate) use queries::{FrozenQuery, QUERIES};

use std::borrow::Cow;
use std::collections::{BTreeMap, HashMap, HashSet};
use std::sync::Arc;

use crate::assumptions::Assumption;
use crate::earlier::{BlindNumber, Earlier, KeptBlind, KeptIndex, opening_key};
use crate::name::{folded, same_name, squeezed};
use crate::place::{CellRef, Given};
use crate::query::{Asks, Checked, Held, OpeningIndex, Query};
use crate::schema::blinds::{BlindState, Do, PAID_BY, PaidBy, STORE, USED_FOR};
use crate::schema::choices::{ControlSide, Mount};
use crate::survey::{Control, Facts, MotorSide, MountWanted, Opening, Survey};
use crate::worked::Record;

/// What an earlier fit-out means for the survey's openings.
#[derive(Clone, Debug, Default)]
pub struct Frozen<'e> {
    /// What is remembered; `None` in a first run.
    pub earlier: Option<&'e Earlier>,
    /// What each opening has.
    openings: Vec<OfOpening>,
    /// For each blind that is remembered the opening that it is for now, if there is one.
    goes_to: Vec<Option<OpeningIndex>>,
    /// Frozen blinds that are for no opening, and of which nobody says what is to become.
    pub astray: u64,
}

/// Who pays for what is made again, where nobody says: counted for each such blind.
pub fn assumed(frozen: &Frozen<'_>) -> Option<Assumption> {
    let unsaid =
        frozen.blinds().iter().filter(|blind| blind.is_made_again() && blind.typed.paid_by.is_none());
    let blinds = unsaid.count() as u64;
    let value = PaidBy::Us.word().to_owned();
    (blinds > 0).then_some(Assumption { column: &PAID_BY, value, openings: blinds })
}

/// The blinds that are remembered of one opening.
#[derive(Clone, Debug, Default)]
struct OfOpening {
    /// Those that are ordered and hang there, or will.
    serving: Vec<KeptIndex>,
    /// Those of its row that were not ordered yet.
    open: Vec<KeptIndex>,
    /// Those that are to be made again, and have not been ordered again.
    again: Vec<KeptIndex>,
    /// One that was cancelled.
    cancelled: Option<KeptIndex>,
    /// What holds it.
    stop: Option<(FrozenQuery, KeptIndex, String)>,
}

impl<'e> Frozen<'e> {
    /// The blinds that are remembered.
    pub fn blinds(&self) -> &'e [KeptBlind] {
        self.earlier.map_or(&[], |earlier| &earlier.blinds)
    }

    /// A blind by its number.
    pub fn blind(&self, number: BlindNumber) -> Option<&'e KeptBlind> {
        self.earlier?.blind(number)
    }

    /// The opening that a remembered blind is for now.
    pub fn goes_to(&self, kept: KeptIndex) -> Option<OpeningIndex> {
        self.goes_to.get(kept).copied().flatten()
    }

    /// The ordered blinds that an opening has.
    pub fn serving(&self, opening: OpeningIndex) -> &[KeptIndex] {
        self.openings.get(opening).map_or(&[], |of| &of.serving)
    }

    /// The blinds that were remembered of an opening and not ordered.
    pub fn open(&self, opening: OpeningIndex) -> &[KeptIndex] {
        self.openings.get(opening).map_or(&[], |of| &of.open)
    }

    /// The blinds that an opening gets again.
    pub fn again(&self, opening: OpeningIndex) -> &[KeptIndex] {
        self.openings.get(opening).map_or(&[], |of| &of.again)
    }

    /// The first ordered blind of an opening: what the whole row is frozen as.
    pub fn as_ordered(&self, opening: OpeningIndex) -> Option<&'e KeptBlind> {
        self.serving(opening).first().map(|&kept| &self.blinds()[kept])
    }

    /// The facts by which an opening's blind is fitted: as it was ordered, where that is not what the survey
    /// asks for.
    pub fn facts<'f>(&self, opening: OpeningIndex, facts: &'f Facts, otherwise: bool) -> Cow<'f, Facts> {
        match self.as_ordered(opening).filter(|_| otherwise) {
            Some(blind) => Cow::Owned(as_ordered(facts, blind)),
            None => Cow::Borrowed(facts),
        }
    }

    /// What holds an opening: what is asked, beside which blind, and what is special.
    pub(crate) fn stop(&self, opening: OpeningIndex) -> Option<(&FrozenQuery, &'e KeptBlind, &str)> {
        let (query, kept, detail) = self.openings.get(opening)?.stop.as_ref()?;
        Some((query, &self.blinds()[*kept], detail))
    }
}

/// What an ordered blind that is used as it is was used for, by its row: what differed, one after another.
pub fn used_for(queries: &[Query]) -> BTreeMap<CellRef, String> {
    let mut used: BTreeMap<CellRef, String> = BTreeMap::new();
    let accepted = queries.iter().filter(|query| query.code == FrozenQuery::UsedAsItIs.entry().code);
    for query in accepted {
        let Some(at) = query.at else { continue };
        let text = used.entry(at).or_default();
        if !text.is_empty() {
            text.push_str(USED_FOR_BETWEEN);
        }
        text.push_str(&query.detail);
    }
    used
}

/// Stands between what a blind was used for.
const USED_FOR_BETWEEN: &str = " | ";

/// Ties what is remembered to the openings of the survey.
pub fn tie<'e>(survey: &Survey, earlier: Option<&'e Earlier>) -> Checked<Frozen<'e>> {
    let Some(kept) = earlier else {
        return Checked { value: Frozen::default(), queries: Vec::new() };
    };
    let names = Names::of(survey);
    let mut tied = Frozen {
        earlier,
        openings: vec![OfOpening::default(); survey.openings.len()],
        goes_to: Vec::with_capacity(kept.blinds.len()),
        astray: 0,
    };
    let mut queries = Vec::new();
    // What was made again and ordered is not made again once more.
    let remade: HashSet<BlindNumber> =
        kept.blinds.iter().filter(|blind| blind.is_ordered()).filter_map(|blind| blind.remake_of).collect();
    let mut gone = Vec::new();
    for (index, blind) in kept.blinds.iter().enumerate() {
        let home = names.home(blind);
        let destination = destination(blind, &names);
        let opening = match destination {
            // Until somebody says where it goes, nothing is ordered in its place.
            Destination::Home | Destination::Nowhere => home,
            Destination::Opening(opening) => Some(opening),
            Destination::Store => None,
        };
        tied.goes_to.push(opening.filter(|_| blind.is_wanted()));
        if !blind.is_frozen() {
            if let Some(opening) = home {
                tied.openings[opening].open.push(index);
            }
            if blind.typed.is_of_an_order() {
                queries.push(told(&FrozenQuery::NotOrdered, blind));
            }
        } else if blind.is_made_again() {
            match opening {
                _ if remade.contains(&blind.number) => {}
                Some(opening) => tied.openings[opening].again.push(index),
                None => queries.push(told(&FrozenQuery::AgainNowhere, blind)),
            }
        } else if blind.is_wanted() {
            match opening {
                Some(opening) => {
                    let of = &mut tied.openings[opening];
                    of.serving.push(index);
                    let stop = match destination {
                        Destination::Home => stops(blind, &survey.openings[opening]),
                        Destination::Nowhere => {
                            Some((FrozenQuery::GoesNowhere, blind.typed.goes_to.to_string()))
                        }
                        Destination::Opening(_) | Destination::Store => None,
                    };
                    match stop {
                        Some((FrozenQuery::OtherOpening, detail)) if blind.is_used_for(&detail) => {
                            let used = Query::new(&FrozenQuery::UsedAsItIs, Some(blind.at)).about(opening);
                            queries.push(used.with_detail(detail));
                        }
                        Some((asked, detail)) => {
                            of.stop.get_or_insert((asked, index, detail));
                        }
                        None => {}
                    }
                }
                None if matches!(destination, Destination::Store) => {}
                None => {
                    queries.push(told(&FrozenQuery::Gone, blind));
                    gone.push(index);
                }
            }
        } else if let Some(opening) = home {
            tied.openings[opening].cancelled.get_or_insert(index);
        }
    }
    tied.astray = gone.len() as u64;
    for (opening, index) in renamed::may_be(survey, kept, &gone) {
        let blind = &kept.blinds[index];
        let detail = format!("{}: line {}, {}", blind.opening, blind.number.line, blind.words());
        tied.openings[opening].stop.get_or_insert((FrozenQuery::MaybeSame, index, detail));
    }
    for (place, (of, opening)) in tied.openings.iter_mut().zip(&survey.openings).enumerate() {
        let room = opening.who.quantity as usize;
        if let Some(&surplus) = of.serving.get(room) {
            let detail = format!("{} ordered, {room} wanted", of.serving.len());
            of.stop.get_or_insert((FrozenQuery::TooMany, surplus, detail));
        }
        let wanted = room.saturating_sub(of.serving.len());
        let surplus = of.again.split_off(wanted.min(of.again.len()));
        queries
            .extend(surplus.into_iter().map(|index| told(&FrozenQuery::AgainNowhere, &kept.blinds[index])));
        if let Some(index) = of.cancelled.filter(|_| wanted > of.again.len()) {
            queries.push(told(&FrozenQuery::CancelledAndWanted, &kept.blinds[index]).about(place));
        }
    }
    Checked { value: tied, queries }
}

/// What is asked beside a blind, which is named.
fn told(asked: &FrozenQuery, blind: &KeptBlind) -> Query {
    let detail = format!("line {}, {}: {}", blind.number.line, blind.words(), blind.opening);
    Query::new(asked, Some(blind.at)).with_detail(detail)
}

/// Whether an ordered blind that is not what its opening would get may stand: where somebody said so, or
/// where it hangs, with a check.
///
/// # Errors
/// [`Held`] by the stop that is raised where nobody said what is to be done with it.
pub(crate) fn stand(
    blind: &KeptBlind,
    stop: &FrozenQuery,
    detail: String,
    record: &mut Record<'_>,
) -> Result<(), Held> {
    if blind.is_used_for(&detail) {
        record.ask(&FrozenQuery::UsedAsItIs, Some(blind.at), detail);
    } else if blind.is_fitted() {
        record.ask(&FrozenQuery::FittedDiffers, Some(blind.at), detail);
    } else {
        let before = match &*blind.used_for {
            "" => String::new(),
            before => format!(" ({} was: {before})", USED_FOR.name),
        };
        return Err(record.hold(stop, Some(blind.at), detail + &before));
    }
    Ok(())
}

/// What stands in the way of a blind at the opening that has its key.
fn stops(blind: &KeptBlind, opening: &Opening) -> Option<(FrozenQuery, String)> {
    if blind.id.is_empty() && !blind.is_used_as_it_is() {
        return Some((FrozenQuery::NoId, format!("{} in {}", blind.opening, shown(&blind.room))));
    }
    if !same_name(&blind.room, &opening.who.room) {
        let detail = format!("room {} then, {} now", shown(&blind.room), shown(&opening.who.room));
        return Some((FrozenQuery::OtherOpening, detail));
    }
    let now = opening.facts.as_ref().map(|facts| facts.kind);
    match (blind.kind, now) {
        (Some(then), Some(now)) if then != now => {
            Some((FrozenQuery::OtherOpening, format!("{then} then, {now} now")))
        }
        _ => None,
    }
}

fn shown(room: &str) -> &str {
    if room.is_empty() { "no room" } else { room }
}

/// Where a blind goes by what is typed beside it.
enum Destination {
    /// Where it was meant to.
    Home,
    Opening(OpeningIndex),
    Store,
    Nowhere,
}

fn destination(blind: &KeptBlind, names: &Names) -> Destination {
    match blind.bound_for() {
        BoundFor::Home => Destination::Home,
        BoundFor::Store => Destination::Store,
        BoundFor::Named(to) => {
            names.shown.get(&squeezed(to)).map_or(Destination::Nowhere, |&index| Destination::Opening(index))
        }
    }
}

/// Where a blind goes in the words that are typed beside it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BoundFor<'b> {
    /// Where it was meant to.
    Home,
    /// The store.
    Store,
    /// An opening of that name; empty where something is to be done and nobody says where.
    Named(&'b str),
}

/// The survey's openings by their keys and names. Looked up only, never walked.
struct Names {
    keys: HashMap<String, OpeningIndex>,
    shown: HashMap<String, OpeningIndex>,
}

impl Names {
    fn of(survey: &Survey) -> Names {
        let mut names = Names { keys: HashMap::new(), shown: HashMap::new() };
        for (index, opening) in survey.openings.iter().enumerate() {
            let who = &opening.who;
            if !who.written.is_empty() {
                names.keys.entry(opening_key(&who.building, &who.unit, &who.written)).or_insert(index);
            }
            names.shown.insert(squeezed(&who.name), index);
        }
        names
    }

    /// The opening that a blind was meant for.
    fn home(&self, blind: &KeptBlind) -> Option<OpeningIndex> {
        match blind.key() {
            Some(key) => self.keys.get(&key).copied(),
            None => self.shown.get(&squeezed(&blind.opening)).copied(),
        }
    }
}

/// The facts of an opening with what was ordered for it in place of what the survey asks for.
pub(crate) fn as_ordered(facts: &Facts, blind: &KeptBlind) -> Facts {
    fn given<T>(value: T, blind: &KeptBlind) -> Option<Given<T>> {
        Some(Given { value, at: blind.at })
    }
    let mount = match blind.mount {
        Mount::Inside => MountWanted::Inside,
        Mount::Outside => MountWanted::Outside,
        Mount::Ceiling => MountWanted::Ceiling,
    };
    let motor_side = match (blind.control, blind.control_side) {
        (Control::Motor, Some(ControlSide::Left)) => given(MotorSide::Left, blind),
        (Control::Motor, Some(ControlSide::Right)) => given(MotorSide::Right, blind),
        _ => facts.motor_side,
    };
    Facts {
        product: given(Arc::clone(&blind.product), blind),
        color: given(Arc::clone(&blind.color), blind),
        mount: given(mount, blind),
        draw: blind.draw.map_or(facts.draw, |draw| given(draw, blind)),
        control: given(blind.control, blind),
        cord_device: blind.cord_device.map_or(facts.cord_device, |device| given(device, blind)),
        cord_height: blind.cord_height.map_or(facts.cord_height, |height| given(height, blind)),
        motor_side,
        ..facts.clone()
    }
}

impl KeptBlind {
    /// Where it goes.
    pub fn bound_for(&self) -> BoundFor<'_> {
        let to = &*self.typed.goes_to;
        match self.typed.to_do {
            None | Some(Do::UseAsItIs | Do::MakeAgain) if to.is_empty() => BoundFor::Home,
            _ if folded(to) == STORE => BoundFor::Store,
            _ => BoundFor::Named(to),
        }
    }

    /// Whether somebody said that it hangs as it is, in its own opening or in another.
    pub fn is_used_as_it_is(&self) -> bool {
        self.typed.to_do == Some(Do::UseAsItIs)
    }

    /// Whether somebody said that it hangs as it is, though it differs in this: what it was used for before
    /// is not what it is used for now.
    pub fn is_used_for(&self, detail: &str) -> bool {
        let known = self.used_for.is_empty() || self.used_for.split(USED_FOR_BETWEEN).any(|it| it == detail);
        self.is_used_as_it_is() && known
    }

    /// Whether the maker has an order for it that was not cancelled.
    pub fn is_ordered(&self) -> bool {
        matches!(self.typed.state, Some(state) if state != BlindState::Cancelled)
    }

    /// Whether it hangs already.
    pub fn is_fitted(&self) -> bool {
        self.typed.state == Some(BlindState::Fitted)
    }
}
