//! The blinds for which openings are looked for: those that do not hang yet.
//!
//! The blinds of a line are looked at together as far as they have come equally far, and the openings
//! of the line are left out, for any blind of it fits there. A blind that is for no opening is looked
//! at by itself: from the store, or given up for a reason that says nothing against it.

use crate::earlier::{KeptBlind, KeptIndex};
use crate::frozen::Frozen;
use crate::order::{OrderLine, Seat};
use crate::schema::blinds::{BlindState, Reason};

/// Blinds for which openings are looked for.
pub(super) struct Offer<'o> {
    /// Place of their line among the order's lines.
    pub place: usize,
    /// Their line.
    pub line: &'o OrderLine,
    /// Their numbers, run by run.
    pub numbers: Vec<(u64, u64)>,
    /// How far they have come.
    pub state: Option<BlindState>,
    /// The row of a blind that is for no opening.
    pub loose: Option<KeptIndex>,
}

/// The blinds of a line that do not hang: those for openings by how far they have come, and each of the
/// others by itself.
pub(super) fn offers<'o>(place: usize, line: &'o OrderLine, frozen: &Frozen<'_>) -> Vec<Offer<'o>> {
    const STATES: [Option<BlindState>; 4] =
        [None, Some(BlindState::Ordered), Some(BlindState::Made), Some(BlindState::Delivered)];
    let of_openings = STATES.into_iter().map(|state| {
        let seats = line.seats.iter().filter(|seat| seat.opening.is_some() && seat.state == state);
        Offer { place, line, numbers: runs(seats), state, loose: None }
    });
    let loose = line.seats.iter().filter(|seat| seat.opening.is_none() && seat.counts());
    let loose = loose.filter_map(|seat| {
        let kept = seat.kept.filter(|&kept| is_as_good_as_new(&frozen.blinds()[kept]))?;
        let numbers = vec![(seat.first, seat.last)];
        Some(Offer { place, line, numbers, state: seat.state, loose: Some(kept) })
    });
    of_openings.chain(loose).filter(|offer| !offer.numbers.is_empty()).collect()
}

/// The numbers of seats, those that follow one another together.
fn runs<'s>(seats: impl Iterator<Item = &'s Seat>) -> Vec<(u64, u64)> {
    let mut runs: Vec<(u64, u64)> = Vec::new();
    for seat in seats {
        match runs.last_mut() {
            Some((_, last)) if *last + 1 == seat.first => *last = seat.last,
            _ => runs.push((seat.first, seat.last)),
        }
    }
    runs
}

/// Whether a blind that is for no opening may hang elsewhere: it does not hang, and nothing is said
/// against it. One that is made again must have a reason that lies in its opening.
fn is_as_good_as_new(blind: &KeptBlind) -> bool {
    let is_sound = match blind.typed.reason {
        Some(Reason::ClientChanged | Reason::MeasuredWrong) => true,
        Some(Reason::Damaged | Reason::WrongSize | Reason::WrongHand | Reason::WrongColor | Reason::Lost) => {
            false
        }
        None => !blind.is_made_again(),
    };
    is_sound && !blind.is_fitted()
}
