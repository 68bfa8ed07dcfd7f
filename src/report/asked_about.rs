//! Whose working a person would ask about: of each line of the order the first opening, and every opening
//! with a stop or a check, open or accepted. A note asks nothing, and identical blinds are worked out alike.

use std::collections::BTreeSet;

use super::{Doubts, Report};
use crate::query::{OpeningIndex, Severity};

impl Report<'_> {
    /// The openings whose working a person would ask about, in survey order.
    pub fn asked_about(&self, doubts: &Doubts<'_>) -> BTreeSet<OpeningIndex> {
        let asks = |&opening: &OpeningIndex| {
            doubts.about(opening).any(|doubt| doubt.query.severity < Severity::Note)
        };
        let with_queries = (0..self.survey.openings.len()).filter(asks);
        let first = |line| self.labels(line).find_map(|labels| labels.opening);
        with_queries.chain(self.order.lines.iter().filter_map(first)).collect()
    }
}
