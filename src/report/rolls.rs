//! Rolls as the person at the cutting table works them: from which roll, blind by blind, in turn. A roll is
//! taken up once, and again where its rest waited for a later blind.

use crate::cutting::{CutPlan, Pattern, Piece, Share};
use crate::length::Length;

/// What is cut from a roll before another is taken up.
#[derive(Clone, Debug)]
pub struct Stretch<'p> {
    /// The roll.
    pub roll: &'p Pattern,
    /// Whether the roll was taken up before.
    pub is_rest: bool,
    /// Whether it is taken up again.
    pub goes_on: bool,
    /// What it has at the beginning, a raw end included if it has one.
    pub before: Length,
    /// What it has at the end.
    pub left: Length,
    /// The cuts, in turn.
    pub cuts: Vec<RollCut<'p>>,
}

/// Equal pieces of one blind from one roll.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RollCut<'p> {
    /// Whose they are.
    pub share: &'p Share,
    /// What each is.
    pub piece: Piece,
    /// How many.
    pub pieces: usize,
    /// Pieces of the blind that were cut before, from this roll or another.
    pub before: usize,
    /// All pieces of the blind.
    pub of: usize,
    /// The number of the roll that the blind goes on with after these.
    pub on_to: Option<usize>,
}

/// A share, its roll, and where its pieces begin on it.
#[derive(Clone, Copy)]
struct Go<'p> {
    roll: &'p Pattern,
    share: &'p Share,
    from: usize,
}

impl<'p> Go<'p> {
    fn pieces(self) -> &'p [Piece] {
        self.roll.pieces.get(self.from..self.from + self.share.pieces).unwrap_or_default()
    }

    fn is_last_of_roll(self) -> bool {
        self.from + self.share.pieces == self.roll.pieces.len()
    }
}

impl CutPlan {
    /// The stretches of work of a plan that is cut blind by blind, in turn; none of any other.
    pub fn stretches(&self) -> Vec<Stretch<'_>> {
        let mut goes: Vec<Go<'_>> = self.patterns.iter().flat_map(goes).collect();
        goes.sort_by_key(|go| go.share.turn);
        let mut cuts =
            goes.chunk_by(|one, other| one.share.blind == other.share.blind).flat_map(|of_blind| {
                let of = of_blind.iter().map(|go| go.share.pieces).sum();
                let is_blind = of_blind.iter().all(|go| go.share.blind.is_some());
                let next = of_blind.iter().skip(1).map(|go| Some(go.roll.number)).chain([None]);
                let mut before = 0;
                let cuts: Vec<Vec<RollCut<'_>>> = of_blind
                    .iter()
                    .zip(next)
                    .map(|(go, next)| cuts_of(*go, &mut before, of, next.filter(|_| is_blind)))
                    .collect();
                cuts
            });
        let of_roll = goes.chunk_by(|one, other| one.roll.number == other.roll.number);
        of_roll.filter_map(|goes| self.stretch(goes, &mut cuts)).collect()
    }

    fn stretch<'p>(
        &self,
        goes: &[Go<'p>],
        cuts: &mut impl Iterator<Item = Vec<RollCut<'p>>>,
    ) -> Option<Stretch<'p>> {
        let (first, last) = (goes.first()?, goes.last()?);
        let roll = first.roll;
        let left_at = |pieces: usize| {
            let cut: Length = roll.pieces.iter().take(pieces).map(|piece| piece.length + self.kerf).sum();
            (roll.stock - self.trim - cut).max(Length::ZERO)
        };
        Some(Stretch {
            roll,
            is_rest: first.from > 0,
            goes_on: !last.is_last_of_roll(),
            before: if first.from > 0 { left_at(first.from) } else { roll.stock },
            left: left_at(last.from + last.share.pieces),
            cuts: cuts.take(goes.len()).flatten().collect(),
        })
    }
}

fn goes(roll: &Pattern) -> impl Iterator<Item = Go<'_>> {
    roll.shares.iter().scan(0, move |from, share| {
        let go = Go { roll, share, from: *from };
        *from += share.pieces;
        Some(go)
    })
}

/// The runs of equal pieces of a share; after the last the blind may go on with another roll.
fn cuts_of<'p>(go: Go<'p>, before: &mut usize, of: usize, on_to: Option<usize>) -> Vec<RollCut<'p>> {
    let runs = go.pieces().chunk_by(|one, other| (one.length, one.part) == (other.length, other.part));
    let mut cuts: Vec<RollCut<'p>> = runs
        .map(|run| {
            let cut = RollCut {
                share: go.share,
                piece: run[0],
                pieces: run.len(),
                before: *before,
                of,
                on_to: None,
            };
            *before += run.len();
            cut
        })
        .collect();
    if let Some(last) = cuts.last_mut() {
        last.on_to = on_to;
    }
    cuts
}
