//! Angles, in tenths of a degree.

use std::fmt;

use serde::{Serialize, Serializer};

use crate::length::Length;

/// An angle rounded to a tenth of a degree; negative for a direct gap.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Angle {
    tenths: i32,
}

impl Angle {
    /// The angle whose tangent is `opposite` / `adjacent`, to a tenth of a degree.
    /// A tenth is far coarser than a double's error, so every machine agrees.
    pub fn from_tangent(opposite: Length, adjacent: Length) -> Angle {
        let radians = (opposite.nm() as f64).atan2(adjacent.nm() as f64);
        Angle { tenths: (radians.to_degrees() * 10.0).round() as i32 }
    }

    /// Degrees, exact to the tenth.
    pub fn degrees(self) -> rust_decimal::Decimal {
        rust_decimal::Decimal::new(i64::from(self.tenths), 1)
    }
}

impl fmt::Display for Angle {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.degrees())
    }
}

impl Serialize for Angle {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_f64(f64::from(self.tenths) / 10.0)
    }
}
