//! The parts that a blind is cut from. A family makes the list; order, cutting and cost read it.

use std::sync::Arc;

use crate::length::Length;

/// A part, by the name that the sheets give it. Each family has its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Part(&'static str);

impl Part {
    /// A part of that name.
    pub const fn named(word: &'static str) -> Part {
        Part(word)
    }

    /// The part's name in the words of the trade.
    pub const fn word(self) -> &'static str {
        self.0
    }
}

/// What one blind needs of a part.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct CutPart {
    /// The part.
    pub part: Part,
    /// Its material, as `Bars` names it.
    pub material: Arc<str>,
    /// Cut length of each.
    pub length: Length,
    /// How many.
    pub each: u32,
    /// Which spares are cut for it; `None` for a part without.
    pub spares: Option<Spares>,
}

/// Spares of a part: a share of the project's pieces that are alike, cut at the longest length.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Spares {
    /// Pieces of one material and color are alike where they are as wide.
    pub width: Length,
    /// The least number of spares of pieces alike.
    pub least: u32,
}

impl CutPart {
    /// One piece of a part, without spares.
    pub fn one(part: Part, material: &Arc<str>, length: Length) -> CutPart {
        CutPart { part, material: Arc::clone(material), length, each: 1, spares: None }
    }
}
