//! `Phases`: each phase against its budget and its dates, what is the whole project's, and both together.

use super::cost::amount;
use crate::cost::WHOLE_PROJECT;
use crate::date::Date;
use crate::phases::{Bears, PhaseSum, shown};
use crate::report::Report;
use crate::report::figure::{Money, row};
use crate::rules::Terms;

/// One phase, the whole project, or all together.
#[derive(Clone, Copy)]
pub struct PhaseRow<'r> {
    report: &'r Report<'r>,
    of: Of<'r>,
}

#[derive(Clone, Copy)]
enum Of<'r> {
    Phase(&'r PhaseSum),
    /// What no phase takes.
    WholeProject,
    Together,
}

row! {
    /// One phase, or what no phase takes.
    PhaseRow<'r>: row {
        /// As it is shown; `whole project` for what no phase takes.
        name: &'r str = row.name_of() => headed("Phase"), strong;
        /// The phase as the openings first write it, empty for those without; null for the whole project.
        phase: Option<&'r str> = row.sum().map(|sum| &*sum.name);
        /// Number of its order; empty if blank, or for the whole project.
        order_number: &'r str = row.terms().map_or("", |terms| terms.order_number) => shown, unless_blank;
        /// Address that its boxes go to; likewise.
        deliver_to: &'r str = row.terms().map_or("", |terms| terms.deliver_to) => shown, unless_blank;
        /// Its openings; null for the whole project.
        openings: Option<u64> = row.count(|sum| sum.openings) => shown;
        /// Its blinds; null for the whole project.
        blinds: Option<u64> = row.count(|sum| sum.blinds) => shown;
        /// Its openings that are held; null for the whole project.
        held: Option<u64> = row.count(|sum| sum.held) => shown;
        /// Its openings that are not held and need something without a price; null for the whole project.
        unpriced: Option<u64> = row.count(|sum| sum.unpriced) => headed("Without a price");
        /// Whether what it bears is known in full; of the whole project, whether the total is.
        known_in_full: bool = row.is_known() => headed("Amounts are"), worded(|_, known| if known { "in full" } else { "KNOWN SO FAR" });
        /// Direct cost.
        direct: Money = amount(row.bears().share.direct, row.report) => headed("Direct cost");
        /// Its overhead, profit and contingency.
        overheads: Money = amount(row.bears().share.overheads, row.report) => headed("Overhead, profit, contingency");
        /// Its tax.
        tax: Money = amount(row.bears().share.tax, row.report) => shown;
        /// All of these.
        whole: Money = amount(row.bears().share.whole(), row.report) => headed("Whole share"), strong;
        /// What of it is ordered, at the price at which it was.
        committed: Money = amount(row.bears().committed, row.report) => shown;
        /// What of it is neither ordered nor made again.
        open: Money = amount(row.bears().open(), row.report) => shown;
        /// What of it is made again at our cost.
        remade: Money = amount(row.bears().remade, row.report) => shown;
        /// What it may cost; null if nobody says.
        budget: Option<Money> = row.sum().and_then(|sum| sum.budget).map(|budget| amount(budget, row.report)) => shown;
        /// By how much what it bears is over the budget; below zero if it is under it. Null without a budget.
        over_budget: Option<Money> = row.sum().and_then(PhaseSum::over_budget).map(|over| amount(over, row.report));
        /// The same in words; empty without a budget.
        budget_in_words: String = row.budget_words() => headed("Against the budget"), unless_blank, strong;
        /// Date from which its lead days are counted; null if not known, or for the whole project.
        order_date: Option<Date> = row.terms().and_then(|terms| terms.order_date) => shown;
        /// Most lead days of a blind that is still to come; null if none is known, or none is to come.
        lead_days: Option<u32> = row.sum().and_then(|sum| sum.lead_days) => headed("Lead days at most");
        /// When the last of them is on site; null if that is not known, or none is to come.
        arrives: Option<Date> = row.sum().and_then(|sum| sum.arrives) => shown;
        /// Date on which its blinds must be on site; null if nobody says, or for the whole project.
        need_by: Option<Date> = row.terms().and_then(|terms| terms.need_by) => shown;
        /// Days that the last blind comes after that; 0 if in time. Null if either is not known.
        days_late: Option<u32> = row.late();
        /// The same in words; empty where nobody says when they are needed.
        arrival_in_words: String = row.arrival_words() => headed("Against the need"), unless_blank, strong;
    }
}

impl<'r> PhaseRow<'r> {
    /// Every phase in survey order, then the whole project; none where the job has no phases.
    pub fn all(report: &'r Report<'r>) -> impl Iterator<Item = PhaseRow<'r>> {
        let sums = &report.phases.sums;
        let rest = (!sums.is_empty()).then_some(Of::WholeProject);
        sums.iter().map(Of::Phase).chain(rest).map(move |of| PhaseRow { report, of })
    }

    /// All of these together.
    pub fn together(report: &'r Report<'r>) -> PhaseRow<'r> {
        PhaseRow { report, of: Of::Together }
    }

    fn sum(self) -> Option<&'r PhaseSum> {
        if let Of::Phase(sum) = self.of { Some(sum) } else { None }
    }

    fn terms(self) -> Option<Terms<'r>> {
        self.sum().map(|sum| self.report.rules.terms_of(&sum.name))
    }

    fn name_of(self) -> &'r str {
        match self.of {
            Of::Phase(sum) => shown(&sum.name),
            Of::WholeProject => WHOLE_PROJECT,
            Of::Together => "all together",
        }
    }

    fn count(self, of: fn(&PhaseSum) -> u64) -> Option<u64> {
        match self.of {
            Of::Phase(sum) => Some(of(sum)),
            Of::WholeProject => None,
            Of::Together => Some(self.report.phases.sums.iter().map(of).sum()),
        }
    }

    fn bears(self) -> Bears {
        let phases = &self.report.phases;
        match self.of {
            Of::Phase(sum) => sum.bears,
            Of::WholeProject => phases.rest,
            Of::Together => phases.sums.iter().fold(phases.rest, |all, sum| all.plus(sum.bears)),
        }
    }

    fn is_known(self) -> bool {
        self.sum().map_or(self.report.cost.is_known_in_full(), PhaseSum::is_whole)
    }

    /// `over budget by 312.40 USD`.
    fn budget_words(self) -> String {
        let Some((sum, over)) = self.sum().and_then(|sum| Some((sum, sum.over_budget()?))) else {
            return String::new();
        };
        let money = self.report.rules.project.currency.in_words(over.abs());
        match (over.is_zero(), over.is_sign_negative(), sum.is_whole()) {
            (true, _, true) => "on budget".into(),
            (false, true, true) => format!("under budget by {money}"),
            (false, false, true) => format!("over budget by {money}"),
            (false, false, false) => format!("over budget by {money}, KNOWN SO FAR"),
            (_, _, false) => format!("{money} left for {}", left_out(sum)),
        }
    }

    fn late(self) -> Option<u32> {
        let (arrives, need_by) = (self.arrives()?, self.need_by()?);
        Some(u32::try_from(arrives.days_since(need_by)).unwrap_or(0))
    }

    fn arrival_words(self) -> String {
        let Some((sum, _)) = self.sum().zip(self.need_by()) else { return String::new() };
        let held = match sum.held {
            0 => String::new(),
            held => format!(", {held} held"),
        };
        match self.late() {
            _ if sum.to_come == 0 && sum.blinds == 0 => "no blinds".into(),
            _ if sum.to_come == 0 => format!("all have come{held}"),
            None => format!("not known{held}"),
            Some(0) => format!("in time{held}"),
            Some(1) => format!("1 day late{held}"),
            Some(days) => format!("{days} days late{held}"),
        }
    }
}

/// `2 held, 1 without a price`: what the known part of the cost leaves out.
fn left_out(sum: &PhaseSum) -> String {
    let parts = [(sum.held, "held"), (sum.unpriced, "without a price")];
    let parts = parts.into_iter().filter(|(count, _)| *count > 0);
    parts.map(|(count, what)| format!("{count} {what}")).collect::<Vec<_>>().join(", ")
}
