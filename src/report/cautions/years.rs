//! From which year on a building cannot hold what was banned before, by jurisdiction.
//!
//! Where no ban of all of it is known, or nobody says where or when the building stands, the latest
//! ban of any of them counts: when in doubt, the caution stands.

use crate::rules::{Jurisdiction, Project};

/// The first year without lead in the paint of homes.
const fn lead_free(jurisdiction: Option<Jurisdiction>) -> u32 {
    match jurisdiction {
        // 40 CFR 745.103, target housing: before 1978.
        Some(Jurisdiction::UnitedStates) => 1978,
        // Bans and limits from 1990 to 1997 (from memory).
        _ => 2000,
    }
}

/// The first year without asbestos.
const fn asbestos_free(jurisdiction: Option<Jurisdiction>) -> u32 {
    match jurisdiction {
        // Bans of 1999-11-24, 2003-12-31 and 2005-01-01 (from memory).
        Some(Jurisdiction::UnitedKingdom) => 2000,
        Some(Jurisdiction::Australia) => 2004,
        Some(Jurisdiction::EuropeanUnion) => 2006,
        // A ban of 2018-12-30 (from memory). 29 CFR 1926.1101 presumes asbestos up to 1980, and no ban of
        // all of it followed: there the latest of the others counts.
        Some(Jurisdiction::Canada | Jurisdiction::UnitedStates | Jurisdiction::Unregulated) | None => 2019,
    }
}

pub(super) fn may_hold_lead(project: &Project) -> bool {
    project.built.is_none_or(|built| built < lead_free(project.jurisdiction))
}

pub(super) fn may_hold_asbestos(project: &Project) -> bool {
    project.built.is_none_or(|built| built < asbestos_free(project.jurisdiction))
}
