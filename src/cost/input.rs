//! What rates are made of, so that one price moves every line that uses it.

use std::borrow::Cow;

use rust_decimal::Decimal;

use super::RateFrom;
use crate::rules::known_as;

/// A price, a rate or a share that any number of lines use.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Input {
    /// What it is, such as `labor rate`.
    pub name: String,
    /// What it is for one of: `h`, `each`, `m2`, `bar`; `%` for a share.
    pub unit: Cow<'static, str>,
    /// The price, or the share (0.05 for 5 %); `None` if unknown.
    pub value: Option<Decimal>,
    /// The survey's own, where another was typed over it; else the same.
    pub printed: Option<Decimal>,
    /// Where it comes from.
    pub from: RateFrom,
}

impl Input {
    /// The name by which a later run knows it again.
    pub fn known_as(&self) -> String {
        known_as(&self.name, &self.unit)
    }
}

/// What the rate of a line is made of; an input is named by its position in
/// [`Cost::inputs`](super::Cost::inputs).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RateOf {
    /// No other line uses it.
    Itself,
    /// What a blind cost when it was ordered; that is changed on `Blinds`.
    AsOrdered,
    /// An input as it is.
    Input(usize),
    /// An input times so many, rounded once.
    Times(usize, Decimal),
    /// A price each and a price of so many square meters, rounded once.
    Area {
        /// The price each.
        each: usize,
        /// The price of a square meter.
        per_m2: usize,
        /// Square meters charged.
        m2: Decimal,
    },
    /// A share that comes off.
    Less(usize),
}

/// What the openings' parts of a line's quantity are counted in: pieces of a pack, meters of a bar.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Measure {
    /// Its name.
    pub unit: &'static str,
    /// How many there are in one of what the line counts.
    pub in_one: Decimal,
}

impl Measure {
    /// One of what the line counts.
    pub const fn one(unit: &'static str) -> Measure {
        Measure { unit, in_one: Decimal::ONE }
    }
}
