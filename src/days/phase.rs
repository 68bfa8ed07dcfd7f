//! The days of one phase: first visits, then return visits, each in its place.

use std::collections::{BTreeMap, BTreeSet};

use rust_decimal::Decimal;

use super::calendar::Calendar;
use super::pack::{Crew, Filled, MOST_DAYS, Slot};
use super::visits::{Part, Stop};
use crate::date::Date;
use crate::query::OpeningIndex;
use crate::rules::Rates;
use crate::schema::fitting_days::Visit as Which;

/// Times that first visits are laid anew because blinds come too late for their day. After the last the
/// late ones still leave their visits, and the others keep the days that they have.
const MOST_ROUNDS: usize = 16;

/// People whom a lift for two needs.
const TWO: u32 = 2;

/// What kept visits take of each day: people, and minutes.
type Taken = BTreeMap<usize, (u32, Decimal)>;

/// What a phase is planned with.
pub(super) struct Terms<'r> {
    /// How many people fit it.
    pub fitters: u32,
    /// Minutes of a day of each of them; above 0.
    pub day: Decimal,
    /// Its working days.
    pub calendar: Calendar<'r>,
    /// Times.
    pub rates: &'r Rates,
    /// How many times as long its first visit takes; 1 for no longer.
    pub learns: Decimal,
    /// The floor of each of its stops, by its place in the order of floors.
    pub floors: Vec<usize>,
    /// The dates that visits keep.
    pub kept: BTreeMap<(usize, Which), Date>,
}

/// A visit and its days.
pub(super) struct Draft {
    /// The stop, by its place in the phase.
    pub stop: usize,
    pub which: Which,
    pub parts: Vec<Part>,
    pub held: Vec<OpeningIndex>,
    pub minutes: Option<Decimal>,
    /// Minutes that it takes longer because the fitters learn.
    pub learning: Decimal,
    pub when: Option<When>,
    /// Whether it would go on past the last day that is planned.
    pub is_too_far: bool,
}

/// The days of a visit.
#[derive(Clone, Copy)]
pub(super) enum When {
    /// Working days of the phase, from 0.
    Nth(Slot),
    /// A date that it keeps, and how many days it takes.
    On(Date, usize),
}

impl Draft {
    pub(super) fn is_for_two(&self) -> bool {
        self.parts.iter().any(|part| part.for_two)
    }
}

impl Terms<'_> {
    /// Every visit to the stops, first visits before return visits.
    pub(super) fn visits(&mut self, stops: &[Stop]) -> Vec<Draft> {
        let mut late: BTreeSet<OpeningIndex> = BTreeSet::new();
        let (mut firsts, mut taken) = (Vec::new(), BTreeMap::new());
        let mut end = Filled { day: 0, used: Decimal::ZERO };
        for _ in 0..MOST_ROUNDS {
            firsts = self.firsts(stops, &late);
            taken.clear();
            end = self.lay_firsts(&mut firsts, &mut taken);
            let known = late.len();
            for draft in &firsts {
                let Some(date) = self.date(draft) else { continue };
                late.extend(draft.parts.iter().filter(|part| is_late(part, date)).map(|part| part.opening));
            }
            if late.len() == known {
                break;
            }
        }
        for draft in &mut firsts {
            draft.parts.retain(|part| !late.contains(&part.opening));
            draft.minutes = self.minutes(&draft.parts).map(|minutes| minutes + draft.learning);
        }
        firsts.retain(|draft| !draft.parts.is_empty());
        let mut returns = self.returns(stops, &late);
        if firsts.is_empty() {
            self.learn(&mut returns);
        }
        self.lay_returns(&mut returns, &mut taken, end);
        firsts.into_iter().chain(returns).collect()
    }

    /// The date on which a visit begins, if it has one.
    pub(super) fn date(&mut self, draft: &Draft) -> Option<Date> {
        match draft.when? {
            When::On(date, _) => Some(date),
            When::Nth(slot) => self.calendar.date(slot.first),
        }
    }

    /// People whom a visit needs.
    pub(super) fn crew(&self, is_for_two: bool) -> u32 {
        if is_for_two { self.fitters.max(TWO) } else { self.fitters }
    }

    /// Minutes of work of a day of so many people.
    pub(super) fn minutes_of(&self, fitters: u32) -> Decimal {
        self.day * Decimal::from(fitters)
    }

    /// Minutes of a visit: its blinds, and setting up.
    fn minutes(&self, parts: &[Part]) -> Option<Decimal> {
        let set_up = self.rates.unit_minutes?;
        parts.iter().try_fold(set_up, |sum, part| sum.checked_add(part.minutes?))
    }

    /// First visits in the order of floors, those that need a second person last.
    fn firsts(&mut self, stops: &[Stop], late: &BTreeSet<OpeningIndex>) -> Vec<Draft> {
        let stops = stops.iter().enumerate().filter(|(_, stop)| !stop.begun);
        let drafts = stops.filter_map(|(place, stop)| {
            let parts = stop.parts.iter().filter(|part| !late.contains(&part.opening));
            let parts: Vec<Part> = parts.cloned().collect();
            (!parts.is_empty()).then(|| self.draft(place, Which::First, parts, Vec::new()))
        });
        let mut drafts: Vec<Draft> = drafts.collect();
        drafts.sort_by_key(|draft| (self.crew(draft.is_for_two()), self.floors[draft.stop]));
        self.learn(&mut drafts);
        drafts
    }

    /// Makes the visit longer that is made first: the first that keeps no date, unless another one keeps an
    /// earlier day than it can have.
    fn learn(&mut self, drafts: &mut [Draft]) {
        let kept = |draft: &Draft| self.kept.get(&(draft.stop, draft.which)).copied();
        let known = || (0..drafts.len()).filter(|&place| drafts[place].minutes.is_some());
        let open = known().find(|&place| kept(&drafts[place]).is_none());
        let earliest = known().filter_map(|place| Some((kept(&drafts[place])?, place))).min();
        let ready = open.and_then(|open| arrives(&drafts[open].parts)?.plus_days(1));
        let from = ready.map_or(Some(0), |ready| self.calendar.first_from(ready));
        let begins = from.and_then(|from| self.calendar.date(from));
        let first = match (open, earliest) {
            (Some(_), Some((date, place))) if begins.is_some_and(|begins| date <= begins) => place,
            (Some(place), _) | (None, Some((_, place))) => place,
            (None, None) => return,
        };
        let first = &mut drafts[first];
        if let Some(minutes) = first.minutes {
            first.learning = minutes * (self.learns - Decimal::ONE);
            first.minutes = Some(minutes + first.learning);
        }
    }

    fn draft(&self, stop: usize, which: Which, parts: Vec<Part>, held: Vec<OpeningIndex>) -> Draft {
        let minutes = self.minutes(&parts).filter(|_| !parts.is_empty());
        Draft { stop, which, parts, held, minutes, learning: Decimal::ZERO, when: None, is_too_far: false }
    }

    /// What is left for return visits, those whose blinds come first before the others.
    fn returns(&self, stops: &[Stop], late: &BTreeSet<OpeningIndex>) -> Vec<Draft> {
        let drafts = stops.iter().enumerate().filter_map(|(place, stop)| {
            let parts = stop.parts.iter().filter(|part| stop.begun || late.contains(&part.opening));
            let parts: Vec<Part> = parts.cloned().collect();
            let is_any = !parts.is_empty() || !stop.held.is_empty();
            is_any.then(|| self.draft(place, Which::Return, parts, stop.held.clone()))
        });
        let mut drafts: Vec<Draft> = drafts.collect();
        drafts.sort_by_key(|draft| {
            let crew = self.crew(draft.is_for_two());
            (draft.parts.is_empty(), arrives(&draft.parts), crew, self.floors[draft.stop])
        });
        drafts
    }

    /// Gives the visits that keep a date that date, and adds what they use to what is taken of the days.
    fn keep(&mut self, drafts: &mut [Draft], taken: &mut Taken) {
        for draft in drafts {
            let Some(&date) = self.kept.get(&(draft.stop, draft.which)) else { continue };
            let Some(mut rest) = draft.minutes else { continue };
            let fitters = self.crew(draft.is_for_two());
            let day = self.minutes_of(fitters);
            let mut days = 1;
            let mut take = |day: usize, minutes: Decimal| {
                let (people, used) = taken.entry(day).or_default();
                (*people, *used) = (fitters.max(*people), *used + minutes);
            };
            let first = self.calendar.first_from(date);
            let first = first.filter(|&first| self.calendar.date(first) == Some(date));
            while rest > day && days < MOST_DAYS {
                if let Some(first) = first {
                    take(first + days - 1, day);
                }
                (rest, days) = (rest - day, days + 1);
            }
            if let Some(first) = first {
                take(first + days - 1, rest);
            }
            draft.when = Some(When::On(date, days));
        }
    }

    /// Lays first visits, floor by floor; says how far the days are filled then.
    fn lay_firsts(&mut self, drafts: &mut [Draft], taken: &mut Taken) -> Filled {
        self.keep(drafts, taken);
        let mut people = None;
        let mut used = BTreeMap::new();
        let mut filled = Filled { day: 0, used: Decimal::ZERO };
        let mut next = 0;
        while let Some(first) = drafts.get(next) {
            let fitters = self.crew(first.is_for_two());
            let key = (fitters, self.floors[first.stop]);
            let same = drafts[next..]
                .iter()
                .take_while(|draft| (self.crew(draft.is_for_two()), self.floors[draft.stop]) == key);
            let end = next + same.count();
            // The unit at which the fitters learn stays the first of all.
            let learns = |place: &usize| drafts[*place].learning > Decimal::ZERO;
            let end = (next..end).find(learns).map_or(end, |learner| learner + 1);
            let minutes = self.minutes_of(fitters);
            if people != Some(fitters) {
                used = used_by(taken, fitters, minutes);
                filled = Crew { minutes, taken: &used }.begin_after(filled);
                people = Some(fitters);
            }
            let crew = Crew { minutes, taken: &used };
            let open: Vec<usize> = (next..end)
                .filter(|&place| drafts[place].when.is_none() && drafts[place].minutes.is_some())
                .collect();
            let minutes: Vec<Decimal> = open.iter().filter_map(|&place| drafts[place].minutes).collect();
            for place in crew.arrange(filled, &minutes) {
                let draft = &mut drafts[open[place]];
                match crew.lay(filled, minutes[place]) {
                    Some((slot, after)) => (draft.when, filled) = (Some(When::Nth(slot)), after),
                    None => draft.is_too_far = true,
                }
            }
            next = end;
        }
        filled
    }

    /// Lays return visits after the first ones, each after its blinds have come.
    fn lay_returns(&mut self, drafts: &mut [Draft], taken: &mut Taken, mut filled: Filled) {
        self.keep(drafts, taken);
        let mut people = None;
        let mut used = BTreeMap::new();
        for draft in drafts.iter_mut().filter(|draft| draft.when.is_none()) {
            let Some(minutes) = draft.minutes else { continue };
            let fitters = self.crew(draft.is_for_two());
            let day = self.minutes_of(fitters);
            if people != Some(fitters) {
                used = used_by(taken, fitters, day);
                filled = Crew { minutes: day, taken: &used }.begin_after(filled);
                people = Some(fitters);
            }
            let crew = Crew { minutes: day, taken: &used };
            let ready = arrives(&draft.parts).and_then(|arrives| arrives.plus_days(1));
            let from = ready.and_then(|ready| self.calendar.first_from(ready)).unwrap_or(0);
            let start = if from > filled.day { crew.begin(from) } else { filled };
            match crew.lay(start, minutes).filter(|_| from < MOST_DAYS) {
                Some((slot, after)) => (draft.when, filled) = (Some(When::Nth(slot)), after),
                None => draft.is_too_far = true,
            }
        }
    }
}

/// What kept visits use of the days of so many people: a day that other people keep has nothing left.
fn used_by(taken: &Taken, fitters: u32, all: Decimal) -> BTreeMap<usize, Decimal> {
    let used = |people: u32, used: Decimal| if people == fitters { used } else { used.max(all) };
    taken.iter().map(|(&day, &(people, minutes))| (day, used(people, minutes))).collect()
}

/// Whether a blind comes too late for a visit: boxes are on site the day before.
fn is_late(part: &Part, date: Date) -> bool {
    part.arrives.is_some_and(|arrives| arrives >= date)
}

/// When the last of some blinds comes; `None` if all are on site, or nothing is known.
pub(super) fn arrives(parts: &[Part]) -> Option<Date> {
    parts.iter().filter_map(|part| part.arrives).max()
}
