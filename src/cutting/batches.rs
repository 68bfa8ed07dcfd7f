//! The plan by batch: each phase sawn by itself, and beside it what the whole project at once
//! would need.
//!
//! Where each phase is sawn by itself (`Cut by phase`), those plans are sawn, so those are on the
//! cut list, in `cuts` (each with its `phase`) and in the cost; the plan of the whole project is
//! made for comparison alone (`by_phase`). Spare louvers are counted for the project and cut with
//! the first phase of their material. Offcuts on hand serve the phases in order; what one phase
//! leaves of its own bars is not counted on for the next, for nobody knows when that is sawn.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::sync::Arc;

use super::{CutFault, CutPlan, Demand, From, KnownPlans};
use crate::order::Order;
use crate::rules::SawnTogether;

/// What became of one demand.
pub(super) struct Planned {
    /// The plans to saw, one for each batch.
    pub plans: Vec<CutPlan>,
    /// The plan of all batches at once, where there could be several.
    pub at_once: Option<CutPlan>,
}

/// Plans one material in one color, whole or phase by phase.
///
/// # Errors
/// As [`plan`](super::plan).
pub(super) fn plan_batches(
    demand: &Demand,
    order: &Order,
    together: SawnTogether,
    known: &KnownPlans,
) -> Result<Planned, CutFault> {
    let at_once = known.plan(demand)?;
    match together {
        SawnTogether::WholeProject => Ok(Planned { plans: vec![at_once], at_once: None }),
        SawnTogether::EachPhase => {
            Ok(Planned { plans: plan_phases(demand, order, known)?, at_once: Some(at_once) })
        }
    }
}

/// One phase after the other: a later one has the offcuts on hand that those before it left. What
/// a phase leaves of its own bars is not counted on, for nobody knows when the next one is sawn.
fn plan_phases(demand: &Demand, order: &Order, known: &KnownPlans) -> Result<Vec<CutPlan>, CutFault> {
    let mut on_hand = demand.offcuts.clone();
    let mut plans = Vec::new();
    for (phase, batch) in phases(demand, order) {
        let batch = Demand { offcuts: on_hand.clone(), ..batch };
        let plan = known.plan(&batch)?;
        for pattern in plan.patterns.iter().filter(|pattern| pattern.from == From::Offcut) {
            if let Some(count) = on_hand.get_mut(&pattern.stock) {
                *count = count.saturating_sub(pattern.bars);
            }
        }
        on_hand.retain(|_, count| *count > 0);
        plans.push(CutPlan { phase: Some(phase), ..plan });
    }
    Ok(plans)
}

/// The phases of a demand in the order of their first line, each with its pieces. Spares are cut
/// with the first of them, so that they are there from the beginning.
fn phases(demand: &Demand, order: &Order) -> Vec<(Arc<str>, Demand)> {
    let phase_of = |line: usize| order.line(line).map(|line| &line.key.phase);
    let mut batches: Vec<(Arc<str>, Demand)> = Vec::new();
    let mut known: BTreeMap<Arc<str>, usize> = BTreeMap::new();
    let mut spares = BTreeMap::new();
    let mut pieces: Vec<_> = demand.pieces.iter().collect();
    pieces.sort_by_key(|(piece, _)| piece.line);
    for (&piece, &count) in pieces {
        let Some(phase) = piece.line.and_then(phase_of) else {
            spares.insert(piece, count);
            continue;
        };
        let place = *known.entry(phase.clone()).or_insert_with(|| {
            batches.push((phase.clone(), demand.emptied()));
            batches.len() - 1
        });
        batches[place].1.pieces.insert(piece, count);
    }
    for blind in &demand.blinds {
        let phase = blind.pieces.first().and_then(|(piece, _)| phase_of(piece.line?));
        let batch = phase.and_then(|phase| batches.get_mut(*known.get(phase)?));
        if let Some((_, batch)) = batch {
            batch.blinds.push(blind.clone());
        }
    }
    match batches.first_mut() {
        Some((_, first)) => first.pieces.extend(spares),
        // The blinds that they are for are in the store: cut by no phase, they are cut by themselves.
        None if !spares.is_empty() => {
            batches.push((Arc::from(""), Demand { pieces: spares, ..demand.emptied() }));
        }
        None => {}
    }
    batches
}

impl CutPlan {
    /// The phase in words, where each is sawn by itself: `phase 2`, `no phase`.
    pub fn phase_in_words(&self) -> Option<Cow<'_, str>> {
        let phase = self.phase.as_deref()?;
        Some(match phase {
            "" => Cow::Borrowed("no phase"),
            _ if phase.to_lowercase().contains("phase") => Cow::Borrowed(phase),
            _ => Cow::Owned(format!("phase {phase}")),
        })
    }
}
