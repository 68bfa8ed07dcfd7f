//! Calendar dates, without a clock.
//!
//! A date in a size's cell offers what was likely typed: the day's number, a fraction, or feet and
//! inches.

use std::fmt;

/// A day of the proleptic Gregorian calendar, from 0000-01-01 to 9999-12-31.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Date {
    /// Days since 1970-01-01; may be negative.
    days: i32,
}

/// A day of the week.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs, reason = "their names say all")]
pub enum Weekday {
    Monday,
    Tuesday,
    Wednesday,
    Thursday,
    Friday,
    Saturday,
    Sunday,
}

impl Weekday {
    /// All of them, from Monday (ISO 8601).
    pub const ALL: [Weekday; 7] = [
        Weekday::Monday,
        Weekday::Tuesday,
        Weekday::Wednesday,
        Weekday::Thursday,
        Weekday::Friday,
        Weekday::Saturday,
        Weekday::Sunday,
    ];

    /// Its English name.
    pub const fn name(self) -> &'static str {
        match self {
            Weekday::Monday => "Monday",
            Weekday::Tuesday => "Tuesday",
            Weekday::Wednesday => "Wednesday",
            Weekday::Thursday => "Thursday",
            Weekday::Friday => "Friday",
            Weekday::Saturday => "Saturday",
            Weekday::Sunday => "Sunday",
        }
    }
}

/// 0000-01-01 and 9999-12-31, in days since 1970-01-01.
const FIRST_DAY: i32 = -719_528;
const LAST_DAY: i32 = 2_932_896;

impl Date {
    /// Reads `2026-03-04`, with or without a time of day after a `T` or a space; `None` if that is no day.
    pub fn from_iso(text: &str) -> Option<Date> {
        let text = text.trim();
        let (day, rest) = text.split_at_checked(10)?;
        // `2026-03-04 or later` is no day.
        if !rest.is_empty() && !rest.strip_prefix(['T', ' ']).is_some_and(is_time) {
            return None;
        }
        let mut parts = day.split('-');
        let (year, month, day) = (parts.next()?, parts.next()?, parts.next()?);
        let digits = [year, month, day].iter().all(|part| part.bytes().all(|byte| byte.is_ascii_digit()));
        if !digits || parts.next().is_some() || (year.len(), month.len(), day.len()) != (4, 2, 2) {
            return None;
        }
        Date::from_ymd(year.parse().ok()?, month.parse().ok()?, day.parse().ok()?)
    }

    /// The day of that year, month (1 to 12) and day of the month; `None` if there is no such day.
    pub fn from_ymd(year: u16, month: u8, day: u8) -> Option<Date> {
        let date = Date { days: days_from_civil(i32::from(year), i32::from(month), i32::from(day)) };
        (year <= 9999 && date.ymd() == (i32::from(year), i32::from(month), i32::from(day))).then_some(date)
    }

    /// So many calendar days later; `None` past 9999-12-31.
    pub fn plus_days(self, days: u32) -> Option<Date> {
        let days = self.days.checked_add(i32::try_from(days).ok()?)?;
        (FIRST_DAY..=LAST_DAY).contains(&days).then_some(Date { days })
    }

    /// The calendar day before; `None` before 0000-01-01.
    pub fn day_before(self) -> Option<Date> {
        (self.days > FIRST_DAY).then_some(Date { days: self.days - 1 })
    }

    /// Calendar days from `earlier` to this day; negative if this day is the earlier one.
    pub const fn days_since(self, earlier: Date) -> i32 {
        self.days - earlier.days
    }

    /// The number that a spreadsheet stores for this day where it counts from 1900, as if that had
    /// been a leap year (ECMA-376 part 1, 18.17.4.1; from memory).
    pub const fn serial(self) -> i32 {
        const TURN_OF_1900: i32 = -25_569;
        const FIRST_OF_MARCH_1900: i32 = 61;
        let days = self.days - TURN_OF_1900;
        if days < FIRST_OF_MARCH_1900 { days - 1 } else { days }
    }

    /// The day of the week.
    pub fn weekday(self) -> Weekday {
        // 1970-01-01 was a Thursday.
        const THURSDAY: i32 = Weekday::Thursday as i32;
        let day = (self.days + THURSDAY).rem_euclid(7);
        usize::try_from(day).ok().and_then(|day| Weekday::ALL.get(day)).copied().unwrap_or(Weekday::Monday)
    }

    /// Year, month and day of the month.
    pub fn ymd(self) -> (i32, i32, i32) {
        civil_from_days(self.days)
    }
}

/// ISO 8601: `2026-03-04`.
impl fmt::Display for Date {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (year, month, day) = self.ymd();
        write!(f, "{year:04}-{month:02}-{day:02}")
    }
}

/// Days in 400 years, after which the calendar repeats.
const DAYS_PER_ERA: i32 = 146_097;

/// Days since 1970-01-01. Years are counted from March, so that a leap day is a year's last.
/// Whether a text is a time of day, as `16:30`, `16:30:00.000` or `16:30:00+02:00` (ISO 8601).
fn is_time(text: &str) -> bool {
    let digit = |at: usize| text.as_bytes().get(at).is_some_and(u8::is_ascii_digit);
    let begins = digit(0) && digit(1) && text.as_bytes().get(2) == Some(&b':') && digit(3) && digit(4);
    begins && text.chars().all(|char| char.is_ascii_digit() || ":.Z+-".contains(char))
}

fn days_from_civil(year: i32, month: i32, day: i32) -> i32 {
    let year = if month <= 2 { year - 1 } else { year };
    let (era, year_of_era) = (year.div_euclid(400), year.rem_euclid(400));
    let month_from_march = (month + 9).rem_euclid(12);
    let day_of_year = (153 * month_from_march + 2) / 5 + day - 1;
    let day_of_era = year_of_era * 365 + year_of_era / 4 - year_of_era / 100 + day_of_year;
    era * DAYS_PER_ERA + day_of_era + FIRST_DAY + 60
}

/// Year, month and day of a count of days since 1970-01-01.
fn civil_from_days(days: i32) -> (i32, i32, i32) {
    let from_march_of_0 = days - FIRST_DAY - 60;
    let (era, day_of_era) =
        (from_march_of_0.div_euclid(DAYS_PER_ERA), from_march_of_0.rem_euclid(DAYS_PER_ERA));
    let year_of_era = (day_of_era - day_of_era / 1_460 + day_of_era / 36_524 - day_of_era / 146_096) / 365;
    let day_of_year = day_of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
    let month_from_march = (5 * day_of_year + 2) / 153;
    let day = day_of_year - (153 * month_from_march + 2) / 5 + 1;
    let month = if month_from_march < 10 { month_from_march + 3 } else { month_from_march - 9 };
    let year = era * 400 + year_of_era + i32::from(month <= 2);
    (year, month, day)
}

#[cfg(test)]
mod tests {
    use super::{Date, FIRST_DAY, LAST_DAY, Weekday};

    #[test]
    fn days_of_the_week_follow_each_other() {
        let day = |text| Date::from_iso(text).map(Date::weekday);
        assert_eq!(day("1970-01-01"), Some(Weekday::Thursday));
        assert_eq!(day("2000-02-29"), Some(Weekday::Tuesday));
        assert_eq!(day("1969-12-28"), Some(Weekday::Sunday));
        assert_eq!(day("0000-01-01"), Some(Weekday::Saturday));
        assert_eq!(day("9999-12-31"), Some(Weekday::Friday));
    }

    #[test]
    fn every_day_reads_back() {
        // After 400 years the calendar repeats.
        for days in (-30_000..150_000).chain([FIRST_DAY, LAST_DAY]) {
            let date = Date { days };
            assert_eq!(Date::from_iso(&date.to_string()), Some(date));
        }
        let days =
            [(FIRST_DAY, "0000-01-01"), (-1, "1969-12-31"), (0, "1970-01-01"), (LAST_DAY, "9999-12-31")];
        for (days, written) in days {
            assert_eq!(Date { days }.to_string(), written);
        }
        assert_eq!(Date { days: LAST_DAY }.plus_days(1), None);
    }

    #[test]
    fn days_that_are_none_are_refused() {
        for text in [
            "2026-02-29",
            "2026-13-01",
            "2026-00-10",
            "2026-04-31",
            "03/04/2026",
            "2026-3-4",
            "+026-01-01",
            "2026-01-01x",
            "",
        ] {
            assert_eq!(Date::from_iso(text), None, "{text}");
        }
        // 2028 is a leap year: 27 February and three days is 1 March.
        let february = Date::from_iso("2028-02-27T10:30:00");
        assert_eq!(
            february.and_then(|date| date.plus_days(3)).map(|date| date.to_string()),
            Some("2028-03-01".into())
        );
    }
}
