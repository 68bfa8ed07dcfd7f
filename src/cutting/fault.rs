//! Why no cut plan can be handed on. None of these is a survey's fault: they stop the run, so
//! that no plan with a slip in it reaches a saw.

use std::sync::Arc;

use thiserror::Error;

use super::solver::Doubt;
use super::{BlindId, Piece};
use crate::length::{Length, Units};

/// Why a plan could not be made.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum CutFault {
    /// A product is cut from a material without any bar.
    #[error("`{material}` has no bar to be cut from")]
    NoBar {
        /// The material.
        material: Arc<str>,
    },
    /// A piece without length, or longer than every bar less its trims.
    #[error("a piece of {} cannot be cut from any bar of `{material}`", .length.show(Units::Millimeters))]
    CannotBeCut {
        /// The material.
        material: Arc<str>,
        /// Cut length of the piece.
        length: Length,
    },
    /// Prices or counts past what exact arithmetic holds.
    #[error("prices or quantities of `{material}` have too many digits to be added up exactly")]
    TooManyDigits {
        /// The material.
        material: Arc<str>,
    },
    /// The plan does not pass its check.
    #[error("the cut plan of `{material}` {color} is wrong: {fault}")]
    Wrong {
        /// The material.
        material: Arc<str>,
        /// Its color.
        color: Arc<str>,
        /// What is wrong with it.
        fault: PlanFault,
    },
}

/// What the check of a plan found.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum PlanFault {
    /// A piece is not on as many bars as are needed.
    #[error("a piece of {} for line {:?} is cut {planned} times, not {needed}", .piece.length.show(Units::Millimeters), .piece.line)]
    Pieces {
        /// The piece.
        piece: Piece,
        /// How many are needed.
        needed: u64,
        /// How many the plan cuts.
        planned: u64,
    },
    /// Pieces, kerfs and trims come to more than the bar.
    #[error("pattern {number} is over-full")]
    OverFull {
        /// The pattern's number.
        number: usize,
    },
    /// A pattern of no bars or no pieces.
    #[error("pattern {number} is empty")]
    Empty {
        /// The pattern's number.
        number: usize,
    },
    /// The offcut stated is not what is left.
    #[error("pattern {number} leaves {}, not what it says", .left.show(Units::Millimeters))]
    Offcut {
        /// The pattern's number.
        number: usize,
        /// What is left of each of its bars.
        left: Length,
    },
    /// A bar of a length that is not on offer.
    #[error("no bar of {} is on offer", .length.show(Units::Millimeters))]
    NotOnOffer {
        /// The length.
        length: Length,
    },
    /// More offcuts than are on hand.
    #[error("{used} offcuts of {} are cut, {on_hand} are on hand", .length.show(Units::Millimeters))]
    Offcuts {
        /// Their length.
        length: Length,
        /// How many the plan cuts.
        used: u64,
        /// How many there are.
        on_hand: u64,
    },
    /// A roll's pattern is not one roll, in its place, with a blind or a spare to each piece.
    #[error("pattern {number} is not one roll in its place")]
    NotOneRoll {
        /// The pattern's number.
        number: usize,
    },
    /// A roll on hand comes after one that is bought.
    #[error("roll {number} was on hand and comes after one that is bought")]
    OnHandLate {
        /// The roll's number.
        number: usize,
    },
    /// A go comes before or after its turn: a roll, a floor, or a spare before the blinds are done.
    #[error("go {turn} is out of turn")]
    OutOfTurn {
        /// Which go, from 0.
        turn: usize,
    },
    /// A blind does not have its pieces, all in one turn.
    #[error("blind {} of opening {} does not have its pieces", .blind.number, .blind.opening)]
    BlindPieces {
        /// The blind.
        blind: BlindId,
    },
    /// Not as many blinds as there are.
    #[error("{cut} blinds are cut, not {needed}")]
    Blinds {
        /// How many the plan cuts.
        cut: usize,
        /// How many are needed.
        needed: usize,
    },
    /// A blind comes from more than the end of one roll and the beginning of the next.
    #[error("blind {} of opening {} comes from more than the end of one roll and the beginning of the next", .blind.number, .blind.opening)]
    TornTwice {
        /// The blind.
        blind: BlindId,
    },
    /// More rests wait for a later blind than may.
    #[error("more rests wait at go {turn} than may")]
    TooManyWait {
        /// At which go, from 0.
        turn: usize,
    },
    /// The plan or its bound does not pass the solver's own check.
    #[error("its proof does not hold: {0}")]
    Proof(Doubt),
    /// Better than what was proved to be the best: the bound must be wrong.
    #[error("it does better than what was proved to be possible")]
    UnderBound,
}
