//! The sheet `Phases`: when each phase is ordered, wanted and fitted, by how many, and what it may cost.
//!
//! What stands here wins over `Project` for the openings of the phase; a blank takes the item of
//! `Project`. A row without a name, if it says anything else, is the one of the openings that name no
//! phase, as `--phase ""` is. Of several surveys each may bring the rows of its own phases; a row that
//! two of them have must be the same in both. A date or a number that decides something and cannot be
//! read stops the run; a budget or a start that cannot be read is unknown.
//!
//! A fit-out's sheet of the same name is printed and never read back. It is not read as this one by
//! mistake either: a fit-out is no survey, and of an earlier one only its own memory is read. Rows that
//! someone copies from it into a survey are read as if they had been typed, under the headings that both have.

use rust_decimal::Decimal;

use super::{FITTERS, HOURS};
use crate::date::Date;
use crate::place::CellRef;
use crate::schema::{Form, Kind};

sheet! { PHASES, "Phases", Form::Rows, "One row for each phase. What is filled in here is used for that phase instead of Project.";
    /// What is said of one phase.
    pub struct Phase, read(row, name: String, hours_a_day: Decimal) {
        phase, "Phase" ["Batch", "Stage", "Delivery phase"] Kind::Text, "openings without a phase", "The phase, as in Openings.";
        order_number: String, "Order number" ["Purchase order", "PO number"] Kind::Text, "Order number on Project", "Number of the order that goes to the maker for this phase.", unknown;
        deliver_to: String, "Deliver to" ["Delivery address"] Kind::Text, "Deliver to on Project", "Address that the boxes of this phase go to.", unknown;
        order_date: Option<Date>, "Order date" [] Kind::Date, "Order date on Project", "Date from which lead days are counted.";
        need_by: Option<Date>, "Need by" [] Kind::Date, "Need by on Project", "Date the blinds of this phase must be on site.";
        starts: Option<Date>, "Starts" ["Start", "Start date", "Fitting starts"] Kind::Date, "unknown", "First day on which fitters may work on this phase.", unknown;
        fitters, "Fitters" ["Installers"] FITTERS, "1", "How many people fit this phase.";
        hours_a_day, "Hours a day" ["Hours per day"] HOURS, "8", "Hours that each of them works a day.";
        days_off, "Days off" ["Holidays", "Closed on"] Kind::Dates, "none", "Days on which nobody works, separated by commas, each as year, month and day: 2026-12-24, 2026-12-25.";
        budget: Option<Decimal>, "Budget" [] Kind::Money, "none", "What the phase may cost, tax and its share of overhead, profit and contingency included.", unknown;
    }
    and {
        /// Its name, as the survey writes it here; empty for the openings without a phase.
        name: String = name;
        /// How many people fit it, at least 1.
        fitters: u32 = row.value(&COLUMNS.fitters).unwrap_or(1);
        /// Hours that each of them works a day: above 0, at most 24.
        hours_a_day: Decimal = hours_a_day;
        /// Days on which nobody works, in order, each once.
        days_off: Vec<Date> = row.value(&COLUMNS.days_off).unwrap_or_default();
        /// Its first cell.
        at: Option<CellRef> = row.at;
    }
}
