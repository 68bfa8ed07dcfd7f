//! What the surveys say of each phase, checked.

use rust_decimal::Decimal;

use super::Rules;
use super::columns::phases::{COLUMNS as p, Phase};
use super::queries::{Findings, RuleQuery, RulesError};
use super::raw::RawRow;
use crate::name::same_name;

/// Hours that a fitter works a day where nothing is said; common practice, no source.
const HOURS_A_DAY: Decimal = Decimal::from_parts(8, 0, 0, false, 0);

/// The phases, in the order of their first mention, and the rows as used.
///
/// # Errors
/// If a row lacks what must be known; no survey leads there.
pub(super) fn phases(
    written: Vec<RawRow>,
    findings: &mut Findings,
) -> Result<(Vec<Phase>, Vec<RawRow>), RulesError> {
    let mut phases = Vec::with_capacity(written.len());
    let mut used = Vec::with_capacity(written.len());
    for row in written {
        if !row.sift(findings) {
            continue;
        }
        let hours_a_day = row.value(&p.hours_a_day).unwrap_or(HOURS_A_DAY);
        if hours_a_day.is_zero() {
            findings.raise(RuleQuery::NoHours, row.at(&p.hours_a_day), row.item.clone());
        }
        phases.push(Phase::read(&row, row.item.clone(), hours_a_day)?);
        used.push(row);
    }
    Ok((phases, used))
}

impl Rules {
    /// What the survey says of a phase; `None` if `Phases` has no row of it. An empty name is the phase of
    /// the openings that name none.
    pub fn phase(&self, name: &str) -> Option<&Phase> {
        self.phases.iter().find(|phase| same_name(&phase.name, name))
    }
}
