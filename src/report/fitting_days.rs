//! What the days of the job mean for people: whether they are asked for, what goes up to each floor, and
//! what residents are told.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::Report;
use crate::date::Date;
use crate::days::{Load, Planned, Visit};
use crate::rules::columns::project::COLUMNS;

/// What residents are to do before the fitters come (common practice, no source).
pub const BEFORE_FITTERS: [&str; 5] = [
    "Clear the window sills, and the floor in front of the windows and doors.",
    "Take down what hangs there now, unless you were told that we do.",
    "Keep children and pets out of the room while we work: there are tools, ladders and drilling.",
    "Let someone be there who can open the door to us, from the start of the day on.",
    "Drilling is loud and makes some dust. Cover what must stay clean.",
];

/// What goes up to one floor in one phase.
#[derive(Clone, Copy, Debug)]
pub struct FloorLoad<'r> {
    /// The phase; empty if blank.
    pub phase: &'r str,
    /// The building; empty if blank.
    pub building: &'r str,
    /// The floor; empty if blank.
    pub floor: &'r str,
    /// The boxes.
    pub load: Load,
}

/// What the residents of a unit are told of one visit.
#[derive(Clone, Copy, Debug)]
pub struct Notice<'r> {
    /// The visit.
    pub visit: &'r Visit,
    /// Its days.
    pub planned: Planned,
    /// The date of the first.
    pub date: Date,
}

impl Notice<'_> {
    /// About how long it takes, in half hours rounded up: the minutes of work, shared by the fitters.
    /// `None` for a visit of several days.
    pub fn half_hours(&self) -> Option<Decimal> {
        let minutes = self.visit.minutes.filter(|_| self.planned.days == 1)?;
        let each = minutes.checked_div(Decimal::from(self.planned.fitters))?;
        Some(each.checked_div(Decimal::from(30))?.ceil())
    }

    /// `about 2.5 hours`, `2 days, until 2026-03-09`; empty if that is not known.
    pub fn how_long(&self) -> String {
        match (self.planned.days, self.half_hours()) {
            (1, None) => String::new(),
            (1, Some(half)) if half <= Decimal::ONE => "about half an hour".to_owned(),
            (1, Some(half)) if half == Decimal::TWO => "about 1 hour".to_owned(),
            (1, Some(half)) => format!("about {} hours", (half / Decimal::TWO).normalize()),
            (days, _) => {
                let until = self.planned.last.map(|last| format!(", until {last}")).unwrap_or_default();
                format!("{days} days{until}")
            }
        }
    }
}

impl<'r> Report<'r> {
    /// Whether the survey asks for days, with `Phases` or `Work days`, or an earlier fit-out has some typed.
    pub fn plans_days(&self) -> bool {
        let work_days = &COLUMNS.work_days;
        let is_blank = self.rules.assumptions.iter().any(|assumed| assumed.column.name == work_days.name);
        let is_typed = self.frozen.earlier.is_some_and(|earlier| !earlier.visits.is_empty());
        is_typed || !self.rules.phases.is_empty() || !is_blank
    }

    /// What goes up to each floor, phase by phase, in the order in which it is fitted.
    pub fn loads(&self) -> Vec<FloorLoad<'_>> {
        let mut places: BTreeMap<[&str; 3], usize> = BTreeMap::new();
        let mut loads: Vec<FloorLoad<'_>> = Vec::new();
        for visit in self.days.visits.iter().filter(|visit| visit.load.boxes > 0) {
            let who = &self.survey.openings[visit.home].who;
            let (phase, building, floor) = (&*who.phase, &*who.building, &*who.floor);
            let place = *places.entry([phase, building, floor]).or_insert(loads.len());
            if place == loads.len() {
                loads.push(FloorLoad { phase, building, floor, load: Load::default() });
            }
            loads[place].load.add(visit.load);
        }
        loads
    }

    /// What residents are told: every visit that has a date, where days are asked for.
    pub fn notices(&self) -> Vec<Notice<'_>> {
        if !self.plans_days() {
            return Vec::new();
        }
        let visits = self.days.visits.iter().filter(|visit| !visit.parts.is_empty());
        let notices = visits.filter_map(|visit| {
            let planned = visit.planned?;
            Some(Notice { visit, planned, date: planned.date? })
        });
        notices.collect()
    }

    /// The rooms of a visit, each once, in survey order.
    pub fn rooms_of(&self, visit: &Visit) -> Vec<&str> {
        let mut rooms: Vec<&str> = Vec::new();
        for part in &visit.parts {
            let room = &*self.survey.openings[part.opening].who.room;
            if !room.is_empty() && !rooms.contains(&room) {
                rooms.push(room);
            }
        }
        rooms
    }
}
