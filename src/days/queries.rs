//! What is asked about the days of the job.

use crate::query::{Entry, queries};

/// Every query of this room.
pub(crate) const QUERIES: &[&[Entry]] = &[DaysQuery::ENTRIES];

queries! {
    /// A doubt about the days of the job.
    pub(super) enum DaysQuery {
        KeepWithoutDate: Check, "keep-without-date",
            "a visit is kept on Fitting days, but has no date, so it is planned like the others"
            => "enter the date beside it, or clear Keep";
        KeptDayOverHours: Check, "kept-day-over-hours",
            "the visits that are kept on a day take longer than the day has hours"
            => "clear Keep on one of them, or enter more Fitters for the phase";
        KeptDayOff: Check, "kept-day-off",
            "a visit is kept on a day before its phase starts, or on which nobody works"
            => "tell the residents of another day and clear Keep, or correct Starts, Days off or Work days";
        DoneNotFitted: Check, "done-not-fitted",
            "Done is filled in on Fitting days, but blinds of the visit are not fitted on Blinds"
            => "enter fitted under State on Blinds for every blind that hangs";
        KeptVisitGone: Check, "kept-visit-gone",
            "a kept visit is not planned any more: its unit is fitted, gone or in another phase, or its blinds late"
            => "tell the residents if they were told of that day, and clear Keep";
        TooManyDays: Check, "fitting-days-too-many",
            "the phase would take more than 36,525 working days, so some of its visits have no day"
            => "check Fitters and Hours a day on Phases, and the minutes on Rates";
    }
}
