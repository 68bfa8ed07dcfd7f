//! What each visit to a unit is made of: what is still to be fitted there in one phase.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use crate::date::Date;
use crate::fitting::{self, Blind};
use crate::order::{Order, Seat};
use crate::query::OpeningIndex;
use crate::rules::Rules;
use crate::schema::blinds::BlindState;
use crate::survey::Survey;

/// Blinds of one opening that are still to be fitted.
#[derive(Clone, Debug)]
pub struct Part {
    /// The opening.
    pub opening: OpeningIndex,
    /// How many blinds.
    pub blinds: u64,
    /// Minutes of work for all of them; `None` if a rate is not known.
    pub minutes: Option<Decimal>,
    /// Whether two people fit each.
    pub for_two: bool,
    /// When they come; `None` if that is not known, or they are on site.
    pub arrives: Option<Date>,
}

/// One unit in one phase.
#[derive(Clone, Debug)]
pub(super) struct Stop {
    /// Its first opening of that phase.
    pub home: OpeningIndex,
    /// What can be fitted, in survey order.
    pub parts: Vec<Part>,
    /// Openings that are held, in survey order.
    pub held: Vec<OpeningIndex>,
    /// Whether a blind of it hangs already.
    pub begun: bool,
}

/// Where the blinds of an opening are.
#[derive(Clone, Copy, Default)]
struct Hung {
    fitted: u64,
    on_site: u64,
}

/// Every unit by phase, in survey order of first mention.
pub(super) fn stops(
    survey: &Survey,
    blinds: &[Option<Blind<'_>>],
    order: &Order,
    rules: &Rules,
) -> Vec<Stop> {
    let mut hung = vec![Hung::default(); survey.openings.len()];
    for seat in order.lines.iter().flat_map(|line| &line.seats) {
        let Some(of) = seat.opening.and_then(|opening| hung.get_mut(opening)) else { continue };
        match seat.state {
            Some(BlindState::Fitted) => of.fitted += seat.count(),
            Some(BlindState::Delivered) => of.on_site += seat.count(),
            _ => {}
        }
    }
    let mut places: BTreeMap<[&str; 3], usize> = BTreeMap::new();
    let mut stops: Vec<Stop> = Vec::new();
    for (opening, surveyed) in survey.openings.iter().enumerate() {
        let who = &surveyed.who;
        let place = *places.entry([&who.phase, &who.building, &who.unit]).or_insert(stops.len());
        if place == stops.len() {
            stops.push(Stop { home: opening, parts: Vec::new(), held: Vec::new(), begun: false });
        }
        let (stop, hung) = (&mut stops[place], hung[opening]);
        stop.begun |= hung.fitted > 0;
        let Some(blind) = &blinds[opening] else {
            stop.held.push(opening);
            continue;
        };
        let left = u64::from(who.quantity).saturating_sub(hung.fitted);
        if left == 0 {
            continue;
        }
        let each = fitting::fitting_minutes(surveyed, blind, &rules.rates);
        stop.parts.push(Part {
            opening,
            blinds: left,
            minutes: each.and_then(|each| each.checked_mul(Decimal::from(left))),
            for_two: blind.fitted.people > 1,
            arrives: blind.sourced.arrives.filter(|_| hung.on_site < left),
        });
    }
    stops.retain(|stop| !stop.parts.is_empty() || !stop.held.is_empty());
    stops
}

/// Whether blinds hang at an opening of the survey.
pub(super) fn hangs(seat: &Seat) -> bool {
    seat.opening.is_some() && seat.state == Some(BlindState::Fitted)
}

/// Building and name of every unit of which a blind hangs.
pub(super) fn begun<'s>(survey: &'s Survey, order: &Order) -> impl Iterator<Item = [&'s str; 2]> {
    let seats = order.lines.iter().flat_map(|line| &line.seats).filter(|seat| hangs(seat));
    let who = seats.filter_map(|seat| Some(&survey.openings.get(seat.opening?)?.who));
    who.map(|who| [&*who.building, &*who.unit])
}
