//! Plans that are made already: runs that are compared often ask for the same pieces, and equal demands
//! have one plan.

use std::sync::RwLock;

use super::{CutFault, CutPlan, Demand, plan};

/// The plans of runs that are compared. It remembers only where there are several.
#[derive(Debug, Default)]
pub struct KnownPlans(Option<RwLock<Vec<(Demand, CutPlan)>>>);

impl KnownPlans {
    /// None yet, and each is remembered.
    pub fn remembered() -> KnownPlans {
        KnownPlans(Some(RwLock::default()))
    }

    /// The plan of a demand.
    ///
    /// # Errors
    /// As [`plan`].
    pub(super) fn plan(&self, demand: &Demand) -> Result<CutPlan, CutFault> {
        let Some(known) = &self.0 else { return plan(demand) };
        // A lock that is lost costs time alone: the same demand has the same plan.
        let found = known.read().ok().and_then(|known| {
            known.iter().find(|(before, _)| before == demand).map(|(_, plan)| plan.clone())
        });
        if let Some(plan) = found {
            return Ok(plan);
        }
        let plan = plan(demand)?;
        known.write().into_iter().for_each(|mut known| known.push((demand.clone(), plan.clone())));
        Ok(plan)
    }
}
