//! The days of the week on which people work, as `Project` says them: `Mon-Fri`, `Mon, Tue, Thu`.
//!
//! A range may go over the end of the week (`Sun-Thu`), and ranges and days may stand together
//! (`Mon-Wed, Sat`). Days are told by their English names, whole or by three letters or more.

use crate::date::{Date, Weekday};

/// Days of the week on which people work: one at least.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct WorkDays([bool; 7]);

impl WorkDays {
    /// Monday to Friday.
    pub const MON_TO_FRI: WorkDays = WorkDays([true, true, true, true, true, false, false]);

    /// Reads `Mon-Fri`, `Monday to Saturday`, `Mon, Tue, Thu`; `None` if a part of it is no day.
    pub fn from_text(text: &str) -> Option<WorkDays> {
        let text = text.to_lowercase().replace(['–', '—'], "-").replace(" to ", "-").replace(" and ", ",");
        let mut days = [false; 7];
        for part in text.split([',', ';', '+']).map(str::trim).filter(|part| !part.is_empty()) {
            let (first, last) = part.split_once('-').unwrap_or((part, part));
            let (first, last) = (named(first)?, named(last)?);
            let length = (last + 7 - first) % 7;
            (0..=length).for_each(|day| days[(first + day) % 7] = true);
        }
        days.contains(&true).then_some(WorkDays(days))
    }

    /// Whether people work on that day of the week.
    pub fn has(self, day: Weekday) -> bool {
        self.0[day as usize]
    }

    /// Whether that day is one of them; days off are not known here.
    pub fn includes(self, date: Date) -> bool {
        self.has(date.weekday())
    }
}

/// Which day of the week a name is, from Monday as 0.
fn named(name: &str) -> Option<usize> {
    const SHORT: usize = 3;
    let name = name.trim().trim_end_matches('.');
    let is_it = |day: &Weekday| name.len() >= SHORT && day.name().to_lowercase().starts_with(name);
    // `Tues` and `Thurs` begin their days; `Mondays` does not.
    Weekday::ALL.iter().position(is_it)
}

#[cfg(test)]
mod tests {
    use super::WorkDays;
    use crate::date::{Date, Weekday};

    fn read(text: &str) -> Option<String> {
        let days = WorkDays::from_text(text)?;
        Some(Weekday::ALL.iter().map(|day| if days.has(*day) { 'x' } else { '.' }).collect())
    }

    #[test]
    fn days_are_read_one_by_one_and_as_ranges() {
        let cases = [
            ("Mon-Fri", "xxxxx.."),
            ("mon – sat", "xxxxxx."),
            ("Monday to Saturday", "xxxxxx."),
            ("Mon, Tue, Thu", "xx.x..."),
            ("Tues and Thurs.", ".x.x..."),
            ("Sun-Thu", "xxxx..x"),
            ("Mon-Wed; Sat", "xxx..x."),
            ("Fri", "....x.."),
            ("Mon-Sun", "xxxxxxx"),
        ];
        for (text, days) in cases {
            assert_eq!(read(text).as_deref(), Some(days), "{text}");
        }
        assert_eq!(WorkDays::from_text("Mon-Fri"), Some(WorkDays::MON_TO_FRI));
    }

    #[test]
    fn what_is_no_day_is_not_guessed() {
        for text in ["", "T", "Mo", "Mon-", "weekdays", "Mon/Tue", "Mon-Fri-Sat", "5", "Mondays", ","] {
            assert_eq!(read(text), None, "{text}");
        }
    }

    #[test]
    fn a_date_has_its_day() {
        // 2026-03-06 was a Friday.
        let friday = Date::from_iso("2026-03-06").expect("a day");
        assert!(WorkDays::MON_TO_FRI.includes(friday));
        assert!(friday.plus_days(1).is_some_and(|saturday| !WorkDays::MON_TO_FRI.includes(saturday)));
        assert!(friday.plus_days(3).is_some_and(|monday| WorkDays::MON_TO_FRI.includes(monday)));
    }
}
