//! What is delivered to each floor, phase by phase: how many boxes, and how long the longest is.
//!
//! A blind comes in a box of its own, as long as its longest piece.

use std::collections::BTreeMap;

use super::Report;
use crate::fitting::{Blind, Fitted};
use crate::length::Length;
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
    /// What goes where, in survey order of first mention.
    pub fn deliveries(&self) -> Vec<Delivery<'_>> {
        let mut deliveries: Vec<Delivery<'_>> = Vec::new();
        let mut known: BTreeMap<(&str, &str, &str), usize> = BTreeMap::new();
        for (opening, blind) in self.survey.openings.iter().zip(&self.blinds) {
            let Some(blind) = blind else { continue };
            let who = &opening.who;
            let (phase, building, floor) = (&*who.phase, &*who.building, &*who.floor);
            let place = *known.entry((phase, building, floor)).or_insert_with(|| {
                let (boxes, provisional, longest) = (0, 0, Length::ZERO);
                deliveries.push(Delivery { phase, building, floor, boxes, provisional, longest });
                deliveries.len() - 1
            });
            let delivery = &mut deliveries[place];
            let blinds = u64::from(who.quantity);
            match blind.sizing.release {
                Release::Make => delivery.boxes += blinds,
                Release::Provisional => delivery.provisional += blinds,
            }
            delivery.longest = delivery.longest.max(longest_piece(blind));
        }
        deliveries
    }
}

/// Rail, louvers or valance, whichever is the longest.
fn longest_piece(blind: &Blind<'_>) -> Length {
    let Fitted { valance, panel, .. } = &blind.fitted;
    let louver = panel.louvers.map(|louvers| louvers.length);
    [Some(blind.sourced.size.width), *valance, louver].into_iter().flatten().max().unwrap_or_default()
}
