//! Materials that parts are cut from, and offcuts on hand.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::Rules;
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

/// A material with all its stock lengths.
#[derive(Clone, Debug)]
pub struct Material<'r> {
    /// Its name.
    pub name: &'r Arc<str>,
    /// Its bars, in the order of the list. Never empty.
    pub bars: Vec<&'r Bar>,
    /// How each of them is cut.
    pub saw: Saw,
    /// Whether any of them comes in the blind's colours.
    pub coloured: bool,
}

/// How a material is cut. Its bars go through one saw: where their rows differ, the largest figure
/// holds for all of them, so that no plan asks for more than a bar gives.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Saw {
    /// What the saw takes between two pieces.
    pub kerf: Length,
    /// What comes off each raw end, its own cut included.
    pub trim: Length,
    /// Offcuts of at least this length are kept.
    pub least_useful: Length,
}

impl Rules {
    /// The material of that name; `None` if it has no bar to be cut from.
    pub fn material(&self, name: &str) -> Option<Material<'_>> {
        let bars: Vec<&Bar> = self.bars.iter().filter(|bar| &*bar.material == name).collect();
        let most = |figure: fn(&Bar) -> Length| bars.iter().map(|bar| figure(bar)).max().unwrap_or_default();
        let saw = Saw {
            kerf: most(|bar| bar.kerf),
            trim: most(|bar| bar.trim),
            least_useful: most(|bar| bar.least_useful),
        };
        let coloured = bars.iter().any(|bar| bar.coloured);
        Some(Material { name: &bars.first()?.material, bars, saw, coloured })
    }

    /// The longest piece that the bars of a material give; `None` if it has none.
    pub fn longest_piece(&self, material: &str) -> Option<Length> {
        self.material(material).map(|material| material.longest_piece())
    }
}

impl Material<'_> {
    /// The longest piece that can be cut, this length allowed: a longer one is a stop at its opening.
    pub fn longest_piece(&self) -> Length {
        let longest = self.bars.iter().map(|bar| bar.length).max().unwrap_or_default();
        longest - self.saw.trim * 2
    }
}
