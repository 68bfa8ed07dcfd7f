//! What comes with a visit, or is carried up to a floor: a blind comes in a box of its own, as long as its
//! longest piece.

use rust_decimal::Decimal;

use super::visits::Part;
use crate::fitting::Blind;
use crate::length::Length;

/// Boxes to bring.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Load {
    /// How many.
    pub boxes: u64,
    /// The longest; `None` without a box.
    pub longest: Option<Length>,
    /// Kilograms of the heaviest blind.
    pub heaviest: Option<Decimal>,
    /// Kilograms of all blinds.
    pub weight: Decimal,
}

impl Load {
    /// The boxes of some blinds.
    pub(super) fn of(parts: &[Part], blinds: &[Option<Blind<'_>>]) -> Load {
        let mut load = Load::default();
        for part in parts {
            let Some(Some(blind)) = blinds.get(part.opening) else { continue };
            load.add(Load {
                boxes: part.blinds,
                longest: Some(longest_piece(blind)),
                heaviest: Some(blind.fitted.weight),
                weight: blind.fitted.weight * Decimal::from(part.blinds),
            });
        }
        load
    }

    /// Adds the boxes of another.
    pub fn add(&mut self, other: Load) {
        self.boxes += other.boxes;
        self.longest = self.longest.max(other.longest);
        self.heaviest = self.heaviest.max(other.heaviest);
        self.weight += other.weight;
    }
}

/// The longest of what is in a blind's box: rail, valance or louver.
fn longest_piece(blind: &Blind<'_>) -> Length {
    let louver = blind.fitted.panel.louvers.map(|louvers| louvers.length);
    [blind.fitted.valance, louver].into_iter().flatten().fold(blind.sourced.size.width, Length::max)
}
