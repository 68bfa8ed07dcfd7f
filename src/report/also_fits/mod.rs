//! Where else a blind would fit as it is: the openings that would take it in place of their own.
//!
//! An opening takes a blind that is of its own blind's sort (`sort`), and of a size within its window,
//! both ends included. What the blind lacks there (a wand, returns, brackets) is said beside it. A held
//! opening takes none: what would fit there is not settled.
//!
//! The best comes first: an opening that has no blind ordered yet, then one in the same unit, then one on
//! the same floor, then the nearest size, then the survey's order.

mod offers;
mod sort;
mod takers;
mod windows;

use rayon::prelude::*;

use crate::fitting::Blind;
use crate::frozen::Frozen;
use crate::length::{Length, Units};
use crate::order::{LineKey, Order, OrderLine};
use crate::query::OpeningIndex;
use crate::schema::blinds::BlindState;
use crate::survey::Survey;

use offers::offers;
use takers::Takers;
pub use windows::MOST_COMPARED;

/// Openings that an entry lists at most, the best ones; it counts all.
pub const MOST_LISTED: usize = 20;

/// Blinds that are alike and do not hang yet, and the openings that would take one of them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AlsoFits {
    /// Place of their line among the order's lines.
    pub place: usize,
    /// Their numbers within the line, run by run, both ends included.
    pub numbers: Vec<(u64, u64)>,
    /// How far they have come; `None` before they are ordered.
    pub state: Option<BlindState>,
    /// The openings, best first, at most [`MOST_LISTED`].
    pub fits: Vec<Fit>,
    /// How many openings there are in all, those that are not listed among them.
    pub count: u64,
    /// Whether all were compared; otherwise there may be more, and better ones.
    pub is_all: bool,
}

/// One opening that would take a blind.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Fit {
    /// The opening.
    pub opening: OpeningIndex,
    /// Whether all its blinds are ordered already.
    pub has_ordered: bool,
    /// Width of the blind minus the width that the opening prefers.
    pub wider: Length,
    /// Drop of the blind minus the drop that the opening prefers.
    pub longer: Length,
}

impl AlsoFits {
    /// Every line that some other opening would take a blind of, in order, each with its blinds that are
    /// for no opening after it. `blinds` has one place for each opening of the survey.
    pub fn all(
        survey: &Survey,
        blinds: &[Option<Blind<'_>>],
        frozen: &Frozen<'_>,
        order: &Order,
    ) -> Vec<AlsoFits> {
        let takers = Takers::of(survey, blinds, frozen);
        let lines = order.lines.iter().enumerate();
        let offers: Vec<_> = lines.flat_map(|(place, line)| offers(place, line, frozen)).collect();
        offers.into_par_iter().filter_map(|offer| takers.find(offer)).collect()
    }

    /// How many blinds it is about.
    pub fn blinds(&self) -> u64 {
        self.numbers.iter().map(|(first, last)| last + 1 - first).sum()
    }

    /// `2 of 3`, `1 to 4 of 12`, or that they are all of their line.
    pub fn words(&self, line: &OrderLine) -> String {
        /// Runs of numbers that are named one by one.
        const NAMED: usize = 6;
        if line.quantity > 1 && self.blinds() == line.quantity {
            return "all of the line".to_owned();
        }
        let run = |(first, last): &(u64, u64)| match first == last {
            true => first.to_string(),
            false => format!("{first} to {last}"),
        };
        let runs: Vec<String> = self.numbers.iter().take(NAMED).map(run).collect();
        let more = match self.numbers.len().saturating_sub(NAMED) {
            0 => "",
            _ => " and more",
        };
        format!("{}{more} of {}", runs.join(", "), line.of)
    }
}

/// What a blind of a line would need besides at an opening whose own blind is `blind`, in words.
pub fn needs(key: &LineKey, blind: &Blind<'_>, units: Units) -> Vec<String> {
    let fitted = &blind.fitted;
    let wand = fitted.wand.filter(|&wand| key.wand != Some(wand));
    let brackets = match fitted.brackets.count().saturating_sub(key.brackets) {
        0 => None,
        1 => Some("1 more bracket".to_owned()),
        more => Some(format!("{more} more brackets")),
    };
    let (has, wants) = (key.returns(), fitted.returns());
    let lacking = |side: &str, has: Length, wants: Length| {
        let lacks = wants > Length::ZERO && wants != has;
        lacks.then(|| format!("valance return of {}, {side}", wants.show(units)))
    };
    let returns = [lacking("left", has.left, wants.left), lacking("right", has.right, wants.right)];
    let wand = wand.map(|wand| format!("wand of {}", wand.show(units)));
    [wand, brackets].into_iter().chain(returns).flatten().collect()
}
