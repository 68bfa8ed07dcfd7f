//! A plan and the weights that prove its bound, as text that a person or a program can check
//! (`tests/reference/proofs.py` does):
//!
//! ```text
//!   cut 2 of bar 1: 3 x 1803, 1 x 300     # two bars of the first `stock` line
//!   weighing                              # one or several
//!   weight 1803: 25                       # of a piece of that length
//!   holds 1: 75                           # no pieces on one such bar weigh more
//! ```
//!
//! Whatever bars are bought must hold what all pieces weigh, by every weighing, and no whole bars
//! that do so cost less than the bound.

use std::fmt::Write;

use crate::problems::Problem;
use sillbook::cutting::solver::Solution;

/// The lines, each with its end.
pub fn lines(problem: &Problem, solution: &Solution) -> Result<String, std::fmt::Error> {
    let mut text = String::new();
    for cut in &solution.cuts {
        let piece = |&(item, count): &(usize, u64)| format!("{count} x {}", problem.lengths[item]);
        let pieces: Vec<String> = cut.counts.iter().map(piece).collect();
        writeln!(text, "  cut {} of bar {}: {}", cut.bars, cut.stock + 1, pieces.join(", "))?;
    }
    for weighing in &solution.certificate.weighings {
        writeln!(text, "  weighing")?;
        for (length, weight) in problem.lengths.iter().zip(&weighing.weights) {
            writeln!(text, "  weight {length}: {weight}")?;
        }
        for (stock, most) in weighing.most.iter().enumerate() {
            writeln!(text, "  holds {}: {most}", stock + 1)?;
        }
    }
    Ok(text)
}
