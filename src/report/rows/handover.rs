//! `Handover`: what hangs at each opening of a unit, and the spare louvers that are left.

use crate::date::Date;
use crate::earlier::KeptBlind;
use crate::length::Length;
use crate::order::{LineKey, OrderLine, Seat};
use crate::report::figure::{Said, row};
use crate::report::{Hangs, Report, SpareLeft};
use crate::survey::{Control, Identity};

/// Blinds of one opening, and whether they hang.
#[derive(Clone, Copy)]
pub struct HandoverRow<'r> {
    report: &'r Report<'r>,
    hangs: Hangs<'r>,
}

row! {
    /// What hangs at an opening, or is to.
    HandoverRow<'r>: row {
        /// The opening's name.
        opening: &'r str = &row.who().name => shown, strong;
        /// The room; empty if blank.
        room: &'r str = &row.who().room => shown, unless_blank;
        /// How many blinds.
        blinds: u64 = row.seat().map_or(u64::from(row.who().quantity), |(_, seat)| seat.count()) => at_least(1), shown;
        /// The product; null if it is not settled.
        product: Option<&'r str> = row.key().map(|key| &*key.product) => shown;
        /// The color; null if it is not settled.
        color: Option<&'r str> = row.key().map(|key| &*key.color) => shown;
        /// Finished width; null if it is not settled.
        width_mm: Option<Length> = row.key().map(|key| key.size.width) => above_zero, shown, strong;
        /// Finished drop; null if it is not settled.
        drop_mm: Option<Length> = row.key().map(|key| key.size.drop) => above_zero, shown, strong;
        /// How it is operated; null if it is not settled.
        control: Option<Control> = row.key().map(|key| key.control) => shown;
        /// Line and blind, by which the same is ordered again; null if it is in no order.
        order_as: Option<String> = row.seat().map(|(line, seat)| numbers(line, seat)) => headed("Line and blind");
        /// When it was fitted; null if it does not hang, or nobody says.
        fitted_on: Option<Date> = row.kept().filter(|_| row.hangs.is_fitted()).and_then(|kept| kept.typed.fitted_on)
            => shown, worded(|row, date| match date {
                None if row.hangs.is_fitted() => Said::from("fitted, no date"),
                None => Said::from("not fitted yet"),
                date => Said::of(date),
            });
    }
}

impl<'r> HandoverRow<'r> {
    /// A row of some blinds.
    pub fn of(report: &'r Report<'r>, hangs: Hangs<'r>) -> HandoverRow<'r> {
        HandoverRow { report, hangs }
    }

    /// Whether it hangs.
    pub fn is_fitted(self) -> bool {
        self.hangs.is_fitted()
    }

    fn who(self) -> &'r Identity {
        &self.report.survey.openings[self.hangs.opening].who
    }

    fn seat(self) -> Option<(&'r OrderLine, &'r Seat)> {
        self.hangs.seat
    }

    fn key(self) -> Option<&'r LineKey> {
        self.hangs.seat.map(|(line, _)| &line.key)
    }

    fn kept(self) -> Option<&'r KeptBlind> {
        let kept = self.hangs.seat?.1.kept?;
        self.report.frozen.blinds().get(kept)
    }
}

/// `7, 2 of 3` or `7, 2 to 3 of 3`.
fn numbers(line: &OrderLine, seat: &Seat) -> String {
    match seat.first == seat.last {
        true => format!("{}, {} of {}", line.line, seat.first, line.of),
        false => format!("{}, {} to {} of {}", line.line, seat.first, seat.last, line.of),
    }
}

/// Spare louvers of one color and size.
#[derive(Clone, Copy)]
pub struct SpareLeftRow<'r>(SpareLeft<'r>);

row! {
    /// Spare louvers of the project that are left.
    SpareLeftRow<'r>: row {
        /// Their color; empty for a material without.
        color: &'r str = row.0.color => shown, strong;
        /// Width of each.
        louver_width_mm: Length = row.0.width => above_zero, shown;
        /// Finished length of each.
        louver_length_mm: Length = row.0.length => above_zero, shown;
        /// How many are left; null if nobody counted them.
        left: Option<u64> = row.0.left => shown, strong, worded(|_, left| match left {
            None => Said::from("not counted"),
            left => Said::of(left),
        });
    }
}

impl<'r> SpareLeftRow<'r> {
    /// All that were ordered for the project.
    pub fn all(report: &'r Report<'r>) -> Vec<SpareLeftRow<'r>> {
        report.spares_left().into_iter().map(SpareLeftRow).collect()
    }
}
