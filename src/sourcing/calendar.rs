//! The days that lead times are counted from and measured against, phase by phase. Never today's date:
//! the same survey gives the same result on any day.

use std::collections::HashMap;

use super::Sourced;
use super::queries::SourcingQuery;
use crate::assumptions::Assumption;
use crate::date::Date;
use crate::query::{OpeningIndex, Query};
use crate::rules::columns::project;
use crate::rules::{Rules, Terms};
use crate::survey::Survey;

/// When the order goes out and when the blinds must be there.
pub(super) struct Calendar {
    ordered: Option<Date>,
    /// Whether the survey date stands in for a blank order date.
    assumed: bool,
    pub(super) need_by: Option<Date>,
}

/// The calendar of each opening: that of its phase.
pub(super) struct Calendars {
    of_phases: Vec<Calendar>,
    /// Which of them is an opening's.
    places: Vec<usize>,
}

/// How a delivery stands to the day on which the blinds are needed; what is better is less.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Standing {
    /// There in time, or nobody says when they are needed.
    InTime,
    /// Not known.
    Unknown,
    /// So many days late.
    Late(i32),
}

impl Calendar {
    pub(super) fn of(terms: Terms<'_>) -> Calendar {
        Calendar { ordered: terms.order_date, assumed: terms.is_survey_date, need_by: terms.need_by }
    }

    /// When something of so many lead days is on site.
    pub(super) fn arrives(&self, lead_days: Option<u32>) -> Option<Date> {
        self.ordered?.plus_days(lead_days?)
    }

    /// Whether an order date is known, so that unknown lead days alone leave an arrival unknown.
    pub(super) fn is_known(&self) -> bool {
        self.ordered.is_some()
    }

    pub(super) fn standing(&self, arrives: Option<Date>) -> Standing {
        match (self.need_by, arrives) {
            (None, _) => Standing::InTime,
            (Some(_), None) => Standing::Unknown,
            (Some(need_by), Some(arrives)) if arrives <= need_by => Standing::InTime,
            (Some(need_by), Some(arrives)) => Standing::Late(arrives.days_since(need_by)),
        }
    }
}

impl Calendars {
    pub(super) fn of(survey: &Survey, rules: &Rules) -> Calendars {
        let mut of_phases = Vec::new();
        // Looked up only, never walked.
        let mut known = HashMap::new();
        let phases = survey.openings.iter().map(|opening| &*opening.who.phase);
        let places = phases.map(|phase| {
            *known.entry(phase).or_insert_with(|| {
                of_phases.push(Calendar::of(rules.terms_of(phase)));
                of_phases.len() - 1
            })
        });
        let places = places.collect();
        Calendars { of_phases, places }
    }

    /// That of an opening of the survey.
    pub(super) fn of_opening(&self, opening: OpeningIndex) -> &Calendar {
        &self.of_phases[self.places[opening]]
    }

    /// Asked once for the project: nothing says from when to count.
    pub(super) fn query(&self) -> Option<Query> {
        let unanswerable = |calendar: &Calendar| calendar.need_by.is_some() && !calendar.is_known();
        self.of_phases.iter().any(unanswerable).then(|| Query::new(&SourcingQuery::NoOrderDate, None))
    }

    /// The survey date in place of the order date, if any arrival was counted from it.
    pub(super) fn assumption(&self, sourced: &[Option<Sourced<'_>>]) -> Option<Assumption> {
        let arrives = |sourced: &Option<Sourced<'_>>| sourced.as_ref().is_some_and(|to| to.arrives.is_some());
        let openings = (0..sourced.len()).filter(|opening| arrives(&sourced[*opening]));
        let calendars = openings.map(|opening| self.of_opening(opening));
        let day = calendars.filter(|calendar| calendar.assumed).find_map(|calendar| calendar.ordered)?;
        let value = format!("the survey date, {day}");
        Some(Assumption { column: &project::COLUMNS.order_date, value, openings: 0 })
    }
}
