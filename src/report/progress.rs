//! How far the job has come: blinds by state, what went wrong and who pays, and what of the cost is
//! committed.
//!
//! Committed is what blinds that are ordered cost when they were, remade what is made again at our cost;
//! open is the rest of the known total, with labor, parts, overhead and tax. The three are the total.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::Report;
use crate::cost::Commitment;
use crate::schema::blinds::{BlindState, PaidBy, Reason};

/// Blinds that had to be made again for one reason, at one's cost.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Snag {
    /// Why; `None` if not said.
    pub reason: Option<Reason>,
    /// Who pays; a blank is us.
    pub paid_by: PaidBy,
    /// How many.
    pub blinds: u64,
}

impl Report<'_> {
    /// Blinds by how far they have come, in the order of the states, those not ordered yet first; states
    /// without any left out.
    pub fn progress(&self) -> Vec<(Option<BlindState>, u64)> {
        let mut counts: BTreeMap<Option<BlindState>, u64> = BTreeMap::new();
        let lines = self.order.lines.iter().chain(&self.order.ended);
        for seat in lines.flat_map(|line| &line.seats) {
            *counts.entry(seat.state).or_default() += seat.count();
        }
        counts.into_iter().collect()
    }

    /// What had to be made again, by reason and by who pays.
    pub fn snags(&self) -> Vec<Snag> {
        let mut counts: BTreeMap<(Option<Reason>, PaidBy), u64> = BTreeMap::new();
        for blind in self.frozen.blinds().iter().filter(|blind| blind.is_made_again()) {
            let paid_by = blind.typed.paid_by.unwrap_or(PaidBy::Us);
            *counts.entry((blind.typed.reason, paid_by)).or_default() += 1;
        }
        let snag = |((reason, paid_by), blinds)| Snag { reason, paid_by, blinds };
        counts.into_iter().map(snag).collect()
    }

    /// What of the known total is committed, and what is made again at our cost; the rest is open.
    pub fn settled(&self, commitment: Commitment) -> Decimal {
        let of = |wanted| -> Decimal {
            let lines = self.cost.lines.iter().filter(|line| line.commitment == wanted);
            lines.filter_map(|line| line.amount).sum()
        };
        match commitment {
            Commitment::Open => self.cost.known_total() - of(Commitment::Committed) - of(Commitment::Remade),
            settled => of(settled),
        }
    }
}
