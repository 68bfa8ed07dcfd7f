//! A width or a height as it was measured.

use crate::length::Length;
use crate::place::Given;

/// One to four measurements of the same thing, all above zero.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Measured {
    first: Given<Length>,
    rest: Vec<Given<Length>>,
}

impl Measured {
    /// `None` if nothing was measured.
    pub fn new(given: Vec<Given<Length>>) -> Option<Measured> {
        let mut given = given.into_iter();
        given.next().map(|first| Measured { first, rest: given.collect() })
    }

    /// Every measurement, in column order.
    pub fn all(&self) -> impl Iterator<Item = Given<Length>> + '_ {
        std::iter::once(self.first).chain(self.rest.iter().copied())
    }

    /// The least of them; the first of equals.
    pub fn least(&self) -> Given<Length> {
        let others = self.rest.iter().copied();
        others.fold(self.first, |least, next| if next.value < least.value { next } else { least })
    }

    /// The most of them; the first of equals.
    pub fn most(&self) -> Given<Length> {
        let others = self.rest.iter().copied();
        others.fold(self.first, |most, next| if next.value > most.value { next } else { most })
    }

    /// How many measurements there are.
    pub fn count(&self) -> usize {
        1 + self.rest.len()
    }
}
