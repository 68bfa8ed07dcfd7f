//! The working days of a phase: the days of the week on which people work, from its start on, without
//! its days off. Without a start nothing is known but how many they are; never today's date.

use crate::date::Date;
use crate::rules::WorkDays;

use super::pack::MOST_DAYS;

/// Dates of the working days of a phase, from 0; none of a phase without a start.
#[derive(Debug)]
pub(super) struct Calendar<'r> {
    next: Option<Date>,
    work_days: WorkDays,
    off: &'r [Date],
    dates: Vec<Date>,
}

impl<'r> Calendar<'r> {
    pub(super) fn new(starts: Option<Date>, work_days: WorkDays, off: &'r [Date]) -> Calendar<'r> {
        Calendar { next: starts, work_days, off, dates: Vec::new() }
    }

    /// The date of a day; `None` if the phase has no start, or past the end of the calendar.
    pub(super) fn date(&mut self, day: usize) -> Option<Date> {
        while self.dates.len() <= day && self.grow().is_some() {}
        self.dates.get(day).copied()
    }

    /// The first day on or after a date; `None` as of [`Calendar::date`].
    pub(super) fn first_from(&mut self, date: Date) -> Option<usize> {
        while self.dates.last().is_none_or(|last| *last < date) && self.dates.len() <= MOST_DAYS {
            self.grow()?;
        }
        Some(self.dates.partition_point(|day| *day < date))
    }

    /// Whether people work on a date; `None` as of [`Calendar::date`].
    pub(super) fn includes(&mut self, date: Date) -> Option<bool> {
        let first = self.first_from(date)?;
        Some(self.date(first)? == date)
    }

    fn grow(&mut self) -> Option<()> {
        loop {
            let date = self.next?;
            self.next = date.plus_days(1);
            if self.work_days.includes(date) && self.off.binary_search(&date).is_err() {
                self.dates.push(date);
                return Some(());
            }
        }
    }
}
