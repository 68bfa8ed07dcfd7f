//! A material as the saw knows it: how it is cut, and all its stock lengths.

use super::{Bar, Material, Rules, StockName};
use crate::length::Length;

/// A material with all its stock lengths.
#[derive(Clone, Debug)]
pub struct Stocked<'r> {
    /// The material.
    pub material: &'r Material,
    /// Its bars, in the order of the list. Never empty.
    pub bars: Vec<&'r Bar>,
}

/// How a material is cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Saw {
    /// What the saw takes between two pieces.
    pub kerf: Length,
    /// What comes off each raw end, its own cut included.
    pub trim: Length,
    /// Offcuts of at least this length are kept.
    pub least_useful: Length,
}

impl Material {
    /// How it is cut.
    pub fn saw(&self) -> Saw {
        Saw { kerf: self.kerf, trim: self.trim, least_useful: self.least_useful }
    }

    /// The longest piece that a new bar of it gives: the bar less the trims of both raw ends.
    pub fn longest_piece(&self, bar: &Bar) -> Length {
        bar.length - self.trim * 2
    }
}

impl Rules {
    /// The material of that name.
    pub fn material(&self, name: &str) -> Option<&Material> {
        self.materials.iter().find(|material| &*material.name == name)
    }

    /// The material of that name with its bars; `None` if it has no bar to be cut from.
    pub fn stocked(&self, name: &str) -> Option<Stocked<'_>> {
        let material = self.material(name)?;
        let bars: Vec<&Bar> = self.bars.iter().filter(|bar| &*bar.material == name).collect();
        (!bars.is_empty()).then_some(Stocked { material, bars })
    }

    /// What a stock length of a material is called.
    pub fn stock_name(&self, name: &str) -> StockName {
        self.material(name).map_or(StockName::Bar, |material| material.stock_name)
    }

    /// The longest piece that any new bar of a material gives; `None` if it has no bar.
    pub fn longest_piece(&self, name: &str) -> Option<Length> {
        let material = self.material(name)?;
        let bars = self.bars.iter().filter(|bar| &*bar.material == name);
        bars.map(|bar| material.longest_piece(bar)).max()
    }
}
