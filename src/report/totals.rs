//! Totals that the summary shows beside the report's counts.

use std::collections::{BTreeMap, BTreeSet};

use rust_decimal::Decimal;

use super::Report;
use crate::cost::{NotInTotal, RangePart};
use crate::query::{OpeningIndex, Severity};
use crate::schema::choices::Origin;

/// Queries of one severity.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct QueryCount {
    /// Different causes.
    pub causes: usize,
    /// Places where they were found.
    pub places: usize,
}

impl Report<'_> {
    /// Kilograms of every blind of the order together.
    pub fn weight(&self) -> Decimal {
        self.order.lines.iter().map(|line| line.weight * Decimal::from(line.quantity)).sum()
    }

    /// Kilograms of the heaviest blind; `None` if there is none.
    pub fn heaviest(&self) -> Option<Decimal> {
        self.order.lines.iter().map(|line| line.weight).max()
    }

    /// People that the blind that needs most of them needs; 0 without a blind.
    pub fn people_needed(&self) -> u32 {
        self.blinds.iter().flatten().map(|blind| blind.fitted.people).max().unwrap_or(0)
    }

    /// Blinds of the order that come from stock sizes.
    pub fn from_stock(&self) -> u64 {
        self.order
            .lines
            .iter()
            .filter(|line| line.key.origin == Origin::Stock)
            .map(|line| line.quantity)
            .sum()
    }

    /// Openings that one entry of what the total does not hold stands for, by quantity.
    pub fn openings_of(&self, missing: &NotInTotal) -> u64 {
        self.openings_together(&missing.openings.iter().copied().collect())
    }

    /// Openings that one cause of doubt about the total stands for, by quantity.
    pub fn openings_in_doubt(&self, part: &RangePart) -> u64 {
        self.openings_together(&part.openings.iter().copied().collect())
    }

    /// Openings of which the total lacks something, by quantity; each once, whatever it lacks.
    pub fn openings_not_in_total(&self) -> u64 {
        let missing = self.cost.not_in_total.iter();
        self.openings_together(&missing.flat_map(|missing| missing.openings.iter().copied()).collect())
    }

    /// How many openings, by quantity, lack the amounts of the same cost lines; no lines for those that
    /// are held, and lack all.
    pub fn openings_by_lack(&self) -> Vec<(Vec<usize>, u64)> {
        let missing = &self.cost.not_in_total;
        // What each opening lacks, by its place in the list.
        let mut lacks: BTreeMap<OpeningIndex, Vec<usize>> = BTreeMap::new();
        for (place, entry) in missing.iter().enumerate() {
            entry.openings.iter().for_each(|&opening| lacks.entry(opening).or_default().push(place));
        }
        let mut counts: BTreeMap<Vec<usize>, u64> = BTreeMap::new();
        for (opening, places) in lacks {
            let is_held = places.iter().any(|&place| missing[place].lines.is_empty());
            let places = if is_held { Vec::new() } else { places };
            *counts.entry(places).or_default() += u64::from(self.survey.openings[opening].who.quantity);
        }
        let lines_of = |places: Vec<usize>| -> BTreeSet<usize> {
            places.into_iter().flat_map(|place| missing[place].lines.iter().copied()).collect()
        };
        counts.into_iter().map(|(places, count)| (lines_of(places).into_iter().collect(), count)).collect()
    }

    fn openings_together(&self, openings: &BTreeSet<OpeningIndex>) -> u64 {
        openings.iter().map(|&opening| u64::from(self.survey.openings[opening].who.quantity)).sum()
    }

    /// How many queries there are of a severity.
    pub fn query_count(&self, severity: Severity) -> QueryCount {
        let of_severity = self.queries.iter().filter(|query| query.severity == severity);
        of_severity.fold(QueryCount::default(), |count, query| QueryCount {
            causes: count.causes + 1,
            places: count.places + query.places.len(),
        })
    }
}
