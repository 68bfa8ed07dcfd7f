//! Part of the order: what goes to the maker now.
//!
//! Without a state that is what is not ordered yet. `remake` means the blinds that are made again and
//! not ordered yet; any other state the blinds that have come so far, for a copy of what was ordered. What
//! is provisional is never among what goes to the maker.
//!
//! Spare louvers are a share of all that is ordered so far and now, less those that were ordered before.

use std::sync::OnceLock;

use super::Report;
use crate::cutting::{self, CutFault, KnownPlans};
use crate::name::{nearest, same_name};
use crate::order::{OrderLine, Seat};
use crate::query::{OpeningIndex, Wording, did_you_mean_or};
use crate::schema::blinds::BlindState;
use crate::sizing::Release;
use crate::spares;

/// What is wanted of the order.
#[derive(Clone, Debug, Default)]
pub struct Selection {
    /// Phases, by their names; all of them where none is named.
    pub phases: Vec<String>,
    /// States; what is not ordered yet where none is named.
    pub states: Vec<BlindState>,
}

/// Why a part of the order cannot be given to the maker.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum SelectionError {
    /// No opening has the phase.
    #[error("there is no phase {wanted}")]
    UnknownPhase {
        /// The phase.
        wanted: String,
        /// The name that comes nearest.
        nearest: Option<String>,
        /// The phases that there are.
        phases: Vec<String>,
    },
    /// Nothing is left.
    #[error("there is nothing to put in the order")]
    Nothing,
    /// Openings without an id, which could not be known again.
    #[error("{count} openings have no id, so their blinds could not be known again: {}", .first.join(", "))]
    NoId {
        /// How many.
        count: usize,
        /// The first of them, as they are shown.
        first: Vec<String>,
    },
}

impl Wording for SelectionError {
    fn hint(&self) -> String {
        match self {
            SelectionError::UnknownPhase { nearest, phases, .. } => {
                did_you_mean_or(nearest.as_deref(), &format!("the phases are {}", phases.join(", ")))
            }
            SelectionError::Nothing => "what is ordered already is in it only with --state ordered".into(),
            SelectionError::NoId { .. } => {
                "give each of them an id in the survey, in the column Opening, then run again".into()
            }
        }
    }
}

/// Openings that a message names.
const NAMED: usize = 3;

impl Selection {
    fn wants(&self, line: &OrderLine, seat: &Seat) -> bool {
        let of_phase =
            self.phases.is_empty() || self.phases.iter().any(|phase| same_name(phase, &line.key.phase));
        let is_new = seat.state.is_none();
        let of_state = match self.states.as_slice() {
            [] => is_new,
            states => states.iter().any(|state| match state {
                BlindState::Remake => is_new && line.key.remake_of.is_some(),
                state => seat.state == Some(*state),
            }),
        };
        of_phase && of_state && seat.counts() && line.key.release == Release::Make
    }
}

impl<'r> Report<'r> {
    /// Whether the order has what is wanted of it, and each of its openings can be known again.
    ///
    /// # Errors
    /// [`SelectionError`], which says what to do.
    pub fn check_selection(&self, selection: &Selection) -> Result<(), SelectionError> {
        let mut phases: Vec<&str> = self.survey.openings.iter().map(|opening| &*opening.who.phase).collect();
        phases.sort_unstable();
        phases.dedup();
        for wanted in &selection.phases {
            if !phases.iter().any(|phase| same_name(phase, wanted)) {
                let nearest = nearest(wanted, phases.iter().copied()).map(str::to_owned);
                let named =
                    |phase: &&str| if phase.is_empty() { "\"\"".to_owned() } else { (*phase).to_owned() };
                let phases = phases.iter().map(named).collect();
                return Err(SelectionError::UnknownPhase { wanted: wanted.clone(), nearest, phases });
            }
        }
        let wanted = self.order.narrowed(|line, seat| selection.wants(line, seat));
        if wanted.lines.is_empty() {
            return Err(SelectionError::Nothing);
        }
        let mut openings: Vec<OpeningIndex> = wanted.lines.iter().flat_map(OrderLine::openings).collect();
        openings.sort_unstable();
        openings.dedup();
        let nameless = openings.into_iter().map(|opening| &self.survey.openings[opening].who);
        let nameless: Vec<String> =
            nameless.filter(|who| who.written.is_empty()).map(|who| who.name.to_string()).collect();
        match nameless.is_empty() {
            true => Ok(()),
            false => {
                let (count, first) = (nameless.len(), nameless.into_iter().take(NAMED).collect());
                Err(SelectionError::NoId { count, first })
            }
        }
    }

    /// The same report with what is wanted of the order, cut for itself.
    ///
    /// # Errors
    /// [`CutFault`], where a stage has handed on what cannot be cut.
    pub fn narrowed(self, selection: &Selection) -> Result<Report<'r>, CutFault> {
        let so_far = self.order.narrowed(|line, seat| {
            selection.wants(line, seat) || seat.state.is_some() && line.key.release == Release::Make
        });
        let mut spares = spares::of(&so_far, self.rules);
        spares.retain(|spare| spare.before.is_none() && selection.states.is_empty());
        let order = self.order.narrowed(|line, seat| selection.wants(line, seat));
        let cuts = cutting::plan_cuts(&order, &spares, self.survey, self.rules, &KnownPlans::default())?;
        Ok(Report { order, spares, cuts, pilot: OnceLock::new(), changes: OnceLock::new(), ..self })
    }
}
