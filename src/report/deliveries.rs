//! What is delivered to each floor, phase by phase: how many boxes, and how long the longest is.
//!
//! A blind comes in a box of its own, as long as its longest piece. What has come already is left out.

use std::collections::BTreeMap;

use super::Report;
use crate::length::Length;
use crate::order::Seat;
use crate::schema::blinds::BlindState;
use crate::sizing::Release;

/// The blinds of one phase for one floor of a building.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Delivery<'r> {
    /// The phase; empty if blank.
    pub phase: &'r str,
    /// The building; empty if blank.
    pub building: &'r str,
    /// The floor; empty if blank.
    pub floor: &'r str,
    /// Blinds to make now, or to take from stock.
    pub boxes: u64,
    /// Blinds that are provisional.
    pub provisional: u64,
    /// The longest piece of any of these.
    pub longest: Length,
}

impl Report<'_> {
    /// What goes where, in survey order of first mention; what is for no opening of the survey comes last.
    pub fn deliveries(&self) -> Vec<Delivery<'_>> {
        let mut deliveries: BTreeMap<(&str, &str, &str), (usize, Delivery<'_>)> = BTreeMap::new();
        for line in &self.order.lines {
            for seat in line.seats.iter().filter(|seat| is_to_come(seat)) {
                let [building, floor] = self.place_of(seat);
                let phase = &*line.key.phase;
                let first = seat.opening.unwrap_or(usize::MAX);
                let (earliest, delivery) = deliveries.entry((phase, building, floor)).or_insert((
                    first,
                    Delivery { phase, building, floor, boxes: 0, provisional: 0, longest: Length::ZERO },
                ));
                *earliest = first.min(*earliest);
                match line.key.release {
                    Release::Make => delivery.boxes += seat.count(),
                    Release::Provisional => delivery.provisional += seat.count(),
                }
                delivery.longest = delivery.longest.max(line.longest_piece());
            }
        }
        let mut deliveries: Vec<(usize, Delivery<'_>)> = deliveries.into_values().collect();
        deliveries.sort_by_key(|(first, _)| *first);
        deliveries.into_iter().map(|(_, delivery)| delivery).collect()
    }

    /// Building and floor of a blind: those of the opening that it is for now, else as it was ordered.
    fn place_of(&self, seat: &Seat) -> [&str; 2] {
        match (seat.opening, seat.kept) {
            (Some(opening), _) => {
                let who = &self.survey.openings[opening].who;
                [&who.building, &who.floor]
            }
            (None, Some(kept)) => {
                let kept = &self.frozen.blinds()[kept];
                [&kept.building, &kept.floor]
            }
            (None, None) => ["", ""],
        }
    }
}

/// Whether a box is still to come.
const fn is_to_come(seat: &Seat) -> bool {
    matches!(seat.state, None | Some(BlindState::Ordered | BlindState::Made))
}
