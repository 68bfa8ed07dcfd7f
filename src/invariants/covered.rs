//! An opening that gets a blind, as the invariants look at it.

use crate::fitting::Blind;
use crate::query::OpeningIndex;
use crate::report::Report;
use crate::rules::CoverRules;
use crate::sizing::Size;
use crate::survey::Facts;

/// An opening that gets a blind.
pub(super) struct Covered<'a, 'r> {
    pub(super) report: &'a Report<'r>,
    pub(super) opening: OpeningIndex,
    pub(super) facts: &'a Facts,
    pub(super) blind: &'a Blind<'r>,
    told: &'a [&'a str],
}

/// The codes of all queries about each opening, accepted or not.
pub(super) fn told(report: &Report<'_>) -> Vec<Vec<&'static str>> {
    let mut told = vec![Vec::new(); report.survey.openings.len()];
    for query in report.queries.iter().chain(&report.accepted) {
        query
            .places
            .iter()
            .filter_map(|place| place.opening)
            .for_each(|opening| told[opening].push(query.code));
    }
    told
}

/// The openings that get a blind, with what is `told` of them.
pub(super) fn covered<'a, 'r>(
    report: &'a Report<'r>,
    told: &'a [Vec<&'a str>],
) -> impl Iterator<Item = Covered<'a, 'r>> {
    let openings = report.survey.openings.iter().zip(&report.blinds).zip(told).enumerate();
    openings.filter_map(move |(opening, ((surveyed, blind), told))| {
        let (facts, blind) = (surveyed.facts.as_deref()?, blind.as_ref()?);
        Some(Covered { report, opening, facts, blind, told })
    })
}

impl Covered<'_, '_> {
    /// Whether one of these queries is about it.
    pub(super) fn is_told(&self, codes: &[&str]) -> bool {
        self.told.iter().any(|code| codes.contains(code))
    }

    /// Whether its blind was ordered, and is used although it would not be taken now.
    pub(super) fn stands(&self) -> bool {
        self.is_told(&["ordered-used-as-it-is", "fitted-differs"])
    }

    pub(super) fn size(&self) -> Size {
        self.blind.sourced.size
    }

    pub(super) fn size_in_words(&self) -> String {
        let (Size { width, drop }, units) = (self.size(), self.report.rules.project.units);
        format!("{} x {}", width.in_full(units), drop.in_full(units))
    }

    pub(super) fn cover(&self) -> &CoverRules {
        &self.blind.sizing.product.cover
    }
}
