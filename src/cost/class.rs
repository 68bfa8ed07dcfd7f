//! The class of an estimate: how far what it rests on is settled.
//!
//! An opening is settled once its blind is sized from a tape and released, or ordered, and nothing that
//! it needs is without a price; a blind, or a bar, at a built-in example price is not priced. The classes
//! and what they typically come to are those of AACE International Recommended Practice 18R-97, as cited at
//! second hand. Its classes overlap: of two that would do, the one that promises less is taken.

/// A class: from 5, a guess, to 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Class {
    /// Its number.
    pub number: u32,
    /// Per cent that the cost typically comes to below the estimate, smallest and largest.
    below: [u32; 2],
    /// Per cent above it.
    above: [u32; 2],
    /// Per cent settled up to which the class holds.
    up_to: u32,
}

const CLASSES: [Class; 5] = [
    Class { number: 5, below: [20, 50], above: [30, 100], up_to: 2 },
    Class { number: 4, below: [15, 30], above: [20, 50], up_to: 15 },
    Class { number: 3, below: [10, 20], above: [10, 30], up_to: 40 },
    Class { number: 2, below: [5, 15], above: [5, 20], up_to: 75 },
    Class { number: 1, below: [3, 10], above: [3, 15], up_to: 100 },
];

impl Class {
    /// The class of an estimate of which so many openings of all are settled; 5 where there are none.
    pub(super) fn of(settled: u64, all: u64) -> Class {
        let (settled, all) = (u128::from(settled) * 100, u128::from(all));
        let holds = |class: &&Class| settled <= u128::from(class.up_to) * all;
        CLASSES.iter().find(holds).copied().unwrap_or(CLASSES[4])
    }

    /// What the class says, of so many openings settled.
    pub(super) fn in_words(self, settled: u64, all: u64) -> String {
        let Class { number, below: [below, far_below], above: [above, far_above], .. } = self;
        format!(
            "Class {number} (AACE 18R-97): {settled} of {all} openings are sized from a tape and priced. Such \
             totals typically end {below}-{far_below} % lower to {above}-{far_above} % higher."
        )
    }
}
