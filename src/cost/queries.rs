//! What cost must ask.

use thiserror::Error;

use crate::query::Wording;

/// Something that the total cannot hold. The words are also its entry under what is not in the total.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Error)]
pub(super) enum Lacking {
    /// A blind, bar, part or fixing without a price.
    #[error("{what} has no price")]
    Price {
        /// The item, as its list names it.
        what: String,
        /// The sheet that would give the price.
        sheet: &'static str,
    },
    /// A time or a charge without a figure.
    #[error("{what} has no rate")]
    Rate {
        /// The item, as `Rates` names it.
        what: &'static str,
    },
    /// Screws for an unknown substrate.
    #[error("fixings that are not chosen have no price")]
    Choice,
}

/// The words of a query: what is lacking, and how many order lines need it.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("{lacking} (needed by {lines} order {})", if *lines == 1 { "line" } else { "lines" })]
pub(super) struct CostQuery {
    /// What is lacking.
    pub lacking: Lacking,
    /// Order lines that need it.
    pub lines: usize,
}

impl Wording for CostQuery {
    fn hint(&self) -> String {
        match &self.lacking {
            Lacking::Price { what, sheet } => format!("fill in the price of {what} in {sheet}"),
            Lacking::Rate { what } => format!("fill in {what} in Rates; write 0 if nothing is charged"),
            Lacking::Choice => "fill in Substrate: what the brackets go into".to_owned(),
        }
    }
}
