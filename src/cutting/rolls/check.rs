//! The check of an order of rolls. It shares nothing with the search: it goes through the cuts in turn, as
//! the person at the roll does.

use std::collections::BTreeMap;

use super::state::MOST_WAITING;
use crate::cutting::blind::{BlindId, BlindToCut};
use crate::cutting::{Demand, From, Pattern, Piece, PlanFault, Share};
use crate::length::Length;

/// Goes through an order of rolls; says how many blinds are torn.
///
/// # Errors
/// The first thing that does not agree with the order of use, a blind's pieces, or what may be torn.
pub(in crate::cutting) fn check_rolls(demand: &Demand, patterns: &[Pattern]) -> Result<u64, PlanFault> {
    let mut cuts = in_turn(patterns)?;
    if let Some(early) =
        patterns.windows(2).find(|pair| pair[0].from == From::Bar && pair[1].from == From::Offcut)
    {
        return Err(PlanFault::OnHandLate { number: early[1].number });
    }
    let spares = cuts.split_off(cuts.iter().position(|cut| cut.share.blind.is_none()).unwrap_or(cuts.len()));
    if let Some(late) = spares.iter().find(|cut| cut.share.blind.is_some()) {
        return Err(PlanFault::OutOfTurn { turn: late.share.turn });
    }
    let blinds: BTreeMap<BlindId, &BlindToCut> =
        demand.blinds.iter().map(|blind| (blind.blind, blind)).collect();
    let mut uses = Uses::of(&cuts, patterns.len());
    let (mut torn, mut done, mut floor) = (0, 0, 0);
    for of_blind in cuts.chunk_by(|one, other| one.share.blind == other.share.blind) {
        let Some(blind) = of_blind[0].share.blind else { continue };
        let Some(known) = blinds.get(&blind) else {
            return Err(PlanFault::BlindPieces { blind });
        };
        // A blind that is cut twice is one too many at the end.
        done += 1;
        let cut: Vec<Piece> = of_blind.iter().flat_map(|cut| cut.pieces).copied().collect();
        let wanted = known.pieces.iter().flat_map(|&(piece, count)| (0..count).map(move |_| piece));
        if !cut.iter().copied().eq(wanted) {
            return Err(PlanFault::BlindPieces { blind });
        }
        if known.floor < floor {
            return Err(PlanFault::OutOfTurn { turn: of_blind[0].share.turn });
        }
        floor = known.floor;
        if of_blind.len() > 2 && !is_longer_than_a_roll(demand, &cut) {
            return Err(PlanFault::TornTwice { blind });
        }
        torn += u64::from(of_blind.len() > 1);
        for (place, cut) in of_blind.iter().enumerate() {
            uses.cut(cut, (place, of_blind.len()))?;
        }
    }
    match done == demand.blinds.len() {
        true => Ok(torn),
        false => Err(PlanFault::Blinds { cut: done, needed: demand.blinds.len() }),
    }
}

/// What is cut from a roll in one go.
struct Cut<'p> {
    roll: usize,
    /// Whether it is the first of its roll, and the last.
    is_first: bool,
    share: &'p Share,
    pieces: &'p [Piece],
}

/// Every go in its turn. Each roll is one, its pieces are all in some go, and no turn comes twice.
fn in_turn(patterns: &[Pattern]) -> Result<Vec<Cut<'_>>, PlanFault> {
    let mut cuts = Vec::new();
    for (roll, pattern) in patterns.iter().enumerate() {
        let number = pattern.number;
        if pattern.bars != 1 || number != roll + 1 {
            return Err(PlanFault::NotOneRoll { number });
        }
        let mut rest = pattern.pieces.as_slice();
        for (place, share) in pattern.shares.iter().enumerate() {
            let Some((pieces, others)) = rest.split_at_checked(share.pieces).filter(|_| share.pieces > 0)
            else {
                return Err(PlanFault::NotOneRoll { number });
            };
            rest = others;
            cuts.push(Cut { roll, is_first: place == 0, share, pieces });
        }
        let rising = pattern.shares.is_sorted_by_key(|share| share.turn);
        if !rest.is_empty() || !rising {
            return Err(PlanFault::NotOneRoll { number });
        }
    }
    cuts.sort_by_key(|cut| cut.share.turn);
    match cuts.iter().enumerate().find(|(turn, cut)| cut.share.turn != *turn) {
        Some((turn, _)) => Err(PlanFault::OutOfTurn { turn }),
        None => Ok(cuts),
    }
}

/// The rolls in use as the cuts go on.
struct Uses {
    /// The roll that was begun last.
    newest: Option<usize>,
    /// The last turn of a blind on each roll.
    last: Vec<Option<usize>>,
    /// Rolls that were begun before the newest and still have a blind to come.
    waiting: Vec<usize>,
}

impl Uses {
    fn of(cuts: &[Cut<'_>], rolls: usize) -> Uses {
        let mut last = vec![None; rolls];
        for cut in cuts {
            last[cut.roll] = Some(cut.share.turn);
        }
        Uses { newest: None, last, waiting: Vec::new() }
    }

    /// One go; `part` is which of how many of its blind.
    fn cut(&mut self, cut: &Cut<'_>, part: (usize, usize)) -> Result<(), PlanFault> {
        let turn = cut.share.turn;
        let out_of_turn = Err(PlanFault::OutOfTurn { turn });
        let (place, parts) = part;
        let neighbors =
            cut.share.blind.map_or(out_of_turn.clone(), |blind| Err(PlanFault::TornTwice { blind }));
        if self.newest.is_none_or(|newest| cut.roll > newest) {
            // The next one that has a blind, begun with this one.
            let from = self.newest.map_or(0, |newest| newest + 1);
            if !cut.is_first || self.last[from..cut.roll].iter().any(Option::is_some) {
                return out_of_turn;
            }
            self.waiting.extend(self.newest);
            self.newest = Some(cut.roll);
        } else if place > 0 {
            return neighbors;
        } else if self.newest != Some(cut.roll) && parts > 1 {
            // A rest that waits gives a blind whole.
            return neighbors;
        }
        // What is torn takes the end of its roll.
        if place + 1 < parts && self.last[cut.roll] != Some(turn) {
            return neighbors;
        }
        let last = &self.last;
        self.waiting.retain(|&roll| last[roll].is_some_and(|last| last > turn));
        match self.waiting.len() {
            ..=MOST_WAITING => Ok(()),
            _ => Err(PlanFault::TooManyWait { turn }),
        }
    }
}

/// Whether no roll on offer gives all these pieces.
fn is_longer_than_a_roll(demand: &Demand, pieces: &[Piece]) -> bool {
    let longest = demand.bars.iter().map(|bar| bar.length).max().unwrap_or_default();
    let taken: Length = pieces.iter().map(|piece| piece.length + demand.saw.kerf).sum();
    taken - demand.saw.kerf > longest - demand.saw.trim * 2
}
