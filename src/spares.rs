//! Spare louvers: a share of those that are made, rounded up once for each color and width, as long
//! as the longest. Who makes the blinds cuts them; who buys the blinds orders them finished, and cuts
//! nothing.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::blinds::{Part, Spares};
use crate::length::Length;
use crate::order::Order;
use crate::rounding::percent_up;
use crate::rules::Rules;
use crate::sizing::Release;

/// Spares that can stand in for any of the pieces that they are spares of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Spare {
    /// The part.
    pub part: Part,
    /// Its material.
    pub material: Arc<str>,
    /// Its color; empty for a material without.
    pub color: Arc<str>,
    /// Width of each.
    pub width: Length,
    /// Cut length of each: the longest.
    pub cut: Length,
    /// Finished length of each.
    pub finished: Length,
    /// How many.
    pub count: u64,
    /// The order lines, by number, that they are spares for.
    pub lines: Vec<usize>,
}

/// The pieces of one kind as they are found, line by line.
#[derive(Default)]
struct Alike {
    pieces: u64,
    cut: Length,
    finished: Length,
    least: u64,
    lines: Vec<usize>,
}

/// The spares of every line that is made and may be made now, in order of part, material, color and
/// width.
pub fn of(order: &Order, rules: &Rules) -> Vec<Spare> {
    let mut kinds: BTreeMap<(Part, Arc<str>, Arc<str>, Length), Alike> = BTreeMap::new();
    let made = order.lines.iter().filter(|line| line.key.stock.is_none());
    for line in made.filter(|line| line.key.release == Release::Make) {
        for cut in &*line.key.parts {
            let Some(Spares { width, least }) = cut.spares else { continue };
            let colored = rules.material(&cut.material).is_some_and(|material| material.colored);
            let color = if colored { line.key.color.clone() } else { Arc::from("") };
            let alike = kinds.entry((cut.part, cut.material.clone(), color, width)).or_default();
            alike.pieces += line.quantity * u64::from(cut.each);
            alike.cut = alike.cut.max(cut.length);
            alike.finished = alike.finished.max(line.louvers.map_or(cut.length, |louvers| louvers.length));
            alike.least = alike.least.max(u64::from(least));
            alike.lines.push(line.line);
        }
    }
    let spare = |((part, material, color, width), alike): (_, Alike)| Spare {
        part,
        material,
        color,
        width,
        cut: alike.cut,
        finished: alike.finished,
        count: percent_up(alike.pieces, rules.project.spare_louvers).max(alike.least),
        lines: alike.lines,
    };
    kinds.into_iter().map(spare).filter(|spare| spare.count > 0).collect()
}
