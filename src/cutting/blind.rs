//! The blinds of the order one by one, in the order in which their pieces are cut: by phase, building,
//! floor, unit and line, each of these in the order in which the survey first names it.

use std::collections::HashMap;
use std::hash::Hash;
use std::sync::Arc;

use super::Piece;
use crate::order::{OrderLine, Seat};
use crate::query::OpeningIndex;
use crate::rules::CostBasis;
use crate::survey::{Opening, Survey};

/// One blind: that of an opening, or one of those of a row that stands for several.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct BlindId {
    /// Its opening.
    pub opening: OpeningIndex,
    /// Which of the opening's blinds, from 1.
    pub number: u32,
}

/// What is cut of one material for one blind.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BlindToCut {
    /// The blind.
    pub blind: BlindId,
    /// Its floor, in one phase and building: a number that rises in the order of cutting.
    pub floor: usize,
    /// Its pieces, the longest first, and how many of each.
    pub pieces: Arc<[(Piece, u64)]>,
}

/// A blind of the order when its turn comes.
pub(super) struct Turn {
    pub(super) line: usize,
    pub(super) blind: BlindId,
    pub(super) floor: usize,
}

/// The blinds of some lines in the order of cutting.
pub(super) fn one_by_one<'o>(
    lines: impl Iterator<Item = &'o OrderLine>,
    survey: &Survey,
    basis: CostBasis,
) -> Vec<Turn> {
    let ranks = Ranks::of(survey);
    let rows = lines.flat_map(|line| {
        let seats = line.seats.iter().filter(|seat| seat.is_to_cut(basis));
        seats.map(|seat| (line.line, seat))
    });
    let ranked = |(line, seat): (usize, &Seat)| {
        let opening = seat.opening?;
        Some((*ranks.0.get(opening)?, line, opening, seat.count()))
    };
    let mut rows: Vec<(Rank, usize, OpeningIndex, u64)> = rows.filter_map(ranked).collect();
    rows.sort_unstable();
    let mut turns = Vec::new();
    let mut floors = 0;
    let mut before = None;
    // An opening may have blinds in several lines; each of them has a number of its own.
    let mut numbers: HashMap<OpeningIndex, u32> = HashMap::new();
    for (rank, line, opening, blinds) in rows {
        if before.is_some_and(|before| before != rank.floor()) {
            floors += 1;
        }
        before = Some(rank.floor());
        let number = numbers.entry(opening).or_insert(0);
        turns.extend((0..blinds).map(|_| {
            *number += 1;
            Turn { line, blind: BlindId { opening, number: *number }, floor: floors }
        }));
    }
    turns
}

/// Where an opening comes by its phase, building, floor and unit.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Rank([usize; 4]);

impl Rank {
    fn floor(self) -> [usize; 3] {
        let [phase, building, floor, _] = self.0;
        [phase, building, floor]
    }
}

/// The rank of each opening.
struct Ranks(Vec<Rank>);

impl Ranks {
    fn of(survey: &Survey) -> Ranks {
        let (mut phases, mut buildings) = (Known::default(), Known::default());
        let (mut floors, mut units) = (Known::default(), Known::default());
        let rank = |opening: &Opening| {
            let who = &opening.who;
            Rank([
                phases.place(who.phase.clone()),
                buildings.place(who.building.clone()),
                floors.place((who.building.clone(), who.floor.clone())),
                units.place((who.building.clone(), who.unit.clone())),
            ])
        };
        Ranks(survey.openings.iter().map(rank).collect())
    }
}

/// What was named so far, by the order of its first naming. Looked up only, never walked.
struct Known<K>(HashMap<K, usize>);

impl<K> Default for Known<K> {
    fn default() -> Known<K> {
        Known(HashMap::new())
    }
}

impl<K: Hash + Eq> Known<K> {
    fn place(&mut self, key: K) -> usize {
        let next = self.0.len();
        *self.0.entry(key).or_insert(next)
    }
}
