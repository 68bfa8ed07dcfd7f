//! How many blinds come from more than one roll where any piece is cut from any of them.

use std::collections::HashMap;

use crate::cutting::{Demand, Pattern, Piece};

/// The blinds torn apart if each roll's pieces go to the next blinds of their lines, as the cut list has
/// them: what is begun is finished before another is begun. `None` where no blind is known.
pub(in crate::cutting) fn torn_apart(demand: &Demand, patterns: &[Pattern]) -> Option<u64> {
    if demand.blinds.is_empty() {
        return None;
    }
    let each: HashMap<Piece, u64> =
        demand.blinds.iter().flat_map(|blind| blind.pieces.iter().copied()).collect();
    let mut cut: HashMap<Piece, u64> = HashMap::new();
    // The roll of each blind that is begun, or none if it is torn already, by its line and its place there.
    let mut from: HashMap<(Option<usize>, u64), Option<u64>> = HashMap::new();
    let (mut torn, mut roll) = (0, 0);
    for pattern in patterns {
        for _ in 0..pattern.bars {
            roll += 1;
            for piece in pattern.pieces.iter().filter(|piece| piece.line.is_some()) {
                let cut = cut.entry(*piece).or_default();
                let blind = *cut / each.get(piece).copied().unwrap_or(1).max(1);
                *cut += 1;
                let known = from.entry((piece.line, blind)).or_insert(Some(roll));
                if known.is_some_and(|known| known != roll) {
                    *known = None;
                    torn += 1;
                }
            }
        }
    }
    Some(torn)
}
