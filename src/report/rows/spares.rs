//! Spare louvers that are ordered with the blinds.

use crate::length::Length;
use crate::report::Report;
use crate::report::figure::row;
use crate::rules::CostBasis;
use crate::spares::Spare;

/// Spare louvers alike.
#[derive(Clone, Copy)]
pub struct SpareRow<'r>(pub(in crate::report) &'r Spare);

row! {
    /// Spare louvers of one material, color and width.
    SpareRow<'r>: row {
        /// Line number: they go on from the blinds' lines.
        line: usize = row.0.line => at_least(1), shown, strong;
        /// How many to order.
        quantity: u64 = row.0.count => at_least(1), headed("Louvers"), strong;
        /// The material.
        material: &'r str = &row.0.material => shown;
        /// The color; empty for a material without.
        color: &'r str = &row.0.color => shown, strong;
        /// Width of a louver.
        width_mm: Length = row.0.width => above_zero, headed("Louver width");
        /// Finished length of each: that of the longest louver.
        length_mm: Length = row.0.finished => above_zero, headed("Louver length"), strong;
    }
}

impl<'r> SpareRow<'r> {
    /// What is ordered beside the blinds, in order of material, color and width; nothing where blinds
    /// are made, for there spares are cut.
    pub fn all(report: &'r Report<'r>) -> impl Iterator<Item = SpareRow<'r>> + Clone {
        let bought = report.rules.project.cost_basis == CostBasis::Buy;
        report.spares.iter().filter(move |spare| bought && spare.counts()).map(SpareRow)
    }
}
