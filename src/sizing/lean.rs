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
    /// How far its head stands to the side of its bottom, as measured, to the nanometer.
    pub by: Length,
    /// To which side its head stands.
    pub toward: Side,
    /// The same exactly, in nanometers: a part of a whole; 0 where it counts as none.
    parts: i128,
    whole: i128,
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
    /// A length less what the lean takes off it, rounded down to a multiple of `step`.
    pub(super) fn off_and_down(&self, length: Length, step: Length) -> Length {
        // The steps are whole nanometers, so the next whole one below decides.
        (length - Length::from_nm(self.rounded(self.whole - 1))).rounded_down_to(step)
    }

    /// The same, rounded up.
    pub(super) fn off_and_up(&self, length: Length, step: Length) -> Length {
        (length - Length::from_nm(self.rounded(0))).rounded_up_to(step)
    }

    fn rounded(&self, up: i128) -> i64 {
        let whole = i64::try_from((self.parts + up) / self.whole);
        debug_assert!(whole.is_ok(), "no opening is out of square by as much as a length can be");
        whole.unwrap_or(i64::MAX)
    }

    /// Whether it counts.
    pub fn counts(&self) -> bool {
        self.parts > 0
    }

    /// Twice as far as the left corner at the head stands to the right of the left edge at half height,
    /// in nanometers: so many parts of a whole.
    pub fn head_moves_doubled(&self) -> (i128, i128) {
        match self.toward {
            Side::Left => (-self.parts, self.whole),
            Side::Right => (self.parts, self.whole),
        }
    }
}

/// From both diagonals: exact for a parallelogram, |D1^2 - D2^2| / 4 W. One diagonal alone says nothing.
pub(super) fn of<'r>(facts: &Facts, cover: &'r CoverRules, record: &mut Record<'r>) -> Option<Lean> {
    let [rising, falling] = facts.diagonals?;
    let square = |length: Length| i128::from(length.nm()) * i128::from(length.nm());
    let difference = (square(rising.value) - square(falling.value)).abs();
    let whole = 4 * i128::from(facts.width.least().value.nm());
    let by = Length::from_ratio(difference, whole);
    record.step(Number::Lean, "from both diagonals and the smallest width", rising.at, by);
    let counts = 2 * difference > i128::from(cover.side_clearance.nm()) * whole;
    // Diagonal 1 rises from the bottom left: where it is the longer, the top leans right.
    let toward = if rising.value > falling.value { Side::Right } else { Side::Left };
    Some(Lean { by, toward, parts: if counts { difference } else { 0 }, whole })
}
