//! Exact lengths: whole nanometers, read from a tape's text and shown again in its units.
//!
//! A nanometer divides both 1/64 in (396,875 nm) and every metric decimal in use, so no
//! measured length is ever approximated. Constructors are named by unit.

mod number;
mod pair;
mod read;
mod shorthand;
mod show;
mod spelling;

pub use pair::{PairOrder, WrittenPair, order_named, pairs_within, written_pair};
pub use read::{Reading, doubtful_readings, readings};
pub use shorthand::{PLAUSIBLE, modules, pair_of_leaves, run_together};
pub use show::{Shown, fraction_of_inch};

use std::fmt::{self, Display};
use std::iter::Sum;
use std::ops::{Add, Mul, Neg, Sub};

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;
use serde::{Serialize, Serializer};

use crate::rounding::half_away;

/// Nanometers in an inch: the international inch is exactly 25.4 mm
/// (NIST Handbook 44, Appendix C; from memory).
const NM_PER_INCH: i64 = 25_400_000;
const NM_PER_MM: i64 = 1_000_000;

/// A unit of length that a cell, a heading or a project may name.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Unit {
    /// 25.4 mm.
    Inch,
    /// 12 in.
    Foot,
    /// One millimeter.
    Millimeter,
    /// 10 mm.
    Centimeter,
    /// 1,000 mm.
    Meter,
}

impl Unit {
    /// The unit in whole nanometers.
    pub const fn nanometers(self) -> i64 {
        match self {
            Unit::Inch => NM_PER_INCH,
            Unit::Foot => 12 * NM_PER_INCH,
            Unit::Millimeter => NM_PER_MM,
            Unit::Centimeter => 10 * NM_PER_MM,
            Unit::Meter => 1_000 * NM_PER_MM,
        }
    }

    /// How a survey's `Units` item writes it, and its usual short spelling: read back as the same unit.
    pub const fn symbol(self) -> &'static str {
        match self {
            Unit::Inch => "in",
            Unit::Foot => "ft",
            Unit::Millimeter => "mm",
            Unit::Centimeter => "cm",
            Unit::Meter => "m",
        }
    }

    /// As a sentence says it: `inches`.
    pub const fn plural(self) -> &'static str {
        match self {
            Unit::Inch => "inches",
            Unit::Foot => "feet",
            Unit::Millimeter => "millimeters",
            Unit::Centimeter => "centimeters",
            Unit::Meter => "meters",
        }
    }

    /// What sizes are shown in where a survey's bare numbers are in this unit.
    pub const fn shown_in(self) -> Units {
        match self {
            Unit::Inch | Unit::Foot => Units::Inches,
            Unit::Millimeter | Unit::Centimeter | Unit::Meter => Units::Millimeters,
        }
    }

    /// Reads a unit's usual spellings (`in`, `inches`, `"`, `ft`, `mm`, `cm`, `m`…), in any case.
    pub fn named(text: &str) -> Option<Unit> {
        spelling::unit_named(text)
    }
}

impl Display for Unit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.symbol())
    }
}

/// The two ways in which sizes are shown, whatever [`Unit`] a survey was written in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Units {
    /// Inches, shown as fractions to 1/16.
    Inches,
    /// Millimeters.
    Millimeters,
}

impl Units {
    /// The unit of a size that is shown so.
    pub const fn unit(self) -> Unit {
        match self {
            Units::Inches => Unit::Inch,
            Units::Millimeters => Unit::Millimeter,
        }
    }

    /// `in` or `mm`.
    pub const fn symbol(self) -> &'static str {
        self.unit().symbol()
    }
}

/// A length in whole nanometers; may be negative, as an overlap that is a gap.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Length(i64);

impl Length {
    /// No length at all: a recess of 0 means there is none.
    pub const ZERO: Length = Length(0);

    /// Whole nanometers.
    pub const fn from_nm(nm: i64) -> Length {
        Length(nm)
    }

    /// Whole millimeters.
    pub const fn from_mm(mm: i64) -> Length {
        Length(mm * NM_PER_MM)
    }

    /// Whole inches.
    pub const fn inches(inches: i64) -> Length {
        Length(inches * NM_PER_INCH)
    }

    /// Sixty-fourths of an inch: the finest mark on a tape, 396,875 nm.
    pub const fn sixty_fourths(count: i64) -> Length {
        Length(count * (NM_PER_INCH / 64))
    }

    /// `value` of `unit`, to the nearest nanometer, half away from zero; `None` past ±9,000 km.
    pub fn of(value: Decimal, unit: Unit) -> Option<Length> {
        let nm = value.checked_mul(Decimal::from(unit.nanometers()))?;
        half_away(nm, 0).to_i64().map(Length)
    }

    /// Whole nanometers.
    pub const fn nm(self) -> i64 {
        self.0
    }

    /// The exact number of `unit`s.
    pub fn in_unit(self, unit: Unit) -> Decimal {
        Decimal::from(self.0) / Decimal::from(unit.nanometers())
    }

    /// The exact number of meters, for masses and areas.
    pub fn meters(self) -> Decimal {
        Decimal::from_i128_with_scale(i128::from(self.0), 9)
    }

    /// The largest multiple of `step` not over this; `step` is above zero.
    pub const fn rounded_down_to(self, step: Length) -> Length {
        Length(self.0.div_euclid(step.0) * step.0)
    }

    /// The least multiple of `step` not under this; `step` is above zero.
    pub const fn rounded_up_to(self, step: Length) -> Length {
        Length(-Length(-self.0).rounded_down_to(step).0)
    }

    /// Half of this, down to a nanometer.
    pub const fn half_down(self) -> Length {
        Length(self.0.div_euclid(2))
    }

    /// This times `part` / `whole`, to the nearest nanometer, half away from zero; `whole` is above zero.
    pub fn share(self, part: i64, whole: i64) -> Length {
        Length::from_ratio(i128::from(self.0) * i128::from(part), i128::from(whole))
    }

    /// `top` / `bottom` nanometers, half away from zero; `bottom` is above zero. The one place
    /// where a position on a blind is rounded.
    pub fn from_ratio(top: i128, bottom: i128) -> Length {
        let magnitude = (2 * top.abs() + bottom) / (2 * bottom);
        let signed = if top < 0 { -magnitude } else { magnitude };
        Length(i64::try_from(signed).unwrap_or(if top < 0 { i64::MIN } else { i64::MAX }))
    }

    /// How many whole `span`s cover this length; 0 for none. `span` is above zero.
    pub const fn spans_of(self, span: Length) -> i64 {
        if self.0 <= 0 { 0 } else { (self.0 - 1) / span.0 + 1 }
    }

    /// Without its sign.
    pub const fn abs(self) -> Length {
        Length(self.0.saturating_abs())
    }

    /// This length as `units` show it, to stand in a sentence.
    pub const fn shown(self, units: Units) -> Shown {
        Shown { length: self, units }
    }

    /// Half an inch, a quarter and so on print as fractions to 1/16 in, millimeters as decimals:
    /// the exact value, with its unit; a length that is no whole sixteenth shows as a decimal.
    pub fn show(self, units: Units) -> String {
        show::exact(self, units)
    }

    /// The exact length with its unit, which is read back as the very same: in inches where a tape has it,
    /// else in millimeters.
    pub fn in_full(self, units: Units) -> String {
        show::in_full(self, units)
    }

    /// As it is read off a tape, with its unit: to 1/16 in, where it is no whole number of 1/64 in, or to
    /// 0.1 mm.
    pub fn on_tape(self, units: Units) -> String {
        show::on_tape(self, units)
    }

    /// The exact length in the unit in which it is a round number, as a saw is set and a bar is sold:
    /// `1/8 in`, `10 mm`, `5800 mm`; a roll as `100 m`.
    pub fn in_its_unit(self, units: Units) -> String {
        show::in_its_unit(self, units)
    }

    /// The same as it is bought: a roll as `328 ft (100 m)` where sizes are in inches.
    pub fn as_bought(self, units: Units) -> String {
        show::as_bought(self, units)
    }

    /// The same without its unit, where that stands in a heading: `105 1/2`, `2692.4`.
    pub fn figure(self, units: Units) -> String {
        let shown = self.shown(units).to_string();
        shown.strip_suffix(units.symbol()).map_or(shown.as_str(), str::trim_end).to_owned()
    }
}

impl Add for Length {
    type Output = Length;
    fn add(self, other: Length) -> Length {
        Length(self.0.saturating_add(other.0))
    }
}

impl Sub for Length {
    type Output = Length;
    fn sub(self, other: Length) -> Length {
        Length(self.0.saturating_sub(other.0))
    }
}

impl Neg for Length {
    type Output = Length;
    fn neg(self) -> Length {
        Length(self.0.saturating_neg())
    }
}

impl Mul<i64> for Length {
    type Output = Length;
    fn mul(self, count: i64) -> Length {
        Length(self.0.saturating_mul(count))
    }
}

impl Sum for Length {
    fn sum<I: Iterator<Item = Length>>(lengths: I) -> Length {
        lengths.fold(Length::ZERO, Add::add)
    }
}

/// Millimeters with up to six decimals. A double holds every such number of up to 9,000 km
/// so closely that its shortest form is the exact decimal.
impl Serialize for Length {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        if self.0 % NM_PER_MM == 0 {
            serializer.serialize_i64(self.0 / NM_PER_MM)
        } else {
            serializer.serialize_f64(self.0 as f64 / NM_PER_MM as f64)
        }
    }
}
