//! The one-dimensional cutting-stock problem, on whole numbers: pieces to bars of one or several
//! lengths with prices, some of them limited, at the least cost that can be found, with a proof of
//! how little any plan can cost. Knows nothing of blinds, and could stand as a library of its own.
//!
//! The stages, each only if the one before did not meet the bound ([`solve`]):
//!
//! 1. [`correction`]: first-fit decreasing, then sequential value correction: a good plan at once.
//! 2. [`generate`]: the relaxation in which bars may be cut in fractions, by column generation: a
//!    [`master`] program prices the pieces, a [`knapsack`] finds bars worth more than they cost,
//!    [`columns`] keeps them. The prices, in whole numbers, give the [`bound`].
//! 3. [`dive`]: whole bars from fractions, with columns generated anew for what is left; if that
//!    fails, once more from fractions that waste as little as can be. Where bars have several
//!    prices, [`buying`] first chooses which, by a [`covering`] program, and dives among just
//!    those; what is left to gain is gained in places ([`mend`]).
//! 4. [`polish`]: fewer patterns and longer offcuts, where they are free.
//!
//! Floating-point numbers steer the search; no plan and no bound rests on one. A plan comes with
//! the whole-number weights that prove its bound, and [`check`](mod@check) and [`whole_bars`] test both
//! by other means.
//! Effort is counted in steps ([`Work`]), so every machine finds the same plan.

mod bound;
mod buying;
mod certificate;
mod check;
mod columns;
mod correction;
mod covering;
mod dive;
mod generate;
mod instance;
mod knapsack;
mod master;
mod mend;
mod plan;
mod polish;
mod solve;
mod whole_bars;
mod work;

pub use certificate::{Certificate, Doubt, Weighing};
pub use check::check;
pub use instance::{Instance, Item, Misfit, Stock};
pub use knapsack::Counts;
pub use plan::Cut;
pub use solve::{Solution, solve};
pub use work::Work;
