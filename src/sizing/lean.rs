//! How far an opening leans sideways over its height, from both of its diagonals.
//!
//! A lean of up to half the side clearance is within what a tape shows on a square opening, and
//! counts as none: nothing is made narrower for it, and nothing is moved.

use crate::length::Length;
use crate::rules::CoverRules;
use crate::survey::Facts;
use crate::worked::{Number, Record};

/// How far an opening leans.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Lean {
    /// How far its head stands to the side of its bottom, as measured.
    pub by: Length,
    /// The same, or 0 where that is within what a tape shows.
    pub counted: Length,
    /// To which side its head stands.
    pub toward: Side,
}

/// A side, as seen from inside.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Left.
    Left,
    /// Right.
    Right,
}

impl Lean {
    /// Twice as far as the left corner at the head stands to the right of the left edge at half height,
    /// in nanometers.
    pub fn head_moves_doubled(&self) -> i64 {
        match self.toward {
            Side::Left => -self.counted.nm(),
            Side::Right => self.counted.nm(),
        }
    }
}

/// From both diagonals: exact for a parallelogram, |D1^2 - D2^2| / 4 W. One diagonal alone says nothing.
pub(super) fn of<'r>(facts: &Facts, cover: &'r CoverRules, record: &mut Record<'r>) -> Option<Lean> {
    let [rising, falling] = facts.diagonals?;
    let square = |length: Length| i128::from(length.nm()) * i128::from(length.nm());
    let difference = (square(rising.value) - square(falling.value)).abs();
    let by = Length::from_ratio(difference, 4 * i128::from(facts.width.least().value.nm()));
    record.step(Number::Lean, "from both diagonals and the smallest width", rising.at, by);
    let counts = by * 2 > *cover.side_clearance;
    let counted = if counts { by } else { Length::ZERO };
    // Diagonal 1 rises from the bottom left: where it is the longer, the top leans right.
    let toward = if rising.value > falling.value { Side::Right } else { Side::Left };
    Some(Lean { by, counted, toward })
}
