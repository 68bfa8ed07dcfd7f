//! The columns of `Fitting days`: who goes where on which day. What people type beside a visit, and the day
//! that they keep, is read back by a later run; everything else is printed anew.

use super::choices::choice;
use super::{Column, Form, Kind, LENGTH, YES_NO, columns};

choice! {
    /// Which of the visits to a unit it is.
    Visit {
        /// The first one of its phase.
        First = "first",
        /// One for what could not be fitted before.
        Return = "return" | "second",
    }
}

choice! {
    /// Whether the boxes fit the elevator.
    FitsLift {
        /// They do.
        Yes = "yes",
        /// The longest does not.
        No = "no",
        /// A size of the elevator is not known.
        Unknown = "unknown",
    }
}

columns! { FITTING_DAYS, "Fitting days", Form::Rows, "Every visit to a unit, and its day. What is typed beside it is kept from run to run with --after.";
    DAY "day" "Day" [] Kind::Whole { least: 1, most: 1_000_000 }, "no day yet", "Which working day of the job it is.";
    DATE "date" "Date" [] Kind::Date, "not known", "Its date.";
    PHASE "phase" "Phase" [] Kind::Text, "none", "The phase.";
    BUILDING "building" "Building" [] Kind::Text, "none", "The building.";
    FLOOR "floor" "Floor" [] Kind::Text, "none", "The floor.";
    UNIT "unit" "Unit" [] Kind::Text, "none", "The unit.";
    VISIT "visit" "Visit" [] Kind::Choice(Visit::WORDS), "first", "The first visit, or one for what could not be fitted then.";
    OPENINGS "openings" "Openings" [] Kind::Whole { least: 0, most: 1_000_000 }, "none", "Openings that get a blind.";
    BLINDS "blinds" "Blinds" [] Kind::Whole { least: 0, most: 1_000_000 }, "none", "Blinds to fit.";
    HELD "held" "Held" [] Kind::Whole { least: 0, most: 1_000_000 }, "none", "Openings that wait for an answer.";
    MINUTES "minutes" "Minutes" [] Kind::Number { most: 1_000_000_000 }, "not known", "Minutes of work.";
    FOR_TWO "for_two" "Of these for two" [] Kind::Number { most: 1_000_000_000 }, "none", "Minutes of blinds that two people fit together.";
    NOT_CHARGED "not_charged" "Of these not charged" [] Kind::Number { most: 1_000_000_000 }, "none", "Minutes that the cost does not have.";
    FITTERS "fitters" "Fitters" [] Kind::Whole { least: 1, most: 1_001 }, "no day yet", "People who are needed that day.";
    DAYS "days" "Days" [] Kind::Whole { least: 1, most: 1_000_000 }, "no day yet", "Days that the visit takes.";
    BOXES "boxes" "Boxes" [] Kind::Whole { least: 0, most: 1_000_000 }, "none", "Boxes to bring.";
    LONGEST "longest_mm" "Longest box" [] LENGTH, "none", "The longest of them.";
    HEAVIEST_KG "heaviest_kg" "Heaviest (kg)" [] Kind::Number { most: 1_000_000 }, "none, or in pounds", "The heaviest of them in kilograms.";
    HEAVIEST_LB "heaviest_lb" "Heaviest (lb)" [] Kind::Number { most: 1_000_000 }, "none, or in kilograms", "The heaviest of them in pounds.";
    FITS_LIFT "fits_lift" "Fits the lift" [] Kind::Choice(FitsLift::WORDS), "no box", "Whether the longest box fits the elevator.";
    MUST_HAVE_ARRIVED "must_have_arrived" "Must have arrived" [] Kind::Date, "not known", "The last day on which the boxes may come.";
    ARRIVES "arrives" "Arrives" [] Kind::Date, "not known, or on site", "When the last of them comes.";
    KEEP "keep" "Keep" [] YES_NO, "no", "Whether the unit keeps this date.";
    TOLD_ON "told_on" "Told on" [] Kind::Date, "not said", "When the residents were told.";
    DONE "done" "Done" [] Kind::Date, "not said", "When the visit was made.";
}

/// The columns that people type in, and those that say beside what: every fit-out with the sheet has them.
pub static NEEDED: [&Column; 8] = [&DATE, &PHASE, &BUILDING, &UNIT, &VISIT, &KEEP, &TOLD_ON, &DONE];

/// The columns that people type in.
pub static TYPED: [&Column; 3] = [&KEEP, &TOLD_ON, &DONE];
