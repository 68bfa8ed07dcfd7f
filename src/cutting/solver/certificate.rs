//! What proves that no plan costs less, and why it may not be believed.

use thiserror::Error;

/// What proves a bound: however the pieces are weighed, the bars must hold that weight, and no
/// whole bars that do so by every one of these weighings cost less.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Certificate {
    /// One or several ways to weigh the pieces.
    pub weighings: Vec<Weighing>,
    /// No plan costs less.
    pub cost: u128,
}

/// Weights for the pieces, and how much weight a bar can hold.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Weighing {
    /// What a piece of each item weighs, by the item's position.
    pub weights: Vec<u64>,
    /// What the pieces on one bar of each stock weigh at most, by the stock's position.
    pub most: Vec<u64>,
}

/// Why a plan or its bound is not to be trusted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum Doubt {
    /// An item is cut more or less often than it is wanted.
    #[error("item {item} is cut {cut} times, not {wanted}")]
    Pieces {
        /// The item's position.
        item: usize,
        /// How many the plan cuts.
        cut: u128,
        /// How many are wanted.
        wanted: u64,
    },
    /// The pieces come to more than the bar, or the stock or an item is none of the instance's.
    #[error("pattern {0} is over-full")]
    OverFull(usize),
    /// More bars of a limited stock than there are.
    #[error("more bars of stock {0} are cut than there are")]
    Limit(usize),
    /// The certificate is not one for this instance.
    #[error("the certificate has weights for another instance")]
    OtherInstance,
    /// A bar can hold more weight than the certificate says.
    #[error("a bar of stock {0} can weigh more than is said")]
    Heavier(usize),
    /// The weights do not prove as much as is said.
    #[error("the weights prove a cost of {proved} only")]
    Bound {
        /// What they do prove.
        proved: u128,
    },
    /// The plan costs less than what is said to be the least.
    #[error("the plan costs {cost}, less than the least")]
    UnderBound {
        /// What it costs.
        cost: u128,
    },
    /// The check did not come to its end within the steps allowed to it.
    #[error("the check takes too many steps")]
    TooManySteps,
}
