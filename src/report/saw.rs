//! The cut plans as the person at the saw reads them: where to set the stop for each cut.

use crate::cutting::{CutPlan, Pattern, Piece};
use crate::length::Length;

/// One cut of a bar.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cut {
    /// Number of the cut, from 1.
    pub number: usize,
    /// The piece that it frees.
    pub piece: Piece,
    /// From the raw end of the bar to the far end of the piece: the end trim, every piece so far
    /// and a kerf between each two.
    pub stop: Length,
    /// What is left of the bar after the cut.
    pub remaining: Length,
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

/// Cuts one after the other that free equal pieces for the same line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Run {
    /// The cuts; one at the least.
    pub cuts: Vec<Cut>,
}

impl Run {
    /// `7`, or `1 to 6`.
    pub fn numbers(&self) -> String {
        match (self.cuts.first(), self.cuts.last()) {
            (Some(first), Some(last)) if first.number != last.number => {
                format!("{} to {}", first.number, last.number)
            }
            (Some(only), _) => only.number.to_string(),
            (None, _) => String::new(),
        }
    }
}

impl Pattern {
    /// The pieces in the order of cutting, equal ones together: how many of each length.
    pub fn lengths(&self) -> impl Iterator<Item = (usize, Length)> {
        let runs = self.pieces.chunk_by(|left, right| left.length == right.length);
        runs.filter_map(|run| Some((run.len(), run.first()?.length)))
    }
}

impl CutPlan {
    /// The cuts of one bar in runs of at most `most`.
    pub fn runs(&self, pattern: &Pattern, most: usize) -> Vec<Run> {
        let cuts: Vec<Cut> = self.cuts(pattern).collect();
        let equal = cuts.chunk_by(|left, right| left.piece == right.piece);
        equal.flat_map(|run| run.chunks(most.max(1))).map(|run| Run { cuts: run.to_vec() }).collect()
    }

    /// The cuts of one bar of a pattern, in the order of cutting.
    pub fn cuts<'p>(&'p self, pattern: &'p Pattern) -> impl Iterator<Item = Cut> + 'p {
        let mut end = self.trim;
        pattern.pieces.iter().enumerate().map(move |(place, &piece)| {
            let stop = end + piece.length;
            end = stop + self.kerf;
            Cut { number: place + 1, piece, stop, remaining: (pattern.stock - end).max(Length::ZERO) }
        })
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
