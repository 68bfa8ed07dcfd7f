//! What an opening that serves for escape must leave clear.

use rust_decimal::Decimal;
use serde::Deserialize;

use super::{Exact, Written, decimal, jurisdiction};
use crate::length::Length;
use crate::rules::columns::project::Jurisdiction;

/// Square nanometers in a square foot (0.09290304 m2 exactly; NIST SP 811).
const NM2_PER_SQ_FT: i128 = 92_903_040_000_000_000;

/// What a code asks of an escape opening.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct EscapeRule {
    /// Whose code it is.
    #[serde(deserialize_with = "jurisdiction")]
    pub jurisdiction: Jurisdiction,
    /// Least clear width.
    pub width: Exact,
    /// Least clear height.
    pub height: Exact,
    /// Least clear area, in square feet.
    #[serde(deserialize_with = "decimal")]
    pub area_sq_ft: Decimal,
    /// Most that its sill may be above the finished floor.
    pub sill: Exact,
    /// Where it stands written.
    pub source: Written,
}

impl EscapeRule {
    /// `20 in wide; 24 in high; 5.7 sq ft; sill at most 44 in`.
    pub(super) fn in_words(&self) -> String {
        let EscapeRule { width, height, area_sq_ft, sill, .. } = self;
        format!("{width} wide; {height} high; {area_sq_ft} sq ft; sill at most {sill}")
    }

    /// Whether a clear width and height make the area; exact.
    pub fn is_enough(&self, width: Length, height: Length) -> bool {
        let area = i128::from(width.nm()) * i128::from(height.nm());
        Decimal::from(area) >= self.area_sq_ft * Decimal::from(NM2_PER_SQ_FT)
    }
}
