//! What holds a blind to the building: where its brackets are, what their screws go into, and how hard
//! they work.
//!
//! The first listed fixing that goes in is taken if it holds; else the cheapest that is known to hold;
//! else brackets are added, but not on studs; else the strongest, and a query says so. What cannot be
//! held is a stop in a hollow wall alone, for there nothing but the board stands between rail and
//! person.
//!
//! Brackets are added one by one to those that the spacing asks for, and the one beside the stack stays
//! as long as there is room for it.

mod beam;
mod capacity;
mod ground;
mod loads;
mod pick;
mod places;

pub use loads::Weights;
pub use pick::Working;

use std::sync::Arc;

use rust_decimal::Decimal;

use super::heights::Heights;
use super::overlap::Overlaps;
use super::queries::FittingQuery;
use crate::blinds::Stack;
use crate::length::{Length, Units};
use crate::query::Held;
use crate::rules::{CoverRules, Fixing, Rules};
use crate::sizing::{Hung, Sizing};
use crate::survey::Facts;
use crate::worked::{Number, Record, Source};

use ground::{Behind, Ground};
use loads::Loads;
use pick::Pick;
use places::{Center, Placed};

/// The brackets of one blind.
#[derive(Clone, Debug)]
pub struct Brackets {
    /// The bracket's item.
    pub item: Arc<str>,
    /// Centers from the left end of the rail; two at the least.
    pub from_left: Vec<Length>,
    /// Centers from the left edge of the opening, at its head; `None` if the opening is unknown.
    pub from_opening_left: Option<Vec<Length>>,
    /// Bracket top above the floor as it is on the day; `None` if the sill is unknown.
    pub top_above_floor: Option<Length>,
    /// Bracket top above the head: 0 inside; `None` if the opening is unknown.
    pub top_above_head: Option<Length>,
}

/// The fixings of one blind.
#[derive(Clone, Debug)]
pub struct Fixings<'r> {
    /// Those of the most brackets.
    pub most: Screws<'r>,
    /// Those of the others, where an end of the rail is not on a stud.
    pub also: Option<Screws<'r>>,
    /// Pull over capacity while the blind hangs, the worst of all; `None` if any is not known.
    pub hung: Option<Decimal>,
    /// The same while someone pulls at it.
    pub pulled: Option<Decimal>,
    /// How hard those work that work the hardest; `None` if any are not chosen.
    pub working: Option<Working>,
    /// Which that is.
    pub hardest: Option<&'r Fixing>,
}

/// Fixings of one kind.
#[derive(Clone, Copy, Debug)]
pub struct Screws<'r> {
    /// Which; `None` if what the brackets go into is unknown, or no listed fixing does.
    pub fixing: Option<&'r Fixing>,
    /// How many.
    pub count: u32,
}

/// All that holds one blind.
#[derive(Clone, Debug)]
pub struct Holding<'r> {
    /// Its brackets.
    pub brackets: Brackets,
    /// Their fixings.
    pub fixings: Fixings<'r>,
}

/// What is to be held, and where.
pub(super) struct Wanted<'w, 'r> {
    pub(super) facts: &'w Facts,
    pub(super) sizing: &'w Sizing<'r>,
    pub(super) overlaps: Option<&'w Overlaps>,
    pub(super) heights: &'w Heights,
    pub(super) width: Length,
    pub(super) stack: Option<Stack>,
    pub(super) weights: Weights,
    pub(super) rules: &'r Rules,
    pub(super) cover: &'r CoverRules,
}

/// Places the brackets and chooses what they are fixed with.
pub(super) fn hold<'r>(wanted: &Wanted<'_, 'r>, record: &mut Record<'r>) -> Result<Holding<'r>, Held> {
    let evenly = places::even(wanted.width, places::count(wanted.width, wanted.cover), wanted.cover);
    let found = ground::find(wanted, record)?;
    let (placed, picks) = match &found {
        None => (places::all(evenly), Vec::new()),
        Some(Behind::Alike(ground)) => {
            let (centers, pick) = hold_alike(wanted, ground, evenly);
            let on = On { ground, brackets: centers.len(), pick };
            (places::all(centers), vec![on])
        }
        Some(Behind::Studs { studs, on_stud, between }) => {
            let placed = places::on_studs(wanted, *studs, record);
            let picks = hold_on_studs(wanted, &placed, [on_stud, between]);
            (placed, picks)
        }
    };
    let brackets = wanted.brackets(&placed, record);
    let fixings = wanted.fixings(&brackets, picks, record)?;
    Ok(Holding { brackets, fixings })
}

/// The brackets on one ground, and what they are fixed with; `None` if no listed fixing goes in.
struct On<'g, 'r> {
    ground: &'g Ground,
    brackets: usize,
    pick: Option<Pick<'r>>,
}

/// Brackets whose screws all meet the same, with more of them where the fixings need it.
fn hold_alike<'r>(
    wanted: &Wanted<'_, 'r>,
    ground: &Ground,
    evenly: Vec<Center>,
) -> (Vec<Center>, Option<Pick<'r>>) {
    let loads = Loads::of(wanted);
    let pick = |centers: &[Center]| {
        let every: Vec<usize> = (0..centers.len()).collect();
        pick::pick(wanted, ground, &loads, centers, &every)
    };
    let first = pick(&evenly);
    if first.as_ref().is_none_or(Pick::holds_while_it_hangs) {
        return (evenly, first);
    }
    let count = evenly.len();
    let more = (count..=2 * count).filter_map(|so_many| {
        let plain = places::even(wanted.width, u32::try_from(so_many).ok()?, wanted.cover);
        let beside_stack =
            wanted.stack.and_then(|stack| places::beside_stack(&plain, stack, wanted.width, wanted.cover));
        let centers = beside_stack.or_else(|| (so_many > count).then_some(plain))?;
        (centers.len() <= 2 * count).then_some(centers)
    });
    for centers in more {
        if let Some(pick) = pick(&centers).filter(Pick::holds_while_it_hangs) {
            return (centers, Some(pick));
        }
    }
    (evenly, first)
}

/// Brackets on studs, and those at an end that no stud is near.
fn hold_on_studs<'g, 'r>(
    wanted: &Wanted<'_, 'r>,
    placed: &[Placed],
    grounds: [&'g Ground; 2],
) -> Vec<On<'g, 'r>> {
    let loads = Loads::of(wanted);
    let centers: Vec<Center> = placed.iter().map(|placed| placed.center).collect();
    let on = [true, false].into_iter().zip(grounds).filter_map(|(on_stud, ground)| {
        let of = |(place, placed): (usize, &Placed)| (placed.on_stud == on_stud).then_some(place);
        let places: Vec<usize> = placed.iter().enumerate().filter_map(of).collect();
        let pick = pick::pick(wanted, ground, &loads, &centers, &places);
        (!places.is_empty()).then_some(On { ground, brackets: places.len(), pick })
    });
    on.collect()
}

impl<'r> Wanted<'_, 'r> {
    fn brackets(&self, placed: &[Placed], record: &mut Record<'r>) -> Brackets {
        let spacing = &self.cover.bracket_spacing;
        let count = u32::try_from(placed.len()).unwrap_or(u32::MAX);
        record.step(
            Number::Brackets,
            "so that no span exceeds the spacing and all of them hold",
            spacing,
            count,
        );
        let from_left: Vec<Length> = placed.iter().map(|placed| placed.center.to_length()).collect();
        for center in &from_left {
            record.step(
                Number::CenterFromRail,
                "evenly spaced, or on a stud",
                &self.cover.bracket_inset,
                *center,
            );
        }
        let rail = self.rail_from_opening();
        let from_opening_left: Option<Vec<Length>> =
            rail.map(|rail| placed.iter().map(|placed| placed.center.moved_by(rail)).collect());
        for center in from_opening_left.iter().flatten() {
            record.step(
                Number::CenterFromOpening,
                "minus the overlap, or plus the gap",
                Source::Above,
                *center,
            );
        }
        Brackets {
            item: Arc::clone(self.sizing.hung.bracket()),
            from_left,
            from_opening_left,
            top_above_floor: self.heights.bracket_top,
            top_above_head: self.heights.above_head.map(|above| above.bracket_top),
        }
    }

    /// From the opening's left edge, at its head, to the rail's left end. A leaning opening's corner is
    /// not above its edge at half height.
    fn rail_from_opening(&self) -> Option<Center> {
        let (leans, whole) = self.sizing.lean.map_or((0, 1), |lean| lean.head_moves_doubled());
        let overlap = i128::from(self.overlaps?.doubled[0]);
        Some(Center { parts: -overlap * whole - leans, in_nm: 2 * whole })
    }

    fn fixings(
        &self,
        brackets: &Brackets,
        mut on: Vec<On<'_, 'r>>,
        record: &mut Record<'r>,
    ) -> Result<Fixings<'r>, Held> {
        let each = &self.cover.fixings_per_bracket;
        let all =
            record.step(Number::Fixings, "brackets x fixings per bracket", each, brackets.count() * **each);
        for On { ground, pick, .. } in &on {
            match pick {
                Some(pick) => pick.ask(self, record)?,
                None => self.ask_for_fixing(ground, record),
            }
        }
        on.sort_by_key(|on| std::cmp::Reverse(on.brackets));
        let picks: Option<Vec<Pick<'r>>> = on.iter().map(|on| on.pick).collect();
        let worst = |of: fn(&Working) -> Option<Decimal>| {
            let uses: Option<Vec<Decimal>> = picks.iter().flatten().map(|pick| of(&pick.working)).collect();
            uses?.into_iter().max()
        };
        let (hung, pulled) = (worst(Working::hung), worst(Working::pulled));
        let hardest = picks.and_then(|picks| picks.into_iter().max_by_key(|pick| pick.working.severity()));
        let (working, hardest) = hardest.map(|pick| (pick.working, pick.fixing)).unzip();
        if let Some(working) = &working {
            working.note(self, record);
        }
        let mut screws = on.iter().map(|on| Screws {
            fixing: on.pick.map(|pick| pick.fixing),
            count: u32::try_from(on.brackets).unwrap_or(u32::MAX) * **each,
        });
        let Some(most) = screws.next() else {
            record.ask(&FittingQuery::SubstrateUnknown, None, "");
            return Ok(Fixings {
                most: Screws { fixing: None, count: all },
                also: None,
                hung: None,
                pulled: None,
                working: None,
                hardest: None,
            });
        };
        if let Some(fixing) = most.fixing {
            let source = self.facts.substrate.map_or(Source::Above, |substrate| substrate.at.into());
            record.step(Number::Fixing, "for what is behind the brackets", source, fixing.substrate.word());
        }
        Ok(Fixings { most, also: screws.next(), hung, pulled, working, hardest })
    }

    /// Asks for a fixing where none that is listed goes into what is behind the brackets.
    fn ask_for_fixing(&self, ground: &Ground, record: &mut Record<'r>) {
        let substrate = ground.substrate;
        let at = self.facts.substrate.map(|substrate| substrate.at);
        let is_listed = self.rules.fixings.iter().any(|fixing| fixing.substrate == substrate);
        match ground.length_wanted(self.rules, self.cover).filter(|_| is_listed) {
            Some(length) => {
                let wanted = record.shown(length.rounded_up_to(sold_in(record.units())));
                record.ask(&FittingQuery::FixingTooShort { wanted }, at, "");
            }
            None => record.ask(&FittingQuery::NoFixingListed { substrate }, at, ""),
        }
    }

    /// Whether the screws are pulled straight: up into a head or a ceiling.
    const fn goes_up(&self) -> bool {
        match self.sizing.hung {
            Hung::Inside(_) | Hung::Ceiling(_) => true,
            Hung::Outside(_) => false,
        }
    }
}

impl<'r> Fixings<'r> {
    /// How many there are, of all kinds.
    pub fn count(&self) -> u32 {
        self.kinds().map(|screws| screws.count).sum()
    }

    /// Each kind, those of the most brackets first.
    pub fn kinds(&self) -> impl Iterator<Item = Screws<'r>> {
        [Some(self.most), self.also].into_iter().flatten()
    }
}

impl Brackets {
    /// How many brackets there are.
    pub fn count(&self) -> u32 {
        let count = u32::try_from(self.from_left.len());
        debug_assert!(count.is_ok(), "brackets are placed by a count of 32 bits");
        count.unwrap_or(u32::MAX)
    }

    /// Rail's left end from the left edge of the opening: into the opening if above zero, past it
    /// if below; `None` if the opening is unknown. Any bracket's two positions differ by as much.
    pub fn rail_from_opening(&self) -> Option<Length> {
        let from_opening = *self.from_opening_left.as_ref()?.first()?;
        Some(from_opening - *self.from_left.first()?)
    }
}

/// The step in which a screw's length is said: a sixteenth of an inch, or a millimeter.
const fn sold_in(units: Units) -> Length {
    match units {
        Units::Inches => Length::sixty_fourths(4),
        Units::Millimeters => Length::from_mm(1),
    }
}
