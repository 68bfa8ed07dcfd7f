//! Which bar each line's pieces come off. The solver knows lengths only; here each piece of a
//! length is given the next line that still needs one.
//!
//! Patterns of as many bars are cut in the order of the earliest order line that they serve: lines
//! are in survey order, so the pieces of an apartment come off the saw near each other. More bars
//! first, as that sets the stop least often.

use std::cmp::Reverse;
use std::collections::{BTreeMap, VecDeque};

use super::check::offcut;
use super::solver::Cut;
use super::{Demand, From, Pattern, Piece};
use crate::length::Length;

/// A kind of bar as the saw knows it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Raw {
    pub(super) length: Length,
    pub(super) from: From,
}

/// Pieces of one length that still need a bar: line after line, spares last.
type Waiting = VecDeque<(Piece, u64)>;

/// Turns the solver's cuts into patterns with their lines. `raws` and `lengths` name the
/// instance's stocks and items, in their order.
pub(super) fn allot(demand: &Demand, mut cuts: Vec<Cut>, raws: &[Raw], lengths: &[Length]) -> Vec<Pattern> {
    let mut waiting = waiting(demand);
    cuts.sort_by_cached_key(|cut| {
        let raw = raws[cut.stock];
        // Of patterns that are sawn as often, the one that serves the earliest line comes first, so
        // that an apartment's pieces come off the saw near each other. Items are numbered from the
        // longest, so of the rest the pattern with the longest pieces sorts first.
        let first_line = first_line(cut, lengths, &waiting);
        (raw.from, Reverse(raw.length), Reverse(cut.bars), first_line, cut.counts.clone())
    });
    let mut patterns = Vec::new();
    for (position, cut) in cuts.iter().enumerate() {
        let raw = raws[cut.stock];
        let mut left = cut.bars;
        while left > 0 {
            let alike = take_alike(cut, left, lengths, &mut waiting);
            patterns.push(Pattern {
                number: position + 1,
                bars: alike.bars,
                stock: raw.length,
                from: raw.from,
                offcut: offcut(raw.length, &alike.pieces, demand.saw),
                pieces: alike.pieces,
                shares: Vec::new(),
            });
            left -= alike.bars;
        }
    }
    patterns
}

fn waiting(demand: &Demand) -> BTreeMap<Length, Waiting> {
    let mut waiting: BTreeMap<Length, Waiting> = BTreeMap::new();
    let spares_last = |(piece, _): &(&Piece, &u64)| (piece.line.is_none(), **piece);
    let mut pieces: Vec<_> = demand.pieces.iter().collect();
    pieces.sort_by_key(spares_last);
    for (piece, count) in pieces {
        waiting.entry(piece.length).or_default().push_back((*piece, *count));
    }
    waiting
}

/// The earliest line that any piece of a pattern could be for; after all others if all are spares.
fn first_line(cut: &Cut, lengths: &[Length], waiting: &BTreeMap<Length, Waiting>) -> usize {
    let first_of = |&(item, _): &(usize, u64)| waiting.get(&lengths[item])?.front()?.0.line;
    cut.counts.iter().filter_map(first_of).min().unwrap_or(usize::MAX)
}

/// Bars with the same pieces for the same lines.
struct Alike {
    bars: u64,
    pieces: Vec<Piece>,
}

/// As many bars as can be given the same lines, up to `most`; at least one.
fn take_alike(cut: &Cut, most: u64, lengths: &[Length], waiting: &mut BTreeMap<Length, Waiting>) -> Alike {
    let mut bars = most;
    let mut shares: Vec<(Piece, u64)> = Vec::new();
    for &(item, count) in &cut.counts {
        let mut needed = count;
        for &(piece, left) in waiting.get(&lengths[item]).into_iter().flatten() {
            if needed == 0 {
                break;
            }
            let share = needed.min(left);
            bars = bars.min(left / share);
            needed -= share;
            shares.push((piece, share));
        }
    }
    let bars = bars.max(1);
    for &(piece, share) in &shares {
        if let Some(queue) = waiting.get_mut(&piece.length) {
            for entry in queue.iter_mut().filter(|entry| entry.0 == piece) {
                entry.1 = entry.1.saturating_sub(share * bars);
            }
            while queue.front().is_some_and(|entry| entry.1 == 0) {
                queue.pop_front();
            }
        }
    }
    let pieces = shares.iter().flat_map(|&(piece, share)| (0..share).map(move |_| piece)).collect();
    Alike { bars, pieces }
}
