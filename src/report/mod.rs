//! What any output shows, borrowed from the stages. The writers lay it out and compute nothing.

mod also_fits;
mod asked_about;
mod batches;
mod bits;
mod cautions;
mod changes;
mod counts;
mod deliveries;
mod doubts;
pub mod expr;
pub mod figure;
mod fitting_days;
mod fixing_order;
mod handover;
mod install;
mod labels;
mod loose;
mod options;
pub mod pilot;
mod progress;
mod rolls;
pub mod rows;
mod saw;
mod selection;
mod sizes;
mod start;
mod state;
mod totals;
mod units;

pub use also_fits::{AlsoFits, Fit, MOST_COMPARED, MOST_LISTED};
pub use batches::ByPhase;
pub use bits::{Bit, BitFor};
pub use cautions::{Basis, CODES_AND_TRADES, Caution};
pub use changes::{About, Cause as ChangeCause, Change, Memory, between as changes_between};
pub use counts::Counts;
pub use deliveries::Delivery;
pub use doubts::{Doubt, Doubts};
pub use fitting_days::{BEFORE_FITTERS, FloorLoad, Notice};
pub use fixing_order::{FixingOrder, FixingStep, Ground, fixing_steps};
pub use handover::{CARE, Hangs, Kept, SpareLeft};
pub use install::{Hanging, LOUVER_FACE};
pub use labels::{ColorTotal, Labels};
pub use loose::LooseCount;
pub use options::{AsItStands, Choice, Figures, SectionCost};
pub use progress::Snag;
pub use rolls::{RollCut, Stretch};
pub use saw::{CutAlike, Leftovers, Run};
pub use selection::{Selection, SelectionError};
pub use sizes::SizeCount;
pub use start::{Finished, Start};
pub use state::State;
pub use totals::QueryCount;
pub use units::{Load, Unit};

use std::collections::BTreeMap;
use std::sync::OnceLock;

use crate::assumptions::Assumption;
use crate::cost::Cost;
use crate::cutting::Cuts;
use crate::days::Days;
use crate::fitting::{self, Blind};
use crate::frozen::Frozen;
use crate::grid::Fingerprint;
use crate::hardware::Hardware;
use crate::order::Order;
use crate::phases::Phases;
use crate::place::{CellRef, Sheets};
use crate::query::{Answer, GatheredQuery, OpeningIndex, QueryPlace};
use crate::rules::Rules;
use crate::sizing;
use crate::sourcing::{Candidate, Merging, SizesAt, StockUse};
use crate::spares::Spare;
use crate::survey::Survey;
use crate::worked::{Record, Step};

/// The whole fit-out, as every writer takes it.
#[derive(Debug)]
pub struct Report<'r> {
    /// Names of the surveys' sheets.
    pub sheets: &'r Sheets,
    /// The rules of the run.
    pub rules: &'r Rules,
    /// The openings.
    pub survey: &'r Survey,
    /// Blinds that were ordered before, tied to the openings.
    pub frozen: Frozen<'r>,
    /// What those that are used as they are were used for, by their rows.
    pub used_for: BTreeMap<CellRef, String>,
    /// One place for each opening of the survey; `None` where it is held.
    pub blinds: Vec<Option<Blind<'r>>>,
    /// What sharing sizes did; `None` if the project does not ask for it.
    pub merging: Option<Merging>,
    /// Each stock size of the list, and what its boxes are worth; empty if the project does not want stock.
    pub stock_use: Vec<StockUse<'r>>,
    /// What fewer sizes cost and save; empty where nobody asks for it.
    pub sizes_curve: Vec<SizesAt>,
    /// The order.
    pub order: Order,
    /// Where else blinds that do not hang yet would fit.
    pub also_fits: Vec<AlsoFits>,
    /// The days on which they are fitted.
    pub days: Days,
    /// Spare louvers: ordered beside the blinds where those are bought, cut with them where they are made.
    pub spares: Vec<Spare>,
    /// The cut plans.
    pub cuts: Cuts,
    /// Parts and fixings.
    pub hardware: Hardware,
    /// What it costs.
    pub cost: Cost,
    /// What each phase comes to.
    pub phases: Phases,
    /// Values taken because a cell was blank, from every stage.
    pub assumptions: Vec<Assumption>,
    /// Every query, by cause: stops first, then checks, then notes, each in survey order.
    pub queries: Vec<GatheredQuery>,
    /// Those that people accepted, likewise: no longer counted, and cautions still.
    pub accepted: Vec<GatheredQuery>,
    /// What people answered, with what became of it.
    pub answers: Vec<Answer>,
    /// The totals that every sheet agrees on.
    pub counts: Counts,
    /// What tells this state of the surveys from another; `None` where they are of no file.
    pub fingerprint: Option<Fingerprint>,
    /// The choice that the run is of; `None` for the survey as it stands.
    pub option: Option<&'r str>,
    /// The survey as it stands and every choice of its sheet `Options`; empty without one.
    pub options: Vec<Choice>,
    /// The units to fit first, once someone has asked.
    pub pilot: OnceLock<Option<pilot::Pilot>>,
    /// What is different from the earlier fit-out, once someone has asked.
    pub changes: OnceLock<Vec<Change>>,
}

impl<'r> Report<'r> {
    /// The fingerprint of the surveys as it is shown; empty where they are of no file.
    pub fn survey_fingerprint(&self) -> String {
        self.fingerprint.map_or_else(String::new, |fingerprint| fingerprint.to_string())
    }

    /// What the survey itself says in the place that an answer to a query would fill; empty if
    /// none would.
    pub fn as_read<'a>(&'a self, place: &'a QueryPlace) -> &'a str {
        let opening = || Some(self.survey.openings.get(place.opening?)?.as_read.under(place.fills?));
        if place.as_read.is_empty() { opening().unwrap_or_default() } else { &place.as_read }
    }

    /// Every way to get one opening's blinds that was looked at, the one taken first; empty where it is
    /// held.
    pub fn candidates(&self, index: OpeningIndex) -> Vec<Candidate<'r>> {
        let (Some(Some(blind)), Some(opening)) = (self.blinds.get(index), self.survey.openings.get(index))
        else {
            return Vec::new();
        };
        blind.sourced.candidates(&blind.sizing, self.rules, &opening.who.phase)
    }

    /// Every step of every number of one opening, worked again with a record that keeps them.
    /// A held opening's steps end where it was held.
    pub fn working(&self, index: OpeningIndex) -> Vec<Step<'r>> {
        let Some(opening) = self.survey.openings.get(index) else {
            return Vec::new();
        };
        let mut record = Record::with_steps(index, opening.who.at, self.rules.project.units);
        let sized = sizing::size_opening(index, opening, &self.frozen, self.rules, &mut record);
        if let (Some(facts), Ok(Some(sizing)), Some(Some(blind))) =
            (&opening.facts, sized, self.blinds.get(index))
        {
            // A stop here was raised, and reported, when the opening was first fitted.
            let facts = &self.frozen.facts(index, facts, sizing.otherwise);
            let _ = fitting::fit(facts, &sizing, &blind.sourced, self.rules, &mut record);
        }
        record.finish().1
    }
}
