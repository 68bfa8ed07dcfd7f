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

impl CutPlan {
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
