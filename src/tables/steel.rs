//! The thickness of sheet steel, as a survey or a rule sheet writes it: a designation in mil, `33 mil`,
//! or a length, `0.0346 in`, `0.9 mm`. A bare number is in mil only where studs are stamped with it, for
//! others may be gauges; mil is thousandths of an inch, never millimeters.
//!
//! A gauge is not read: 20 gauge is 30 or 33 mil, as the stud is for a partition or for a load.

use rust_decimal::Decimal;

use super::Unread;
use super::cell::{Cell, shown};
use super::queries::Expected;
use crate::length::{Length, Unit, Units, readings};

/// The thinnest and the thickest steel that a stud is made of, with room on both sides.
const LEAST: Length = Length::from_nm(250_000);
const MOST: Length = Length::from_nm(3_200_000);

/// Design thickness of each designation in ten-thousandths of an inch: the least base steel over 0.95
/// (AISI S220 and S240, from memory).
const DESIGNATIONS: [(i64, i64); 7] =
    [(18, 188), (27, 283), (30, 312), (33, 346), (43, 451), (54, 566), (68, 713)];

fn is_stamped(mil: Decimal) -> bool {
    DESIGNATIONS.iter().any(|(known, _)| Decimal::from(*known) == mil)
}

/// Design thickness of steel that is called so many mil: that of a designation, else the number itself.
/// `None` for what no stud is made of.
pub fn of_mil(mil: Decimal) -> Option<Length> {
    let designation = DESIGNATIONS.iter().find(|(known, _)| Decimal::from(*known) == mil);
    let inches = designation.map_or(mil / Decimal::ONE_THOUSAND, |(_, design)| Decimal::new(*design, 4));
    Length::of(inches, Unit::Inch).filter(|thickness| (LEAST..=MOST).contains(thickness))
}

/// Thickness as a stud is stamped: `33 mil`.
pub fn in_mil(thickness: Length) -> String {
    let designation = DESIGNATIONS.iter().find(|(known, _)| of_mil(Decimal::from(*known)) == Some(thickness));
    let mil = designation.map(|(mil, _)| Decimal::from(*mil));
    let mil = mil.unwrap_or_else(|| thickness.in_unit(Unit::Inch) * Decimal::ONE_THOUSAND);
    format!("{} mil", mil.normalize())
}

/// Whether a text says that it is in mil.
pub fn names_mil(text: &str) -> bool {
    text.trim_end().to_lowercase().trim_end_matches('s').ends_with("mil")
}

impl Cell<'_> {
    /// The one thickness that the cell can mean.
    pub(super) fn steel_thickness(self, unit: Unit) -> Result<Length, Unread> {
        let text = shown(self.value).to_lowercase();
        let meanings: Vec<Length> = match text.strip_suffix("mils").or_else(|| text.strip_suffix("mil")) {
            Some(number) => number.trim().parse().ok().and_then(of_mil).into_iter().collect(),
            None => {
                let lengths = readings(&text).into_iter().flat_map(|reading| {
                    let is_bare = reading.unit.is_none() && is_stamped(reading.value);
                    let in_mil = if is_bare { of_mil(reading.value) } else { None };
                    [Length::of(reading.value, reading.unit.unwrap_or(unit)), in_mil]
                });
                lengths.flatten().filter(|thickness| (LEAST..=MOST).contains(thickness)).collect()
            }
        };
        match meanings[..] {
            [thickness] => Ok(thickness),
            [] => Err(self.unreadable(Expected::SteelThickness)),
            _ => Err(self.ambiguous(meanings.iter().map(|meaning| meaning.show(Units::Millimeters)))),
        }
    }
}
