//! What the surveys say of each phase, checked.

use rust_decimal::Decimal;

use super::Rules;
use super::columns::phases::{COLUMNS as p, Phase};
use super::queries::{Findings, RuleQuery, RulesError};
use super::raw::RawRow;
use crate::date::Date;
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
        let as_written = self.phases.iter().find(|phase| phase.name == name);
        as_written.or_else(|| self.phases.iter().find(|phase| same_name(&phase.name, name)))
    }
}

/// What holds for the openings of a phase: its row on `Phases` over `Project`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Terms<'r> {
    /// Number of the order; empty if blank.
    pub order_number: &'r str,
    /// Address that the boxes go to; empty if blank.
    pub deliver_to: &'r str,
    /// Date from which lead days are counted.
    pub order_date: Option<Date>,
    /// Whether that is the survey's, for want of one of the order.
    pub is_survey_date: bool,
    /// Date on which the blinds must be on site.
    pub need_by: Option<Date>,
}

impl Rules {
    /// What holds for the openings of a phase.
    pub fn terms_of(&self, phase: &str) -> Terms<'_> {
        let (own, project) = (self.phase(phase), &self.project);
        let order_date = own.and_then(|own| own.order_date).or(project.order_date);
        Terms {
            order_number: or_of_project(own.map(|own| &own.order_number), &project.order_number),
            deliver_to: or_of_project(own.map(|own| &own.deliver_to), &project.deliver_to),
            order_date: order_date.or(project.survey_date),
            is_survey_date: order_date.is_none(),
            need_by: own.and_then(|own| own.need_by).or(project.need_by),
        }
    }
}

fn or_of_project<'r>(own: Option<&'r String>, project: &'r str) -> &'r str {
    own.filter(|own| !own.is_empty()).map_or(project, |own| own)
}
