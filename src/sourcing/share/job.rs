//! Rows of the survey that want the same scarce stock sizes, and the work that may be spent on them.

use crate::sourcing::rank::Rank;

/// Rows that compete for boxes.
#[derive(Clone, Debug)]
pub(super) struct Job {
    /// In survey order.
    pub(super) lines: Vec<Line>,
    /// Boxes on the shelf by place.
    pub(super) shelf: Vec<u64>,
}

/// One row.
#[derive(Clone, Debug)]
pub(super) struct Line {
    /// Its blinds, which all come from one source.
    pub(super) quantity: u64,
    /// What it can take, rung by rung, the best first; the last is what it has without a scarce box.
    pub(super) options: Vec<Rung>,
}

/// One way to get the blinds of a row.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Rung {
    /// The place of its box; `None` without one.
    pub(super) place: Option<usize>,
    /// The rank of one blind, over that of the row's last rung.
    pub(super) rank: Rank,
    /// Whether its price is known.
    pub(super) is_priced: bool,
}

impl Job {
    /// What a rung stands for: a place, or behind all places what is not scarce.
    pub(super) fn node(&self, line: usize, rung: usize) -> usize {
        self.lines[line].options[rung].place.unwrap_or(self.shelf.len())
    }

    /// The rank of rungs, one a line.
    pub(super) fn total(&self, rungs: &[usize]) -> Rank {
        let ranks =
            self.lines.iter().zip(rungs).map(|(line, &rung)| line.options[rung].rank.times(line.quantity));
        ranks.fold(Rank::default(), |sum, rank| sum + rank)
    }

    /// Whether every row is one blind.
    pub(super) fn is_of_single_blinds(&self) -> bool {
        self.lines.iter().all(|line| line.quantity == 1)
    }
}

impl Line {
    /// Its last rung, which needs no scarce box.
    pub(super) fn last(&self) -> usize {
        self.options.len().saturating_sub(1)
    }

    /// Whether prices are known on both of two rungs, so that money between them is.
    pub(super) fn is_money_known(&self, rungs: [usize; 2]) -> bool {
        rungs[0] == rungs[1] || rungs.iter().all(|&rung| self.options[rung].is_priced)
    }
}

/// Work that is left, in looks at a way from one place to another. Counted, not timed, so that the same
/// survey gives the same result on any machine.
#[derive(Clone, Copy, Debug)]
pub(super) struct Work(pub(super) u64);

impl Work {
    /// Spends so much; `None` where that is not left.
    pub(super) fn spend(&mut self, looks: u64) -> Option<()> {
        let left = self.0.checked_sub(looks);
        self.0 = left.unwrap_or(0);
        left.map(|_| ())
    }
}
