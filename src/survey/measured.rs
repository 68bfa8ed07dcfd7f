//! A width or a height as it was measured.

use crate::length::Length;
use crate::place::Given;

/// Where along an opening a measurement was taken, as seen from inside.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Spot {
    /// A height on the left.
    Left,
    /// In the middle.
    Middle,
    /// A height on the right.
    Right,
    /// A width at the top.
    Top,
    /// A width at the bottom.
    Bottom,
}

impl Spot {
    /// `left`, `middle`, `right`, `top` or `bottom`.
    pub const fn word(self) -> &'static str {
        match self {
            Spot::Left => "left",
            Spot::Middle => "middle",
            Spot::Right => "right",
            Spot::Top => "top",
            Spot::Bottom => "bottom",
        }
    }
}

/// One measurement.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Reading {
    /// What was read, and the cell that holds it.
    pub given: Given<Length>,
    /// Where along the opening; `None` if nobody says.
    pub spot: Option<Spot>,
}

/// One to four measurements of the same thing, all above zero.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Measured {
    first: Reading,
    rest: Vec<Reading>,
}

impl Measured {
    /// `None` if nothing was measured.
    pub fn new(readings: Vec<Reading>) -> Option<Measured> {
        let mut readings = readings.into_iter();
        readings.next().map(|first| Measured { first, rest: readings.collect() })
    }

    /// Every measurement, in column order.
    pub fn readings(&self) -> impl Iterator<Item = Reading> + '_ {
        std::iter::once(self.first).chain(self.rest.iter().copied())
    }

    /// What was measured, in column order.
    pub fn all(&self) -> impl Iterator<Item = Given<Length>> + '_ {
        self.readings().map(|reading| reading.given)
    }

    /// The least of them; the first of equals.
    pub fn least(&self) -> Given<Length> {
        let others = self.rest.iter().map(|reading| reading.given);
        others.fold(self.first.given, |least, next| if next.value < least.value { next } else { least })
    }

    /// The most of them; the first of equals.
    pub fn most(&self) -> Given<Length> {
        let others = self.rest.iter().map(|reading| reading.given);
        others.fold(self.first.given, |most, next| if next.value > most.value { next } else { most })
    }

    /// How many measurements there are.
    pub fn count(&self) -> usize {
        1 + self.rest.len()
    }
}
