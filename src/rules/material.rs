//! Materials that parts are cut from, and offcuts on hand.

use std::sync::Arc;

use rust_decimal::Decimal;

use crate::length::Length;

/// A stock length of a material. A material may have several, of different lengths.
#[derive(Clone, Debug)]
pub struct Bar {
    /// The material, such as `rail` or `fabric-89`.
    pub material: Arc<str>,
    /// Length of the bar or roll.
    pub length: Length,
    /// Price of one; `None` if not known.
    pub price: Option<Decimal>,
    /// What the saw takes between two pieces.
    pub kerf: Length,
    /// What comes off each raw end, its own cut included.
    pub trim: Length,
    /// Offcuts of at least this length are kept.
    pub least_useful: Length,
    /// Whether it comes in the blind's colours; a tilt rod does not.
    pub coloured: bool,
}

/// Offcuts on hand.
#[derive(Clone, Debug)]
pub struct Offcut {
    /// The material.
    pub material: Arc<str>,
    /// Its colour; empty for a material without.
    pub colour: Arc<str>,
    /// Length, raw.
    pub length: Length,
    /// How many.
    pub quantity: u32,
}

impl Bar {
    /// The longest piece that a new bar of this length gives: it less the trims of both raw ends.
    pub fn longest_piece(&self) -> Length {
        self.length - self.trim * 2
    }
}
