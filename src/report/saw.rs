//! The cut plans as the person at the saw works them: bars that are cut alike, and on them the runs
//! of equal pieces for which the stop is set once. A stop is a piece's own length: after the first
//! cut the raw end of the bar is gone, so no running distance could be measured from it.

use std::collections::BTreeMap;

use crate::blinds::Part;
use crate::cutting::{CutPlan, Pattern};
use crate::length::Length;

/// Bars with the same pieces, whatever lines those are for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CutAlike<'p> {
    /// The entries, each for the same lines; one at the least.
    entries: &'p [Pattern],
    first: &'p Pattern,
}

/// Equal pieces of bars that are cut alike: the stop is set once for all of them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Run<'p> {
    entries: &'p [Pattern],
    /// Where its pieces stand on a bar.
    from: usize,
    to: usize,
    /// Length of each piece.
    pub length: Length,
}

/// What becomes of the ends of a plan's bars.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Leftovers {
    /// Offcuts of at least the least useful length.
    pub kept: u64,
    /// Their length together.
    pub kept_length: Length,
    /// Shorter ones, those of no length left out.
    pub scrapped: u64,
    /// Their length together.
    pub scrapped_length: Length,
}

impl<'p> CutAlike<'p> {
    /// Number of the pattern, from 1.
    pub fn number(self) -> usize {
        self.first.number
    }

    /// How many bars.
    pub fn bars(self) -> u64 {
        self.entries.iter().map(|entry| entry.bars).sum()
    }

    /// One of the entries: they differ in lines alone.
    pub fn pattern(self) -> &'p Pattern {
        self.first
    }

    /// The runs of equal pieces, in the order of cutting: the longest first.
    pub fn runs(self) -> impl Iterator<Item = Run<'p>> {
        let (entries, mut from) = (self.entries, 0);
        let equal = self.first.pieces.chunk_by(|left, right| left.length == right.length);
        equal.filter_map(move |pieces| {
            let run = Run { entries, from, to: from + pieces.len(), length: pieces.first()?.length };
            from = run.to;
            Some(run)
        })
    }
}

impl Run<'_> {
    /// Pieces of one bar.
    pub fn pieces(self) -> usize {
        self.to - self.from
    }

    /// The parts that the pieces are, each once.
    pub fn parts(self) -> Vec<Part> {
        let pieces = self.entries.iter().filter_map(|entry| entry.pieces.get(self.from..self.to)).flatten();
        let mut parts: Vec<Part> = Vec::new();
        for piece in pieces {
            if !parts.contains(&piece.part) {
                parts.push(piece.part);
            }
        }
        parts
    }

    /// How many pieces of all the bars each order line has; spares, which are for none, come last.
    pub fn by_line(self) -> Vec<(Option<usize>, u64)> {
        let mut lines: BTreeMap<(bool, Option<usize>), u64> = BTreeMap::new();
        for entry in self.entries {
            for piece in entry.pieces.iter().take(self.to).skip(self.from) {
                *lines.entry((piece.line.is_none(), piece.line)).or_default() += entry.bars;
            }
        }
        lines.into_iter().map(|((_, line), count)| (line, count)).collect()
    }
}

impl CutPlan {
    /// The patterns, in the order of cutting.
    pub fn cut_alike(&self) -> impl Iterator<Item = CutAlike<'_>> {
        let alike = self.patterns.chunk_by(|left, right| left.number == right.number);
        alike.filter_map(|entries| Some(CutAlike { entries, first: entries.first()? }))
    }

    /// Offcuts kept and scrapped.
    pub fn leftovers(&self) -> Leftovers {
        let mut left = Leftovers::default();
        for pattern in &self.patterns {
            let length = pattern.offcut * i64::try_from(pattern.bars).unwrap_or(i64::MAX);
            if self.keeps(pattern) {
                left.kept += pattern.bars;
                left.kept_length = left.kept_length + length;
            } else if pattern.offcut > Length::ZERO {
                left.scrapped += pattern.bars;
                left.scrapped_length = left.scrapped_length + length;
            }
        }
        left
    }
}
