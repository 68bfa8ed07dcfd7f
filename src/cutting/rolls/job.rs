//! What the search for an order of rolls knows: lengths alone. As in the rest of cutting a piece counts
//! with a kerf, and a roll with one more than it gives.

use std::collections::HashMap;

use super::left::Begun;
use crate::cutting::money::{self, OnOffer};
use crate::cutting::{CutFault, Demand};
use crate::length::Length;

/// Kinds of roll on hand that are tried: of more, the longest.
pub(super) const MOST_KINDS: usize = 8;

/// Which sorts of blinds hang on a floor, each once, and the places of their blinds in the demand.
pub(super) type Floor = [(usize, Vec<usize>)];

/// The blinds of one material in one color, and the rolls that they can come from.
pub(super) struct Job {
    /// Blinds that take the same pieces, each sort once.
    pub(super) sorts: Vec<Sort>,
    /// Floor by floor: which sorts hang there, and the places of their blinds in the demand.
    pub(super) floors: Vec<Vec<(usize, Vec<usize>)>>,
    /// The shortest blind of each floor and those after it.
    pub(super) shortest: Vec<i64>,
    /// Rolls on hand, the longest first: what each gives, and how many.
    pub(super) on_hand: Vec<(Length, i64, u32)>,
    /// The rolls on offer, by length.
    pub(super) on_offer: OnOffer,
    /// The longest of them, with which is planned, and what it gives.
    pub(super) roll: (Length, i64),
    /// Length of all blinds.
    pub(super) total: i128,
}

/// Blinds that take the same pieces.
pub(super) struct Sort {
    /// What a piece takes of a roll, the longest first, and how many.
    sizes: Vec<(i64, u64)>,
    pieces: u64,
    /// What all of them take.
    pub(super) total: i64,
    /// Whether it is longer than a roll, so that it may come from more than two.
    pub(super) is_long: bool,
}

impl Job {
    /// # Errors
    /// [`CutFault::CannotBeCut`] if a piece fits no roll.
    pub(super) fn of(demand: &Demand) -> Result<Job, CutFault> {
        let on_offer = money::cheapest_of_each_length(demand);
        let longest = on_offer.keys().next_back().copied().unwrap_or_default();
        let roll = (longest, gives(demand, longest));
        for piece in demand.pieces.keys() {
            if piece.length <= Length::ZERO || takes(demand, piece.length) > roll.1 {
                let (material, length) = (demand.material.clone(), piece.length);
                return Err(CutFault::CannotBeCut { material, length });
            }
        }
        let mut job = Job {
            sorts: Vec::new(),
            floors: Vec::new(),
            shortest: Vec::new(),
            on_hand: Vec::new(),
            on_offer,
            roll,
            total: 0,
        };
        job.enter_blinds(demand);
        job.enter_on_hand(demand);
        Ok(job)
    }

    fn enter_blinds(&mut self, demand: &Demand) {
        // Looked up only, never walked.
        let mut known: HashMap<Vec<(i64, u64)>, usize> = HashMap::new();
        let mut floor = None;
        for (place, blind) in demand.blinds.iter().enumerate() {
            let sizes = blind.pieces.iter().map(|(piece, count)| (takes(demand, piece.length), *count));
            let sizes: Vec<(i64, u64)> = sizes.collect();
            let sort = *known.entry(sizes).or_insert_with_key(|sizes| {
                self.sorts.push(Sort::of(sizes.clone(), self.roll.1));
                self.sorts.len() - 1
            });
            if floor != Some(blind.floor) {
                floor = Some(blind.floor);
                self.floors.push(Vec::new());
                self.shortest.push(i64::MAX);
            }
            self.total += i128::from(self.sorts[sort].total);
            if let (Some(floor), Some(shortest)) = (self.floors.last_mut(), self.shortest.last_mut()) {
                *shortest = self.sorts[sort].total.min(*shortest);
                match floor.iter_mut().find(|(known, _)| *known == sort) {
                    Some((_, places)) => places.push(place),
                    None => floor.push((sort, vec![place])),
                }
            }
        }
        let mut least = i64::MAX;
        for shortest in self.shortest.iter_mut().rev() {
            least = least.min(*shortest);
            *shortest = least;
        }
    }

    /// Rolls on hand that give a piece at all.
    fn enter_on_hand(&mut self, demand: &Demand) {
        let least = demand.pieces.keys().next().map_or(i64::MAX, |piece| takes(demand, piece.length));
        let of_use = demand.offcuts.iter().rev().map(|(&length, &count)| {
            (length, gives(demand, length), u32::try_from(count).unwrap_or(u32::MAX))
        });
        self.on_hand = of_use.filter(|(_, gives, _)| *gives >= least).take(MOST_KINDS).collect();
    }

    /// What all rolls on hand give.
    pub(super) fn all_on_hand(&self) -> i128 {
        self.on_hand.iter().map(|&(_, gives, count)| i128::from(gives) * i128::from(count)).sum()
    }

    /// Counts rolls as begun, of those kinds that are on hand.
    pub(super) fn begin(&self, begun: &mut Begun, kinds: &[usize]) {
        for kind in kinds.iter().filter(|kind| **kind < self.on_hand.len()) {
            begun[*kind] += 1;
        }
    }

    /// What a roll of that kind gives: those on hand, then the one that is bought.
    pub(super) fn given_by(&self, kind: usize) -> i64 {
        self.on_hand.get(kind).map_or(self.roll.1, |(_, gives, _)| *gives)
    }
}

impl Sort {
    fn of(sizes: Vec<(i64, u64)>, roll: i64) -> Sort {
        let pieces = sizes.iter().map(|(_, count)| count).sum();
        let total = sizes.iter().map(|(size, count)| size * count.cast_signed()).sum();
        Sort { sizes, pieces, total, is_long: total > roll }
    }

    /// How many of its pieces from that one on come out of so much, in their order, and what they take.
    pub(super) fn fill(&self, from: u64, room: i64) -> (u64, i64) {
        let (mut skip, mut left, mut filled) = (from, room, 0);
        for &(size, count) in &self.sizes {
            let here = count.saturating_sub(skip);
            skip = skip.saturating_sub(count);
            let fit = u64::try_from(left / size).unwrap_or(0).min(here);
            filled += fit;
            left -= size * fit.cast_signed();
            if fit < here {
                break;
            }
        }
        (filled, room - left)
    }

    /// Whether so many pieces are all of them.
    pub(super) fn is_whole(&self, pieces: u64) -> bool {
        pieces >= self.pieces
    }
}

/// What a piece takes of a roll.
pub(super) fn takes(demand: &Demand, piece: Length) -> i64 {
    (piece + demand.saw.kerf).nm()
}

/// What a roll gives.
pub(super) fn gives(demand: &Demand, raw: Length) -> i64 {
    (raw - demand.saw.trim * 2 + demand.saw.kerf).nm()
}
