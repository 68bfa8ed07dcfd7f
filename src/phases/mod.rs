//! What each phase of the job comes to: its openings, what it bears of the cost against its budget, and
//! when the last of its blinds arrives.
//!
//! A phase bears what [`Breakdown`] gives it: direct cost, and its share of overhead, profit, contingency
//! and tax. What no opening takes (delivery, waste, spares) stays the whole project's, so the phases and
//! the whole project add up to the cost. A budget is compared with what the phase bears. What is held or
//! has no price is not in that: a phase that is over its budget already is over it for certain, one that is
//! not may yet be.
//!
//! Names that differ in case or spaces alone are one phase here, as `--phase` and the sheet `Phases` take
//! them. Blinds that have come, or hang, arrive no more. A survey without phases, or without a sheet
//! `Phases`, is asked nothing; a phase without a row on that sheet is told only where there are other rows.

mod queries;

pub(crate) use queries::QUERIES;

use std::collections::{HashMap, HashSet};

use rust_decimal::Decimal;

use crate::cost::{Commitment, Cost, Job, Place, Share};
use crate::date::Date;
use crate::name::{compared, nearest};
use crate::query::{Checked, Query};
use crate::rules::Rules;
use crate::schema::blinds::BlindState;
use queries::PhaseQuery;

/// What a part of the job bears of the known cost.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Bears {
    /// All of it, part by part.
    pub share: Share,
    /// What of it is ordered, at the price at which it was.
    pub committed: Decimal,
    /// What of it is made again at our cost.
    pub remade: Decimal,
}

impl Bears {
    /// What of it is neither ordered nor made again.
    pub fn open(self) -> Decimal {
        self.share.whole() - self.committed - self.remade
    }

    /// This and another.
    pub fn plus(self, other: Bears) -> Bears {
        Bears {
            share: self.share.plus(other.share),
            committed: self.committed + other.committed,
            remade: self.remade + other.remade,
        }
    }
}

/// One phase.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PhaseSum {
    /// Its name, as the openings first write it; empty for those without.
    pub name: String,
    /// Its openings.
    pub openings: u64,
    /// Those that are held.
    pub held: u64,
    /// Those that are not held, and need something without a price.
    pub unpriced: u64,
    /// Its blinds.
    pub blinds: u64,
    /// Blinds that are still to come.
    pub to_come: u64,
    /// What it bears of the cost.
    pub bears: Bears,
    /// Most days that any blind to come takes; `None` if that of one is not known, or none is to come.
    pub lead_days: Option<u32>,
    /// When the last of them is on site; `None` likewise, or without an order date.
    pub arrives: Option<Date>,
    /// What it may cost; `None` if nobody says.
    pub budget: Option<Decimal>,
}

impl PhaseSum {
    /// Whether what it bears is all that it will bear.
    pub const fn is_whole(&self) -> bool {
        self.held == 0 && self.unpriced == 0
    }

    /// By how much it is over its budget; below zero if it is under it.
    pub fn over_budget(&self) -> Option<Decimal> {
        Some(self.bears.share.whole() - self.budget?)
    }
}

/// Every phase, and what none of them takes.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Phases {
    /// The phases in survey order; none where no opening names one and the survey has no sheet of them.
    pub sums: Vec<PhaseSum>,
    /// What is the whole project's: the cost less what the phases bear.
    pub rest: Bears,
}

/// Adds up every phase, and asks about budgets that are passed and rows that belong to nothing.
pub fn add_up(job: Job<'_>, cost: &Cost) -> Checked<Phases> {
    let Job { survey, rules, .. } = job;
    if rules.phases.is_empty() && survey.openings.iter().all(|opening| opening.who.phase.is_empty()) {
        return Checked { value: Phases::default(), queries: Vec::new() };
    }
    let breakdown = cost.breakdowns.iter().find(|breakdown| breakdown.by == "Phase");
    // Looked up only. A place is taken once, for a phase may be called as those without one are shown.
    let places = breakdown.into_iter().flat_map(|breakdown| &breakdown.rows);
    let mut places: HashMap<&str, &Place> = places.map(|place| (&*place.name, place)).collect();
    let mut sums: Vec<PhaseSum> = Vec::new();
    let (mut by_name, mut by_spelling) = (HashMap::new(), HashMap::new());
    let (to_come, lacking) = (to_come(job), lacking(job, cost));
    let mut unknown = Vec::new();
    for (index, opening) in survey.openings.iter().enumerate() {
        let phase = &*opening.who.phase;
        let place = *by_spelling.entry(phase).or_insert_with(|| {
            let place = *by_name.entry(compared(phase)).or_insert_with(|| {
                let budget = rules.phase(phase).and_then(|said| said.budget);
                sums.push(PhaseSum { name: phase.to_owned(), budget, ..PhaseSum::default() });
                unknown.push([false; 2]);
                sums.len() - 1
            });
            let shown = if phase.is_empty() { NO_PHASE } else { phase };
            if let Some(bears) = places.remove(shown) {
                let &Place { share, committed, remade, .. } = bears;
                sums[place].bears = sums[place].bears.plus(Bears { share, committed, remade });
            }
            place
        });
        let (sum, quantity) = (&mut sums[place], u64::from(opening.who.quantity));
        sum.openings += quantity;
        let Some(blind) = job.blinds.get(index).and_then(Option::as_ref) else {
            sum.held += quantity;
            continue;
        };
        sum.blinds += quantity;
        sum.unpriced += if lacking[index] { quantity } else { 0 };
        if to_come[index] > 0 {
            sum.to_come += to_come[index];
            let sourced = &blind.sourced;
            unknown[place][0] |= sourced.lead_days.is_none();
            unknown[place][1] |= sourced.arrives.is_none();
            sum.lead_days = sum.lead_days.max(sourced.lead_days);
            sum.arrives = sum.arrives.max(sourced.arrives);
        }
    }
    for (sum, [no_days, no_arrival]) in sums.iter_mut().zip(unknown) {
        sum.lead_days = sum.lead_days.filter(|_| !no_days);
        sum.arrives = sum.arrives.filter(|_| !no_arrival);
    }
    let rest = rest(&sums, cost);
    let queries = ask(&sums, job);
    Checked { value: Phases { sums, rest }, queries }
}

/// How openings without a phase are shown.
pub const NO_PHASE: &str = "No phase";

/// How many blinds of each opening are still to come.
fn to_come(job: Job<'_>) -> Vec<u64> {
    let mut counts = vec![0; job.survey.openings.len()];
    for seat in job.order.lines.iter().flat_map(|line| &line.seats) {
        let comes = matches!(seat.state, None | Some(BlindState::Ordered | BlindState::Made));
        if let Some(count) = seat.opening.filter(|_| comes).and_then(|opening| counts.get_mut(opening)) {
            *count += seat.count();
        }
    }
    counts
}

/// Which openings need something that the total does not hold.
fn lacking(job: Job<'_>, cost: &Cost) -> Vec<bool> {
    let mut lacking = vec![false; job.survey.openings.len()];
    for &opening in cost.not_in_total.iter().flat_map(|left_out| &left_out.openings) {
        if let Some(place) = lacking.get_mut(opening) {
            *place = true;
        }
    }
    lacking
}

/// What the phases leave of the cost.
fn rest(sums: &[PhaseSum], cost: &Cost) -> Bears {
    let breakdown = cost.breakdowns.iter().find(|breakdown| breakdown.by == "Phase");
    let settled = |wanted, of: fn(&Bears) -> Decimal| -> Decimal {
        let lines = cost.lines.iter().filter(|line| line.commitment == wanted);
        let all: Decimal = lines.filter_map(|line| line.amount).sum();
        all - sums.iter().map(|sum| of(&sum.bears)).sum::<Decimal>()
    };
    Bears {
        share: breakdown.map_or_else(Share::default, |breakdown| breakdown.rest),
        committed: settled(Commitment::Committed, |bears| bears.committed),
        remade: settled(Commitment::Remade, |bears| bears.remade),
    }
}

/// What is asked about the phases, in the order of the sheet `Phases` and then of the survey.
fn ask(sums: &[PhaseSum], job: Job<'_>) -> Vec<Query> {
    let Rules { phases: said, project, .. } = job.rules;
    let found: HashMap<String, &PhaseSum> = sums.iter().map(|sum| (compared(&sum.name), sum)).collect();
    let mut queries = Vec::new();
    for phase in said {
        let Some(sum) = found.get(&compared(&phase.name)) else {
            let names = sums.iter().map(|sum| sum.name.as_str()).filter(|name| !name.is_empty());
            let nearest = nearest(&phase.name, names).map(str::to_owned);
            let asked = PhaseQuery::WithoutOpenings { nearest };
            queries.push(Query::new(&asked, phase.at).with_detail(shown(&phase.name)));
            continue;
        };
        if let Some(over) = sum.over_budget().filter(|over| *over > Decimal::ZERO) {
            let known = if sum.is_whole() { "" } else { ", known so far" };
            let detail = format!("{}: {} over{known}", shown(&phase.name), project.currency.in_words(over));
            queries.push(Query::new(&PhaseQuery::OverBudget, phase.at).with_detail(detail));
        }
    }
    let known: HashSet<String> = said.iter().map(|phase| compared(&phase.name)).collect();
    for sum in sums.iter().filter(|sum| !said.is_empty() && !known.contains(&compared(&sum.name))) {
        let first = job.survey.openings.iter().find(|opening| *opening.who.phase == *sum.name);
        let at = first.map(|opening| opening.who.at);
        queries.push(Query::new(&PhaseQuery::WithoutRow, at).with_detail(shown(&sum.name)));
    }
    queries
}

/// A phase's name, in words where it has none.
pub fn shown(name: &str) -> &str {
    if name.is_empty() { NO_PHASE } else { name }
}
