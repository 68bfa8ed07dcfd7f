//! From an order of rolls to the rolls themselves, with every piece on them, and spare pieces from what is
//! left.

use std::cmp::Reverse;
use std::collections::{BinaryHeap, VecDeque};

use super::job::{Job, gives, takes};
use super::search::{Found, Move};
use super::state::{MOST_WAITING, Onto};
use crate::cutting::blind::BlindId;
use crate::cutting::{Demand, From, Piece};
use crate::length::Length;

/// A roll and what is cut from it.
pub(super) struct Roll {
    pub(super) raw: Length,
    pub(super) from: From,
    pub(super) parts: Vec<Part>,
    /// What it still gives.
    room: i64,
}

/// What is cut from a roll in one go.
pub(super) struct Part {
    /// `None` for spares.
    pub(super) blind: Option<BlindId>,
    /// Its pieces in the order of cutting, and how many of each: the louvers of a blind are alike.
    pub(super) pieces: Vec<(Piece, u64)>,
    /// When it is cut, from 0.
    pub(super) turn: usize,
}

impl Part {
    /// Its pieces in the order of cutting.
    pub(super) fn one_by_one(&self) -> impl Iterator<Item = Piece> {
        self.pieces.iter().flat_map(|&(piece, count)| (0..count).map(move |_| piece))
    }
}

/// The rolls in the order in which they are begun: those on hand, then those that are bought.
pub(super) fn lay(demand: &Demand, job: &Job, found: &Found) -> Vec<Roll> {
    let mut bench = Bench { demand, job, rolls: Vec::new(), in_use: None, waiting: Vec::new(), turns: 0 };
    let mut moves = found.moves.iter();
    for (floor, &shortest) in job.floors.iter().zip(&job.shortest) {
        let mut blinds: Vec<(usize, VecDeque<usize>)> =
            floor.iter().map(|(sort, places)| (*sort, places.iter().copied().collect())).collect();
        let on_floor = blinds.iter().map(|(_, places)| places.len()).sum();
        for step in moves.by_ref().take(on_floor) {
            let of_sort = blinds.iter_mut().find(|(sort, _)| *sort == step.sort);
            if let Some(place) = of_sort.and_then(|(_, places)| places.pop_front()) {
                bench.cut(place, step, shortest);
            }
        }
    }
    bench.cut_spares();
    bench.rolls.sort_by_key(|roll| roll.from != From::Offcut);
    for roll in bench.rolls.iter_mut().filter(|roll| roll.from == From::Bar) {
        roll.buy_cheapest(demand, job);
    }
    bench.rolls
}

/// How many of the rolls are bought.
pub(super) fn bought(rolls: &[Roll]) -> u64 {
    rolls.iter().map(|roll| u64::from(roll.from == From::Bar)).sum()
}

/// Pieces that are still to be cut, and how many of each.
type Pieces = VecDeque<(Piece, u64)>;

/// The rolls as they are cut.
struct Bench<'d> {
    demand: &'d Demand,
    job: &'d Job,
    rolls: Vec<Roll>,
    in_use: Option<usize>,
    /// Those whose rests wait, the longest first.
    waiting: Vec<usize>,
    turns: usize,
}

impl Bench<'_> {
    /// Cuts a blind as the search has it.
    fn cut(&mut self, place: usize, step: &Move, least: i64) {
        let blind = &self.demand.blinds[place];
        let mut pieces: Pieces = blind.pieces.iter().copied().collect();
        match &step.onto {
            Onto::InUse => self.cut_from(self.in_use, blind.blind, &mut pieces),
            Onto::Waiting(rest) => {
                self.cut_from(self.waiting.get(*rest).copied(), blind.blind, &mut pieces);
            }
            Onto::Next { torn, kind } => self.cut_on(&[*kind], *torn, blind.blind, &mut pieces),
            Onto::Several { torn, kinds } => self.cut_on(kinds, *torn, blind.blind, &mut pieces),
        }
        let rolls = &self.rolls;
        self.waiting.sort_by_key(|&roll| Reverse(rolls[roll].room));
        self.waiting.truncate(MOST_WAITING);
        self.waiting.retain(|&roll| rolls[roll].room >= least);
    }

    /// Cuts a blind from the next rolls; before that from the end of the one in use if it is torn there.
    fn cut_on(&mut self, kinds: &[usize], torn: bool, blind: BlindId, pieces: &mut Pieces) {
        if torn {
            self.cut_from(self.in_use, blind, pieces);
        } else {
            self.waiting.extend(self.in_use);
        }
        for &kind in kinds {
            let (raw, from) = match self.job.on_hand.get(kind) {
                Some((raw, _, _)) => (*raw, From::Offcut),
                None => (self.job.roll.0, From::Bar),
            };
            self.begin(raw, from);
            self.cut_from(self.in_use, blind, pieces);
        }
    }

    fn begin(&mut self, raw: Length, from: From) {
        self.rolls.push(Roll { raw, from, parts: Vec::new(), room: gives(self.demand, raw) });
        self.in_use = Some(self.rolls.len() - 1);
    }

    /// Cuts as many of the pieces as the roll gives, in their order.
    fn cut_from(&mut self, roll: Option<usize>, blind: BlindId, pieces: &mut Pieces) {
        let Some(roll) = roll.and_then(|roll| self.rolls.get_mut(roll)) else { return };
        let mut cut = Vec::new();
        while let Some((piece, count)) = pieces.front_mut() {
            let size = takes(self.demand, piece.length);
            let fit = u64::try_from(roll.room / size).unwrap_or(0).min(*count);
            if fit > 0 {
                cut.push((*piece, fit));
                roll.room -= size * fit.cast_signed();
            }
            if fit < *count {
                *count -= fit;
                break;
            }
            pieces.pop_front();
        }
        roll.parts.push(Part { blind: Some(blind), pieces: cut, turn: self.turns });
        self.turns += 1;
    }

    /// Spares come from what is left, the longest first and from the longest rest; then from what is on
    /// hand and was not begun, then from new rolls.
    fn cut_spares(&mut self) {
        let mut unused = self.demand.offcuts.clone();
        for roll in self.rolls.iter().filter(|roll| roll.from == From::Offcut) {
            if let Some(count) = unused.get_mut(&roll.raw) {
                *count = count.saturating_sub(1);
            }
        }
        let mut rests: BinaryHeap<(_, Reverse<usize>)> =
            (0..).zip(&self.rolls).map(|(place, roll)| (roll.room, Reverse(place))).collect();
        let spares = self.demand.pieces.iter().rev().filter(|(piece, _)| piece.line.is_none());
        for (&piece, &count) in spares {
            for _ in 0..count {
                let size = takes(self.demand, piece.length);
                let roll = match rests.peek().copied().filter(|(room, _)| *room >= size) {
                    Some((_, Reverse(longest))) => {
                        rests.pop();
                        longest
                    }
                    None => {
                        let on_hand = unused.iter_mut().next_back();
                        match on_hand.filter(|(raw, _)| gives(self.demand, **raw) >= size) {
                            Some((&raw, count)) => {
                                *count -= 1;
                                self.begin(raw, From::Offcut);
                            }
                            None => self.begin(self.job.roll.0, From::Bar),
                        }
                        self.rolls.len() - 1
                    }
                };
                unused.retain(|_, count| *count > 0);
                self.spare_from(roll, piece);
                rests.push((self.rolls[roll].room, Reverse(roll)));
            }
        }
    }

    fn spare_from(&mut self, roll: usize, piece: Piece) {
        let roll = &mut self.rolls[roll];
        roll.room -= takes(self.demand, piece.length);
        match roll.parts.last_mut().filter(|part| part.blind.is_none()) {
            Some(part) => match part.pieces.last_mut().filter(|(last, _)| *last == piece) {
                Some((_, count)) => *count += 1,
                None => part.pieces.push((piece, 1)),
            },
            None => {
                roll.parts.push(Part { blind: None, pieces: vec![(piece, 1)], turn: self.turns });
                self.turns += 1;
            }
        }
    }
}

impl Roll {
    /// Takes the cheapest length on offer that gives all that is cut from it. Without every price it stays
    /// the longest.
    fn buy_cheapest(&mut self, demand: &Demand, job: &Job) {
        let taken = gives(demand, self.raw) - self.room;
        let of_use = job.on_offer.iter().filter(|(raw, _)| gives(demand, **raw) >= taken);
        let priced: Option<Vec<_>> = of_use.map(|(raw, price)| Some(((*price)?, *raw))).collect();
        if let Some((_, raw)) = priced.and_then(|priced| priced.into_iter().min()) {
            self.room += (raw - self.raw).nm();
            self.raw = raw;
        }
    }
}
