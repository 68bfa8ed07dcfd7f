//! Where else a blind would fit as it is: the openings that would take it in place of their own.
//!
//! An opening takes a blind of the product, color, draw, control, mount and reach that its own has,
//! and of a size within its window, both ends included; with a motor at the same end, and with a cord
//! that is kept from children as its own is. An end that nobody gives is never the same as another.
//! What the blind lacks there (a wand, returns, brackets) is said beside it. A held opening takes none:
//! what would fit there is not settled.
//!
//! The blinds of a line are looked at together as far as they have come equally far, and the openings
//! of the line are left out, for any blind of it fits there. A blind that is for no opening is looked
//! at by itself: from the store, or given up for a reason that says nothing against it.
//!
//! Openings of one window are compared at once, and found by drop and width, so that a large building
//! takes no longer for each blind than a small one. Where very many windows overlap, only the nearest
//! [`MOST_COMPARED`] are looked at, and the entry says so.

use std::collections::{BTreeMap, HashMap};

use rayon::prelude::*;

use crate::earlier::{KeptBlind, KeptIndex};
use crate::fitting::{Blind, ControlSide, Cord};
use crate::frozen::Frozen;
use crate::length::{Length, Units};
use crate::order::{LineKey, Order, OrderLine, Seat};
use crate::query::OpeningIndex;
use crate::schema::blinds::{BlindState, Reason};
use crate::sizing::{Mount, Size, SizeWindow};
use crate::survey::{Control, Draw, Identity, Survey};

/// Openings that an entry lists at most, the best ones; it counts all.
pub const MOST_LISTED: usize = 20;
/// Windows, and openings, that are compared for an entry at most.
pub const MOST_COMPARED: usize = 10_000;

/// Blinds that are alike and do not hang yet, and the openings that would take one of them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AlsoFits {
    /// Place of their line among the order's lines.
    pub place: usize,
    /// Their numbers within the line, run by run, both ends included.
    pub numbers: Vec<(u64, u64)>,
    /// How far they have come; `None` before they are ordered.
    pub state: Option<BlindState>,
    /// The openings, best first, at most [`MOST_LISTED`].
    pub fits: Vec<Fit>,
    /// How many openings there are in all, those that are not listed among them.
    pub count: u64,
    /// Whether all were compared; otherwise there may be more, and better ones.
    pub is_all: bool,
}

/// One opening that would take a blind.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Fit {
    /// The opening.
    pub opening: OpeningIndex,
    /// Whether all its blinds are ordered already.
    pub has_ordered: bool,
    /// Width of the blind minus the width that the opening prefers.
    pub wider: Length,
    /// Drop of the blind minus the drop that the opening prefers.
    pub longer: Length,
}

impl AlsoFits {
    /// Every line that some other opening would take a blind of, in order, each with its blinds that are
    /// for no opening after it. `blinds` has one place for each opening of the survey.
    pub fn all(
        survey: &Survey,
        blinds: &[Option<Blind<'_>>],
        frozen: &Frozen<'_>,
        order: &Order,
    ) -> Vec<AlsoFits> {
        let takers = Takers::of(survey, blinds, frozen);
        let lines = order.lines.iter().enumerate();
        let offers: Vec<Offer<'_>> = lines.flat_map(|(place, line)| offers(place, line, frozen)).collect();
        let found = offers.into_par_iter().filter_map(|offer| takers.find(offer));
        found.collect()
    }

    /// How many blinds it is about.
    pub fn blinds(&self) -> u64 {
        self.numbers.iter().map(|(first, last)| last + 1 - first).sum()
    }

    /// `2 of 3`, `1 to 4 of 12`, or that they are all of their line.
    pub fn words(&self, line: &OrderLine) -> String {
        /// Runs of numbers that are named one by one.
        const NAMED: usize = 6;
        if line.quantity > 1 && self.blinds() == line.quantity {
            return "all of the line".to_owned();
        }
        let run = |(first, last): &(u64, u64)| match first == last {
            true => first.to_string(),
            false => format!("{first} to {last}"),
        };
        let runs: Vec<String> = self.numbers.iter().take(NAMED).map(run).collect();
        let more = match self.numbers.len().saturating_sub(NAMED) {
            0 => "",
            _ => " and more",
        };
        format!("{}{more} of {}", runs.join(", "), line.of)
    }
}

/// What a blind of a line would need besides at an opening whose own blind is `blind`, in words.
pub fn needs(key: &LineKey, blind: &Blind<'_>, units: Units) -> Vec<String> {
    let fitted = &blind.fitted;
    let wand = fitted.wand.filter(|&wand| key.wand != Some(wand));
    let brackets = match fitted.brackets.count().saturating_sub(key.brackets) {
        0 => None,
        1 => Some("1 more bracket".to_owned()),
        more => Some(format!("{more} more brackets")),
    };
    let (has, wants) = (key.returns(), fitted.returns());
    let lacking = |side: &str, has: Length, wants: Length| {
        let lacks = wants > Length::ZERO && wants != has;
        lacks.then(|| format!("valance return of {}, {side}", wants.show(units)))
    };
    let returns = [lacking("left", has.left, wants.left), lacking("right", has.right, wants.right)];
    let wand = wand.map(|wand| format!("wand of {}", wand.show(units)));
    [wand, brackets].into_iter().chain(returns).flatten().collect()
}

/// Blinds for which openings are looked for.
struct Offer<'o> {
    place: usize,
    line: &'o OrderLine,
    numbers: Vec<(u64, u64)>,
    state: Option<BlindState>,
    /// The row of a blind that is for no opening.
    loose: Option<KeptIndex>,
}

/// The blinds of a line that do not hang: those for openings by how far they have come, and each of the
/// others by itself.
fn offers<'o>(place: usize, line: &'o OrderLine, frozen: &Frozen<'_>) -> Vec<Offer<'o>> {
    const STATES: [Option<BlindState>; 4] =
        [None, Some(BlindState::Ordered), Some(BlindState::Made), Some(BlindState::Delivered)];
    let of_openings = STATES.into_iter().map(|state| {
        let seats = line.seats.iter().filter(|seat| seat.opening.is_some() && seat.state == state);
        Offer { place, line, numbers: runs(seats), state, loose: None }
    });
    let loose = line.seats.iter().filter(|seat| seat.opening.is_none() && seat.counts());
    let loose = loose.filter_map(|seat| {
        let kept = seat.kept.filter(|&kept| is_as_good_as_new(&frozen.blinds()[kept]))?;
        let numbers = vec![(seat.first, seat.last)];
        Some(Offer { place, line, numbers, state: seat.state, loose: Some(kept) })
    });
    of_openings.chain(loose).filter(|offer| !offer.numbers.is_empty()).collect()
}

/// The numbers of seats, those that follow one another together.
fn runs<'s>(seats: impl Iterator<Item = &'s Seat>) -> Vec<(u64, u64)> {
    let mut runs: Vec<(u64, u64)> = Vec::new();
    for seat in seats {
        match runs.last_mut() {
            Some((_, last)) if *last + 1 == seat.first => *last = seat.last,
            _ => runs.push((seat.first, seat.last)),
        }
    }
    runs
}

/// Whether a blind that is for no opening may hang elsewhere: it does not hang, and nothing is said
/// against it. One that is made again must have a reason that lies in its opening.
fn is_as_good_as_new(blind: &KeptBlind) -> bool {
    let is_sound = match blind.typed.reason {
        Some(Reason::ClientChanged | Reason::MeasuredWrong) => true,
        Some(Reason::Damaged | Reason::WrongSize | Reason::WrongHand | Reason::WrongColor | Reason::Lost) => {
            false
        }
        None => !blind.is_made_again(),
    };
    is_sound && !blind.is_fitted()
}

/// What blind and opening must have in common, beside the size.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Sort<'s> {
    product: &'s str,
    color: &'s str,
    draw: Option<Draw>,
    control: Control,
    /// The end that a motor is at; `None` for what has none.
    motor: Option<ControlSide>,
    cord: Option<Cord>,
    mount: Mount,
    reach: Option<Length>,
}

impl<'s> Sort<'s> {
    /// `None` for a motor of which nobody says at which end it is.
    fn of_line(key: &'s LineKey) -> Option<Sort<'s>> {
        Some(Sort {
            product: &key.product,
            color: &key.color,
            draw: key.draw,
            control: key.control,
            motor: motor(key.control, key.control_side)?,
            cord: key.cord,
            mount: key.mount(),
            reach: key.reach(),
        })
    }

    fn of_blind(blind: &'s Blind<'_>) -> Option<Sort<'s>> {
        let Blind { sizing, fitted, .. } = blind;
        let control = sizing.operation.control;
        Some(Sort {
            product: &sizing.product.name,
            color: &sizing.color,
            draw: fitted.panel.stack.map(|stack| stack.draw),
            control,
            motor: motor(control, fitted.control_side)?,
            cord: fitted.cord,
            mount: sizing.hung.mount(),
            reach: sizing.hung.reach(),
        })
    }
}

/// The end of a motor; nothing for what has none, and `None` if nobody says.
fn motor(control: Control, side: Option<ControlSide>) -> Option<Option<ControlSide>> {
    match control {
        Control::Motor => side.map(Some),
        Control::Wand | Control::Cord => Some(None),
    }
}

/// Openings of one sort and one window, in survey order.
struct Alike {
    window: SizeWindow,
    /// Those that lack an ordered blind.
    open: Vec<OpeningIndex>,
    /// Those whose blinds are all ordered.
    ordered: Vec<OpeningIndex>,
}

/// The openings of one sort, to be found by their windows.
#[derive(Default)]
struct Windows {
    alike: Vec<Alike>,
    /// For each band of drops the windows that reach into it.
    bands: BTreeMap<i64, Band>,
}

/// Windows that reach into one band of drops.
#[derive(Default)]
struct Band {
    /// Their places, by the least width.
    windows: Vec<usize>,
    /// How much the broadest of them takes between its least width and its most.
    broadest: Length,
}

/// About as much as a window leaves a drop.
const BAND: Length = Length::inches(10);

fn band(drop: Length) -> i64 {
    drop.nm().div_euclid(BAND.nm())
}

impl Windows {
    /// Windows in any order.
    fn of(mut alike: Vec<Alike>) -> Windows {
        alike.sort_by_key(|alike| alike.window.least().width);
        let mut bands: BTreeMap<i64, Band> = BTreeMap::new();
        for (place, Alike { window, .. }) in alike.iter().enumerate() {
            for reached in band(window.least().drop)..=band(window.most().drop) {
                let band = bands.entry(reached).or_default();
                band.windows.push(place);
                band.broadest = band.broadest.max(window.most().width - window.least().width);
            }
        }
        Windows { alike, bands }
    }

    /// The windows that take a size, and whether all were looked at that might.
    fn taking(&self, size: Size) -> (Vec<&Alike>, bool) {
        let Some(band) = self.bands.get(&band(size.drop)) else { return (Vec::new(), true) };
        let least = |place: usize| self.alike[place].window.least().width;
        let end = band.windows.partition_point(|&place| least(place) <= size.width);
        let near = band.windows[..end].iter().rev().copied();
        let mut near = near.take_while(|&place| size.width - least(place) <= band.broadest);
        let compared = near.by_ref().take(MOST_COMPARED).map(|place| &self.alike[place]);
        let taking = compared.filter(|alike| alike.window.takes(size)).collect();
        (taking, near.next().is_none())
    }
}

/// Every opening that takes blinds.
struct Takers<'s> {
    blinds: &'s [Option<Blind<'s>>],
    sorts: BTreeMap<Sort<'s>, Windows>,
    units: Places<'s>,
    floors: Places<'s>,
    frozen: &'s Frozen<'s>,
    /// The openings that get another blind in the place of a remembered one. Looked up only.
    homes: HashMap<KeptIndex, OpeningIndex>,
}

/// Names of places, numbered. Looked up only, never walked.
struct Places<'s> {
    known: HashMap<(&'s str, &'s str), usize>,
    /// The place of each opening.
    of: Vec<usize>,
}

impl<'s> Places<'s> {
    fn of(survey: &'s Survey, name: impl Fn(&'s Identity) -> (&'s str, &'s str)) -> Places<'s> {
        let mut known = HashMap::new();
        let mut number = |who| {
            let next = known.len();
            *known.entry(name(who)).or_insert(next)
        };
        let of = survey.openings.iter().map(|opening| number(&opening.who)).collect();
        Places { known, of }
    }
}

/// How good a fit is, the best one first: whether the opening's blinds are all ordered, whether it is in
/// another unit and on another floor, how far the size is off, and its place in the survey.
type Rank = (bool, bool, bool, Length, OpeningIndex);

impl<'s> Takers<'s> {
    fn of(survey: &'s Survey, blinds: &'s [Option<Blind<'s>>], frozen: &'s Frozen<'s>) -> Takers<'s> {
        let mut sorts: BTreeMap<Sort<'s>, BTreeMap<[Size; 3], Alike>> = BTreeMap::new();
        let mut homes = HashMap::new();
        for (opening, blind) in blinds.iter().enumerate() {
            homes.extend(frozen.again(opening).iter().map(|&kept| (kept, opening)));
            let Some((sort, blind)) = blind.as_ref().and_then(|blind| Some((Sort::of_blind(blind)?, blind)))
            else {
                continue;
            };
            let window = blind.sizing.window;
            let key = [window.least(), window.most(), window.preferred()];
            let alike = sorts.entry(sort).or_default().entry(key);
            let alike = alike.or_insert_with(|| Alike { window, open: Vec::new(), ordered: Vec::new() });
            let has_ordered = has_ordered(survey, frozen, opening);
            if has_ordered { &mut alike.ordered } else { &mut alike.open }.push(opening);
        }
        let sorts = sorts.into_iter();
        Takers {
            blinds,
            sorts: sorts.map(|(sort, alike)| (sort, Windows::of(alike.into_values().collect()))).collect(),
            units: Places::of(survey, |who| (&who.building, &who.unit)),
            floors: Places::of(survey, |who| (&who.building, &who.floor)),
            frozen,
            homes,
        }
    }

    /// What would take the blinds of an offer; `None` where nothing would.
    fn find(&self, offer: Offer<'_>) -> Option<AlsoFits> {
        let Offer { place, line, numbers, state, loose } = offer;
        let size = line.key.size;
        let (mut taking, mut is_all) = self.sorts.get(&Sort::of_line(&line.key)?)?.taking(size);
        let own = self.own(line, loose);
        let is_own = |opening: &OpeningIndex| own.binary_search(opening).is_ok();
        taking.sort_by_key(|alike| off(alike.window, size));
        let each = |of: fn(&Alike) -> &Vec<OpeningIndex>| {
            let openings =
                taking.iter().flat_map(move |alike| of(alike).iter().map(move |&each| (each, alike)));
            openings.filter(|(opening, _)| !is_own(opening))
        };
        let near = self.near(line, loose);
        let rank = |has_ordered: bool, (opening, alike): (OpeningIndex, &&Alike)| -> Rank {
            let is_far =
                |places: &Places<'_>, near: &[usize]| near.binary_search(&places.of[opening]).is_err();
            let (other_unit, other_floor) = (is_far(&self.units, &near[0]), is_far(&self.floors, &near[1]));
            (has_ordered, other_unit, other_floor, off(alike.window, size), opening)
        };
        let open = each(|alike| &alike.open).map(|found| rank(false, found));
        let mut found = open.chain(each(|alike| &alike.ordered).map(|found| rank(true, found)));
        let mut ranks: Vec<Rank> = found.by_ref().take(MOST_COMPARED).collect();
        let more = found.count();
        is_all &= more == 0;
        let count = (ranks.len() + more) as u64;
        if ranks.len() > MOST_LISTED {
            ranks.select_nth_unstable(MOST_LISTED);
            ranks.truncate(MOST_LISTED);
        }
        ranks.sort_unstable();
        let fits: Vec<Fit> = ranks.into_iter().filter_map(|rank| self.fit(rank, size)).collect();
        (!fits.is_empty()).then_some(AlsoFits { place, numbers, state, fits, count, is_all })
    }

    fn fit(&self, (has_ordered, .., opening): Rank, size: Size) -> Option<Fit> {
        let wanted = self.blinds[opening].as_ref()?.sizing.window.preferred();
        let (wider, longer) = (size.width - wanted.width, size.drop - wanted.drop);
        Some(Fit { opening, has_ordered, wider, longer })
    }

    /// The openings that are left out, in order: those of its line, or the one that it was made for and
    /// that gets another.
    fn own(&self, line: &OrderLine, loose: Option<KeptIndex>) -> Vec<OpeningIndex> {
        let mut own = match loose {
            Some(kept) => self.homes.get(&kept).copied().into_iter().collect(),
            None => line.openings(),
        };
        own.sort_unstable();
        own
    }

    /// The units and the floors that the blinds are for, or were, by number and in order.
    fn near(&self, line: &OrderLine, loose: Option<KeptIndex>) -> [Vec<usize>; 2] {
        let kept = loose.map(|kept| &self.frozen.blinds()[kept]);
        let near = |places: &Places<'_>, name: fn(&KeptBlind) -> (&str, &str)| {
            let mut near: Vec<usize> = match kept {
                Some(kept) => places.known.get(&name(kept)).copied().into_iter().collect(),
                None => line.openings().into_iter().map(|opening| places.of[opening]).collect(),
            };
            near.sort_unstable();
            near.dedup();
            near
        };
        [
            near(&self.units, |kept| (&kept.building, &kept.unit)),
            near(&self.floors, |kept| (&kept.building, &kept.floor)),
        ]
    }
}

/// Whether all blinds of an opening are ordered.
fn has_ordered(survey: &Survey, frozen: &Frozen<'_>, opening: OpeningIndex) -> bool {
    frozen.serving(opening).len() as u64 >= u64::from(survey.openings[opening].who.quantity)
}

/// How far a size is off the one that a window prefers, width and drop together.
fn off(window: SizeWindow, size: Size) -> Length {
    let wanted = window.preferred();
    (size.width - wanted.width).abs() + (size.drop - wanted.drop).abs()
}
