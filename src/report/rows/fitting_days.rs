//! `Fitting days`: the visits with their days, what goes up to each floor, and what residents are told.
//! The visits are what a later run reads back, so each heading is that of the schema.

use super::names;
use crate::date::Date;
use crate::days::{self, Planned, Visit};
use crate::earlier::KeptVisit;
use crate::length::Length;
use crate::query::OpeningIndex;
use crate::report::figure::{Kilograms, Quantity, row};
use crate::report::{FloorLoad, Notice, Report};
use crate::schema::fitting_days::{FitsLift, Visit as Which};
use crate::survey::Identity;

/// One visit.
#[derive(Clone, Copy)]
pub struct FittingDayRow<'r> {
    report: &'r Report<'r>,
    of: Of<'r>,
}

/// What a row is about.
#[derive(Clone, Copy)]
enum Of<'r> {
    /// A visit to come.
    ToCome(&'r Visit),
    /// One that is not planned any more, beside which something is typed.
    Past(&'r KeptVisit),
}

row! {
    /// A visit to a unit: on which day, how long it takes and what must be there. What is typed beside it stays.
    FittingDayRow<'r>: row {
        /// Its first working day of the job; null without a day.
        day: Option<usize> = row.planned().map(|planned| planned.day) => at_least(1), shown, strong;
        /// The date of that; null if not known.
        date: Option<Date> = row.date_of() => shown, strong;
        /// The phase; empty if blank.
        phase: &'r str = row.told(|who| &who.phase, |past| &past.phase) => shown;
        /// The building; empty if blank.
        building: &'r str = row.told(|who| &who.building, |past| &past.building) => shown;
        /// The floor of the unit's first opening; empty if blank.
        floor: &'r str = row.told(|who| &who.floor, |past| &past.floor) => shown;
        /// The unit; empty if blank.
        unit: &'r str = row.told(|who| &who.unit, |past| &past.unit) => shown, strong;
        /// The first visit of its phase, or one for what could not be fitted then.
        visit: Which = row.which() => shown;
        /// Openings of the visit: those that get a blind, and those that are held.
        openings: u64 = row.blinds() + row.held() => shown;
        /// Blinds to fit.
        blinds: u64 = row.to_come().map_or(0, |visit| visit.parts.iter().map(|part| part.blinds).sum()) => shown;
        /// Openings that wait for an answer.
        held: u64 = row.quantity_of_held() => shown;
        /// Minutes of work, of all fitters together; null if a rate is not known, or nothing can be fitted yet.
        minutes: Option<Quantity> = row.to_come().and_then(|visit| visit.minutes).map(Quantity) => shown;
        /// Of these, minutes of blinds that two people fit together.
        for_two: Option<Quantity> = row.to_come().and_then(|visit| visit.for_two).map(Quantity) => headed("Of these for two");
        /// Of these, minutes that are not charged: setting up once more, and the first unit's learning.
        not_charged: Option<Quantity> = row.to_come().and_then(|visit| visit.not_charged).map(Quantity) => headed("Of these not charged");
        /// People who are needed that day; null without a day.
        fitters: Option<u32> = row.planned().map(|planned| planned.fitters) => at_least(1), shown;
        /// Days that it takes; null without a day.
        days: Option<usize> = row.planned().map(|planned| planned.days) => at_least(1), shown;
        /// Boxes to bring.
        boxes: u64 = row.to_come().map_or(0, |visit| visit.load.boxes) => shown;
        /// The longest of them; null without.
        longest_mm: Option<Length> = row.to_come().and_then(|visit| visit.load.longest) => above_zero, headed("Longest box");
        /// The heaviest of them; null without.
        heaviest_kg: Option<Kilograms> = row.to_come().and_then(|visit| visit.load.heaviest).map(Kilograms) => above_zero, shown;
        /// Whether the longest fits the elevator; null without a box.
        fits_lift: Option<FitsLift> = row.longest_mm().map(|longest| fits(row.report, longest)) => headed("Fits the lift");
        /// The last day on which the boxes may come; null without a date.
        must_have_arrived: Option<Date> = row.must_have() => shown;
        /// When the last of them comes; null if all are on site, or that is not known.
        arrives: Option<Date> = row.to_come().and_then(|visit| visit.arrives) => shown;
        /// Whether the unit keeps this date; null if not typed.
        keep: Option<bool> = row.typed().and_then(|typed| typed.keep) => shown;
        /// When the residents were told; null if not typed.
        told_on: Option<Date> = row.typed().and_then(|typed| typed.told_on) => shown;
        /// When the visit was made; null if not typed.
        done: Option<Date> = row.typed().and_then(|typed| typed.done) => shown;
        /// Names of the openings that get a blind, once for each row of the survey.
        names: Vec<&'r str> = names(row.report, &row.openings_of());
        /// Names of those that are held.
        held_names: Vec<&'r str> = names(row.report, row.to_come().map_or(&[], |visit| &visit.held));
    }
}

impl<'r> FittingDayRow<'r> {
    /// Every visit, and below those what is typed beside others.
    pub fn all(report: &'r Report<'r>) -> impl Iterator<Item = FittingDayRow<'r>> + Clone {
        let to_come = report.days.visits.iter().map(Of::ToCome);
        let earlier = report.frozen.earlier;
        let past = report.days.past.iter().filter_map(move |&place| earlier?.visits.get(place)).map(Of::Past);
        to_come.chain(past).map(move |of| FittingDayRow { report, of })
    }

    fn to_come(self) -> Option<&'r Visit> {
        match self.of {
            Of::ToCome(visit) => Some(visit),
            Of::Past(_) => None,
        }
    }

    /// Whether it waits for an answer or a rate before it can have a day.
    pub fn waits(self) -> bool {
        self.to_come().is_some_and(|visit| visit.planned.is_none())
    }

    fn planned(self) -> Option<Planned> {
        self.to_come()?.planned
    }

    fn typed(self) -> Option<&'r KeptVisit> {
        match self.of {
            Of::ToCome(visit) => self.report.frozen.earlier?.visits.get(visit.kept?),
            Of::Past(past) => Some(past),
        }
    }

    fn told(self, now: fn(&Identity) -> &str, past: fn(&KeptVisit) -> &str) -> &'r str {
        match self.of {
            Of::ToCome(visit) => now(&self.report.survey.openings[visit.home].who),
            Of::Past(typed) => past(typed),
        }
    }

    fn date_of(self) -> Option<Date> {
        match self.of {
            Of::ToCome(_) => self.planned()?.date,
            Of::Past(past) => past.date,
        }
    }

    fn which(self) -> Which {
        match self.of {
            Of::ToCome(visit) => visit.which,
            Of::Past(past) => past.visit,
        }
    }

    fn must_have(self) -> Option<Date> {
        let date = self.planned()?.date.filter(|_| self.boxes() > 0)?;
        date.day_before()
    }

    fn quantity_of_held(self) -> u64 {
        let held = self.to_come().map_or(&[][..], |visit| &visit.held).iter();
        held.map(|&opening| u64::from(self.report.survey.openings[opening].who.quantity)).sum()
    }

    fn openings_of(self) -> Vec<OpeningIndex> {
        let parts = self.to_come().map_or(&[][..], |visit| &visit.parts);
        parts.iter().map(|part| part.opening).collect()
    }
}

fn fits(report: &Report<'_>, longest: Length) -> FitsLift {
    days::fits_lift(longest, &report.rules.project)
}

/// What goes up to one floor.
#[derive(Clone, Copy)]
pub struct LoadRow<'r> {
    report: &'r Report<'r>,
    load: FloorLoad<'r>,
}

row! {
    /// What goes up to one floor in one phase: blinds that do not hang yet, each in a box of its own.
    LoadRow<'r>: row {
        /// The phase; empty if blank.
        phase: &'r str = row.load.phase => shown;
        /// The building; empty if blank.
        building: &'r str = row.load.building => shown;
        /// The floor; empty if blank.
        floor: &'r str = row.load.floor => shown, strong;
        /// Boxes.
        boxes: u64 = row.load.load.boxes => at_least(1), shown, strong;
        /// The longest of them.
        longest_mm: Option<Length> = row.load.load.longest => above_zero, headed("Longest box");
        /// The heaviest of them.
        heaviest_kg: Option<Kilograms> = row.load.load.heaviest.map(Kilograms) => above_zero, shown;
        /// All of them together.
        weight_kg: Kilograms = Kilograms(row.load.load.weight) => above_zero, headed("All together");
        /// Whether the longest fits the elevator.
        fits_lift: Option<FitsLift> = row.load.load.longest.map(|longest| fits(row.report, longest)) => headed("Fits the lift");
    }
}

impl<'r> LoadRow<'r> {
    /// Every floor of every phase.
    pub fn all(report: &'r Report<'r>) -> Vec<LoadRow<'r>> {
        report.loads().into_iter().map(|load| LoadRow { report, load }).collect()
    }
}

/// What the residents of a unit are told.
#[derive(Clone, Copy)]
pub struct NoticeRow<'r> {
    report: &'r Report<'r>,
    notice: Notice<'r>,
}

row! {
    /// What the residents of a unit are told of a visit that has a date.
    NoticeRow<'r>: row {
        /// The building; empty if blank.
        building: &'r str = &row.who().building;
        /// The floor; empty if blank.
        floor: &'r str = &row.who().floor;
        /// The unit; empty if blank.
        unit: &'r str = &row.who().unit;
        /// The first date.
        date: Date = row.notice.date => headed("Day");
        /// Days that it takes.
        days: usize = row.notice.planned.days => at_least(1);
        /// About how long it takes; empty if that is not known.
        how_long: String = row.notice.how_long() => shown;
        /// The rooms; empty where none is named.
        rooms: Vec<&'r str> = row.report.rooms_of(row.notice.visit) => shown, wide(50), worded(|_, rooms| rooms.join(", "));
        /// Blinds to fit.
        blinds: u64 = row.notice.visit.parts.iter().map(|part| part.blinds).sum() => at_least(1), shown;
    }
}

impl<'r> NoticeRow<'r> {
    /// Every notice, by day.
    pub fn all(report: &'r Report<'r>) -> Vec<NoticeRow<'r>> {
        report.notices().into_iter().map(|notice| NoticeRow { report, notice }).collect()
    }

    fn who(self) -> &'r Identity {
        &self.report.survey.openings[self.notice.visit.home].who
    }
}
