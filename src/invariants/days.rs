//! The days of the job against the blinds that are still to be fitted, and against the hours of the fitters.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::{Fault, Invariant};
use crate::report::Report;
use crate::schema::blinds::BlindState;

pub(super) const INVARIANTS: &[Invariant] = &[
    Invariant::of_whole(
        "each blind that does not hang is fitted on one visit, and each held opening waits for one",
        planned_once,
    ),
    Invariant::of_whole(
        "the visits of a day take no longer than its fitters work, unless one of them is kept",
        within_hours,
    ),
];

fn planned_once(report: &Report<'_>) -> Result<(), Fault> {
    // Of each opening: blinds that hang, blinds on visits, visits that it is held for.
    let mut counts = vec![(0_u64, 0_u64, 0_u32); report.survey.openings.len()];
    let seats = report.order.lines.iter().flat_map(|line| &line.seats);
    for seat in seats.filter(|seat| seat.state == Some(BlindState::Fitted)) {
        if let Some(count) = seat.opening.and_then(|opening| counts.get_mut(opening)) {
            count.0 += 1 + seat.last - seat.first;
        }
    }
    for visit in &report.days.visits {
        visit.parts.iter().for_each(|part| counts[part.opening].1 += part.blinds);
        visit.held.iter().for_each(|&opening| counts[opening].2 += 1);
    }
    let openings = report.survey.openings.iter().zip(&report.blinds).zip(counts);
    for (opening, ((surveyed, blind), (hang, planned, waits))) in openings.enumerate() {
        let wanted = match blind {
            Some(_) => (u64::from(surveyed.who.quantity).saturating_sub(hang), 0),
            None => (0, 1),
        };
        if (planned, waits) != wanted {
            let found = format!("has {planned} blinds on its visits, not {}", wanted.0);
            return Err(Fault::opening(report, opening, found));
        }
    }
    Ok(())
}

fn within_hours(report: &Report<'_>) -> Result<(), Fault> {
    let typed = report.frozen.earlier.map_or(&[][..], |earlier| &earlier.visits);
    // Minutes that a day takes, those that it has, and whether a visit keeps it or begins or ends on it.
    let mut days: BTreeMap<usize, (Decimal, Decimal, bool)> = BTreeMap::new();
    for visit in &report.days.visits {
        let (Some(planned), Some(minutes)) = (visit.planned, visit.minutes) else { continue };
        let phase = report.rules.phase(&report.survey.openings[visit.home].who.phase);
        let hours = phase.map_or(Decimal::from(8), |phase| phase.hours_a_day);
        let has = hours * Decimal::from(60) * Decimal::from(planned.fitters);
        let is_kept = visit.kept.is_some_and(|kept| typed[kept].keep == Some(true));
        if !is_kept && minutes > has * Decimal::from(planned.days) {
            return Err(Fault::opening(report, visit.home, "is on a visit that is longer than its days"));
        }
        for day in planned.day..planned.day + planned.days {
            let (takes, of_day, other) = days.entry(day).or_default();
            (*takes, *of_day) = (*takes + minutes, has);
            *other |= is_kept || planned.days > 1;
        }
    }
    match days.into_iter().find(|(_, (takes, has, other))| !other && takes > has) {
        Some((day, (takes, has, _))) => {
            let found = format!("takes {} of {} minutes", takes.normalize(), has.normalize());
            Err(Fault::at(format!("day {day}"), found))
        }
        None => Ok(()),
    }
}
