//! A material as the saw knows it: all its stock lengths, and how they are cut.

use std::sync::Arc;

use super::{Bar, Rules};
use crate::length::Length;

/// A material with all its stock lengths.
#[derive(Clone, Debug)]
pub struct Material<'r> {
    /// Its name.
    pub name: &'r Arc<str>,
    /// Its bars, in the order of the list. Never empty.
    pub bars: Vec<&'r Bar>,
    /// How each of them is cut.
    pub saw: Saw,
    /// Whether it comes in the blind's colors.
    pub colored: bool,
}

/// How a material is cut: bars of one material that differ in this are refused when rules are read.
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
        let first = *bars.first()?;
        let saw = Saw { kerf: first.kerf, trim: first.trim, least_useful: first.least_useful };
        Some(Material { name: &first.material, colored: first.colored, saw, bars })
    }
}
