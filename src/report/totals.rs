//! Totals that the summary shows beside the report's counts.

use rust_decimal::Decimal;

use super::Report;
use crate::query::Severity;

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

    /// Blinds of the order that come from stock sizes.
    pub fn from_stock(&self) -> u64 {
        self.order.lines.iter().filter(|line| line.key.stock.is_some()).map(|line| line.quantity).sum()
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
