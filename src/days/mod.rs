//! The days of the job: which units are fitted on which day, and what must be on site for that.
//!
//! - A visit is a unit in one phase. Its minutes are those that are charged, for each of the blinds still to
//!   be fitted, and a unit's set-up; they are minutes of work, of all fitters together. A unit's set-up is
//!   charged once: that of a further visit is planned and not charged. So is the learning start, which makes
//!   the visit that is made first, of a job of which nothing hangs yet, take longer; a factor below 1 is taken
//!   as 1. Without dates it is that of the first phase.
//! - Phases come by their start, those without one last, in survey order. Within a phase buildings, and
//!   within these floors, come in the survey's order of first mention; within a floor units may change
//!   places where that saves time. Each phase has days of its own, so two phases may work on one date.
//! - A unit is never split over two days, unless it alone is longer than a day.
//! - A blind for two takes two fitters at once. A phase with one fitter has a second person on the days of
//!   units with such a blind, which come after all others of the phase, so that these days are together;
//!   they have the hours of two. Return visits come by when their blinds do, and each has its own fitters. An odd number of fitters is counted as if it shared out evenly.
//! - Within that the days are the fewest (`pack.rs` says what is exact); return visits are laid one
//!   after another and may take more. They come last, on days of their own, as soon as their blinds are there.
//! - Boxes must be on site the calendar day before. What comes later is a return visit, planned for after it
//!   comes; a blind of which nobody knows when it comes is planned as if it came in time. A held opening is
//!   a return visit too, which has no date while nothing else of the unit waits for one. A provisional blind
//!   is planned like any other, for its hours are part of the job.
//! - A visit that is kept holds its date, whatever that does to the day; a check says where it is too long, and
//!   where nobody works that day.
//!   What hangs is not planned any more. What is typed beside a visit that is no longer planned is printed
//!   as it was, below the others.
//! - Without a start days are numbered and have no date. Where a rate is unknown, so are the days.

mod calendar;
mod lift;
mod load;
mod pack;
mod phase;
mod queries;
mod visits;

pub use lift::fits as fits_lift;
pub use load::Load;
pub use pack::{Crew, Filled, MOST_DAYS, MOST_EXACT, Slot};
pub(crate) use queries::QUERIES;
pub use visits::Part;

use std::collections::{BTreeMap, BTreeSet};

use rust_decimal::Decimal;

use self::calendar::Calendar;
use self::phase::{Draft, Terms, When};
use self::queries::DaysQuery;
use self::visits::Stop;
use crate::date::Date;
use crate::earlier::{Earlier, KeptVisit, VisitKey};
use crate::fitting::Blind;
use crate::name::folded;
use crate::order::Order;
use crate::query::{Checked, OpeningIndex, Query};
use crate::rules::{Phase, Rules};
use crate::schema::fitting_days::Visit as Which;
use crate::survey::Survey;

/// The days of the job.
#[derive(Clone, Debug, Default)]
pub struct Days {
    /// The visits: phase by phase, those with a day by their days.
    pub visits: Vec<Visit>,
    /// Positions of the earlier visits with something typed that are not planned any more.
    pub past: Vec<usize>,
    /// Working days in all, each phase's own.
    pub count: usize,
    /// The last date; `None` if a visit to fit has none, or there is none.
    pub last: Option<Date>,
}

/// One visit to a unit.
#[derive(Clone, Debug)]
pub struct Visit {
    /// The first opening of the unit in its phase.
    pub home: OpeningIndex,
    /// Which of the unit's visits it is.
    pub which: Which,
    /// What is fitted, in survey order.
    pub parts: Vec<Part>,
    /// Openings that are held, in survey order.
    pub held: Vec<OpeningIndex>,
    /// Minutes of work; `None` if a rate is not known, or nothing can be fitted yet.
    pub minutes: Option<Decimal>,
    /// Of these, minutes of blinds for two.
    pub for_two: Option<Decimal>,
    /// Of these, minutes that are not charged.
    pub not_charged: Option<Decimal>,
    /// Its days; `None` without.
    pub planned: Option<Planned>,
    /// What comes with it.
    pub load: Load,
    /// When the last of its blinds comes; `None` if all are on site, or that is not known.
    pub arrives: Option<Date>,
    /// What is typed beside it: its position among the earlier visits.
    pub kept: Option<usize>,
}

/// The days of a visit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Planned {
    /// Its first working day of the job, from 1.
    pub day: usize,
    /// How many days it takes.
    pub days: usize,
    /// The date of the first, if its phase has a start or it keeps one.
    pub date: Option<Date>,
    /// The date of the last, likewise.
    pub last: Option<Date>,
    /// People who are needed that day.
    pub fitters: u32,
}

/// Plans the days of the job.
pub fn plan(
    survey: &Survey,
    blinds: &[Option<Blind<'_>>],
    order: &Order,
    earlier: Option<&Earlier>,
    rules: &Rules,
) -> Checked<Days> {
    let typed = earlier.map_or(&[][..], |earlier| &earlier.visits);
    let mut planning = Planning {
        survey,
        blinds,
        rules,
        typed,
        by_key: typed.iter().enumerate().map(|(place, visit)| (visit.key(), place)).collect(),
        begun: BTreeSet::new(),
        days: Days::default(),
        queries: Vec::new(),
    };
    let stops = visits::stops(survey, blinds, order, rules);
    let hangs = order.lines.iter().flat_map(|line| &line.seats).any(visits::hangs);
    planning.begun.extend(visits::begun(survey, order));
    let mut learns = rules.rates.learning_start.unwrap_or(Decimal::ONE).max(Decimal::ONE);
    if hangs {
        learns = Decimal::ONE;
    }
    let phases = by_phase(survey, stops, rules);
    let first = if learns > Decimal::ONE { planning.fitted_first(&phases) } else { None };
    for (place, (phase, stops)) in phases.iter().enumerate() {
        planning.phase(*phase, stops, if first == Some(place) { learns } else { Decimal::ONE });
    }
    planning.finish()
}

/// The stops of each phase, phases and stops in the order in which they are fitted.
fn by_phase<'r>(survey: &Survey, stops: Vec<Stop>, rules: &'r Rules) -> Vec<(Option<&'r Phase>, Vec<Stop>)> {
    let mut places: BTreeMap<&str, usize> = BTreeMap::new();
    let mut phases: Vec<(Option<&Phase>, Vec<Stop>)> = Vec::new();
    for stop in stops {
        let name = &*survey.openings[stop.home].who.phase;
        let place = *places.entry(name).or_insert(phases.len());
        if place == phases.len() {
            phases.push((rules.phase(name), Vec::new()));
        }
        phases[place].1.push(stop);
    }
    let starts = |phase: &Option<&Phase>| phase.and_then(|phase| phase.starts);
    phases.sort_by_key(|(phase, _)| (starts(phase).is_none(), starts(phase)));
    phases
}

/// The floor of each stop, numbered in the order of buildings, and within these of floors.
fn floors(survey: &Survey, stops: &[Stop]) -> Vec<usize> {
    let mut buildings: BTreeMap<&str, usize> = BTreeMap::new();
    let mut known: BTreeMap<[&str; 2], (usize, usize)> = BTreeMap::new();
    let places: Vec<(usize, usize)> = stops
        .iter()
        .map(|stop| {
            let who = &survey.openings[stop.home].who;
            let next = buildings.len();
            let building = *buildings.entry(&who.building).or_insert(next);
            let next = known.len();
            *known.entry([&who.building, &who.floor]).or_insert((building, next))
        })
        .collect();
    let ranks: BTreeSet<(usize, usize)> = places.iter().copied().collect();
    let ranks: BTreeMap<(usize, usize), usize> = ranks.into_iter().zip(0..).collect();
    places.iter().filter_map(|place| ranks.get(place).copied()).collect()
}

struct Planning<'r> {
    survey: &'r Survey,
    blinds: &'r [Option<Blind<'r>>],
    rules: &'r Rules,
    typed: &'r [KeptVisit],
    by_key: BTreeMap<VisitKey, usize>,
    /// Units, by building and name, whose set-up is charged already.
    begun: BTreeSet<[&'r str; 2]>,
    days: Days,
    queries: Vec<Query>,
}

/// A day of a phase: a date, or a number where it has none.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Day {
    On(Date),
    Nth(usize),
}

impl Day {
    fn date(self) -> Option<Date> {
        match self {
            Day::On(date) => Some(date),
            Day::Nth(_) => None,
        }
    }
}

impl<'r> Planning<'r> {
    /// What is typed beside a visit. Where a blind of the unit hangs already, what is left to fit keeps the
    /// day of the first visit.
    fn kept(&self, stop: &Stop, which: Which) -> Option<usize> {
        let who = &self.survey.openings[stop.home].who;
        let key = [&who.phase, &who.building, &who.unit].map(|name| folded(name));
        let of = |which| self.by_key.get(&(key.clone(), which)).copied();
        let to_come =
            |place: &usize| self.typed[*place].done.is_none() && self.typed[*place].holds().is_some();
        let of_first = || of(Which::First).filter(to_come);
        of(which).or_else(|| if which == Which::Return && stop.begun { of_first() } else { None })
    }

    /// The phase whose first visit is the first of the job; those with a date before those without.
    fn fitted_first(&self, phases: &[(Option<&'r Phase>, Vec<Stop>)]) -> Option<usize> {
        let begins = |(phase, stops): &(Option<&'r Phase>, Vec<Stop>)| {
            let mut terms = self.terms(*phase, stops, Decimal::ONE);
            let to_fit = terms.visits(stops).into_iter().filter(|draft| draft.when.is_some());
            let dates: Vec<Option<Date>> = to_fit.map(|draft| terms.date(&draft)).collect();
            let first = dates.iter().copied().flatten().min();
            (dates.is_empty(), first.is_none(), first)
        };
        let phases = phases.iter().map(begins).enumerate().filter(|(_, (is_idle, ..))| !is_idle);
        phases.min_by_key(|(place, begins)| (*begins, *place)).map(|(place, _)| place)
    }

    fn phase(&mut self, phase: Option<&'r Phase>, stops: &[Stop], learns: Decimal) {
        let mut terms = self.terms(phase, stops, learns);
        let drafts = terms.visits(stops);
        self.number(&mut terms, stops, drafts);
    }

    fn terms(&self, phase: Option<&'r Phase>, stops: &[Stop], learns: Decimal) -> Terms<'r> {
        const MINUTES: Decimal = Decimal::from_parts(60, 0, 0, false, 0);
        const EIGHT: Decimal = Decimal::from_parts(8, 0, 0, false, 0);
        let mut kept = BTreeMap::new();
        for (place, stop) in stops.iter().enumerate() {
            for which in [Which::First, Which::Return] {
                let holds = self.kept(stop, which).and_then(|kept| self.typed[kept].holds());
                kept.extend(holds.map(|date| ((place, which), date)));
            }
        }
        let days_off = phase.map_or(&[][..], |phase| &phase.days_off);
        let starts = phase.and_then(|phase| phase.starts);
        Terms {
            fitters: phase.map_or(1, |phase| phase.fitters),
            day: phase.map_or(EIGHT, |phase| phase.hours_a_day) * MINUTES,
            calendar: Calendar::new(starts, self.rules.project.work_days, days_off),
            rates: &self.rules.rates,
            learns,
            floors: floors(self.survey, stops),
            kept,
        }
    }

    /// Gives the days of a phase their numbers, and takes in its visits.
    fn number(&mut self, terms: &mut Terms<'_>, stops: &[Stop], drafts: Vec<Draft>) {
        let days_of: Vec<Vec<Day>> = drafts.iter().map(|draft| days_of(terms, draft)).collect();
        // Fitters of each day, minutes of the visits that keep it, and one of these.
        let mut days: BTreeMap<Day, (u32, Decimal, Option<usize>)> = BTreeMap::new();
        for (draft, own) in drafts.iter().zip(&days_of) {
            let fitters = terms.crew(draft.is_for_two());
            let kept = match draft.when {
                Some(When::On(date, _)) => {
                    self.kept(&stops[draft.stop], draft.which).map(|kept| (kept, date))
                }
                Some(When::Nth(_)) | None => None,
            };
            if let Some((kept, date)) = kept
                && terms.calendar.includes(date) == Some(false)
            {
                let query = Query::new(&DaysQuery::KeptDayOff, Some(self.typed[kept].at));
                self.queries.push(query.with_detail(date.to_string()));
            }
            let mut rest = draft.minutes.unwrap_or_default();
            for day in own {
                let of_day = days.entry(*day).or_default();
                of_day.0 = of_day.0.max(fitters);
                if let Some((kept, _)) = kept {
                    let here = rest.min(terms.minutes_of(fitters));
                    (of_day.1, rest) = (of_day.1 + here, rest - here);
                    of_day.2 = of_day.2.or(Some(kept));
                }
            }
        }
        for (fitters, minutes, kept) in days.values() {
            let has = terms.minutes_of(*fitters);
            if let Some(kept) = kept.filter(|_| *minutes > has) {
                let told = format!("{} of {} minutes", minutes.normalize(), has.normalize());
                let query = Query::new(&DaysQuery::KeptDayOverHours, Some(self.typed[kept].at));
                self.queries.push(query.with_detail(told));
            }
        }
        if let Some(draft) = drafts.iter().find(|draft| draft.is_too_far) {
            let home = stops[draft.stop].home;
            let at = self.survey.openings[home].who.at;
            self.queries.push(Query::new(&DaysQuery::TooManyDays, Some(at)).about(home));
        }
        let numbers: BTreeMap<Day, usize> = days.keys().copied().zip(self.days.count + 1..).collect();
        self.days.count += days.len();
        let mut visits: Vec<Visit> = Vec::with_capacity(drafts.len());
        for (draft, own) in drafts.into_iter().zip(days_of) {
            let planned = own.first().and_then(|day| {
                let (fitters, ..) = days.get(day)?;
                let (date, last) = (day.date(), own.last().and_then(|day| day.date()));
                Some(Planned { day: *numbers.get(day)?, days: own.len(), date, last, fitters: *fitters })
            });
            visits.push(self.visit(&stops[draft.stop], draft, planned, terms.rates.unit_minutes));
        }
        visits.sort_by_key(|visit| visit.planned.map_or(usize::MAX, |planned| planned.day));
        self.days.visits.extend(visits);
    }

    fn visit(
        &mut self,
        stop: &Stop,
        draft: Draft,
        planned: Option<Planned>,
        set_up: Option<Decimal>,
    ) -> Visit {
        let who = &self.survey.openings[stop.home].who;
        let is_charged = !draft.parts.is_empty() && self.begun.insert([&who.building, &who.unit]);
        let set_up = if is_charged { Some(Decimal::ZERO) } else { set_up };
        let for_two = draft.parts.iter().filter(|part| part.for_two);
        Visit {
            home: stop.home,
            which: draft.which,
            for_two: draft.minutes.and(for_two.map(|part| part.minutes).sum()),
            not_charged: draft.minutes.and(set_up).map(|set_up| draft.learning + set_up),
            minutes: draft.minutes,
            planned,
            load: Load::of(&draft.parts, self.blinds),
            arrives: phase::arrives(&draft.parts),
            kept: self.kept(stop, draft.which),
            parts: draft.parts,
            held: draft.held,
        }
    }

    fn finish(mut self) -> Checked<Days> {
        let planned: BTreeMap<usize, &Visit> =
            self.days.visits.iter().filter_map(|visit| Some((visit.kept?, visit))).collect();
        for (place, typed) in self.typed.iter().enumerate() {
            let ask = |query: DaysQuery| Query::new(&query, Some(typed.at)).with_detail(&*typed.unit);
            let asked = match planned.get(&place) {
                None if typed.keep == Some(true) && typed.done.is_none() => Some(DaysQuery::KeptVisitGone),
                None => None,
                Some(visit) if typed.done.is_some() && !visit.parts.is_empty() => {
                    Some(DaysQuery::DoneNotFitted)
                }
                Some(_) => {
                    (typed.keep == Some(true) && typed.date.is_none()).then_some(DaysQuery::KeepWithoutDate)
                }
            };
            self.queries.extend(asked.map(ask));
        }
        self.days.past = (0..self.typed.len()).filter(|place| !planned.contains_key(place)).collect();
        let to_fit = || self.days.visits.iter().filter(|visit| !visit.parts.is_empty());
        let dates: Option<Vec<Date>> = to_fit().map(|visit| visit.planned?.last).collect();
        self.days.last = dates.and_then(|dates| dates.into_iter().max());
        Checked { value: self.days, queries: self.queries }
    }
}

/// Every day of a visit.
fn days_of(terms: &mut Terms<'_>, draft: &Draft) -> Vec<Day> {
    let calendar = &mut terms.calendar;
    match draft.when {
        None => Vec::new(),
        Some(When::Nth(slot)) => {
            let day = |day| calendar.date(day).map_or(Day::Nth(day), Day::On);
            (slot.first..=slot.last).map(day).collect()
        }
        // The first day is kept, whatever day that is; a longer visit goes on on working days.
        Some(When::On(date, days)) => {
            let next = date.plus_days(1).and_then(|date| calendar.first_from(date));
            let later = (0..days - 1).filter_map(|day| calendar.date(next? + day).map(Day::On));
            [Day::On(date)].into_iter().chain(later).collect()
        }
    }
}
