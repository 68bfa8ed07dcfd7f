//! Printing a length in the survey's units.

use std::fmt;

use super::{Length, NM_PER_INCH, Unit, Units};
use crate::rounding::half_away;

/// A length as a survey's reader sees it, for use in a sentence.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Shown {
    pub(super) length: Length,
    pub(super) units: Units,
}

impl fmt::Display for Shown {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&in_a_sentence(self.length, self.units))
    }
}

/// The length as a sentence says it: a whole number of 1/64 in or of 1/100 mm is exact, any other
/// is rounded to hundredths of either, half away from zero.
fn in_a_sentence(length: Length, units: Units) -> String {
    let hundredths = half_away(length.in_unit(units.unit()), 2).normalize();
    match units {
        Units::Millimeters => format!("{hundredths} mm"),
        Units::Inches if fraction_of_inch(length, 64).is_some() => exact(length, units),
        Units::Inches => format!("{hundredths} in"),
    }
}

/// The exact length with its unit: `105 1/2 in`, `2692.4 mm`.
pub(super) fn exact(length: Length, units: Units) -> String {
    match units {
        Units::Millimeters => {
            let mm = length.in_unit(Unit::Millimeter).normalize();
            format!("{mm} mm")
        }
        Units::Inches => match fraction_of_inch(length, 64) {
            Some(text) => format!("{text} in"),
            None => format!("{} in", length.in_unit(Unit::Inch).round_sf(9).unwrap_or_default().normalize()),
        },
    }
}

/// Decimals that could as well be the digits behind a mark between thousands.
const AS_IN_THOUSANDS: u32 = 3;

/// The exact length for another run to read: inches only where a tape has them, and never three decimals of
/// a millimeter, for `12.345 mm` may also be read as 12345 mm.
pub(super) fn in_full(length: Length, units: Units) -> String {
    if units == Units::Inches && fraction_of_inch(length, 64).is_some() {
        return exact(length, units);
    }
    let mut mm = length.in_unit(Unit::Millimeter).normalize();
    if mm.scale() == AS_IN_THOUSANDS {
        mm.rescale(AS_IN_THOUSANDS + 1);
    }
    format!("{mm} mm")
}

/// A tenth of a millimeter.
const NM_PER_TENTH: i64 = 100_000;

/// As it is read off a tape: a whole number of 1/64 in as it is, any other to a sixteenth; millimeters to a
/// tenth. Half away from zero.
pub(super) fn on_tape(length: Length, units: Units) -> String {
    let step = match units {
        Units::Inches if fraction_of_inch(length, 64).is_some() => return exact(length, units),
        Units::Inches => NM_PER_INCH / 16,
        Units::Millimeters => NM_PER_TENTH,
    };
    let half = if length.nm() < 0 { -step / 2 } else { step / 2 };
    exact(Length::from_nm((length.nm() + half) / step * step), units)
}

/// From this length on, stock is sold by the meter or the foot.
const ROLL: Length = Length::from_mm(20_000);
const NM_PER_FOOT: i64 = 12 * NM_PER_INCH;

/// The exact length in the unit in which it is a round number: in inches where a tape has it, else in
/// millimeters; a roll in meters.
pub(super) fn in_its_unit(length: Length, units: Units) -> String {
    let tenths_mm = length.nm() % NM_PER_TENTH == 0;
    match units {
        _ if length >= ROLL && length.nm() % Length::from_mm(10).nm() == 0 => {
            format!("{} m", length.in_unit(Unit::Meter).normalize())
        }
        Units::Inches if tenths_mm && fraction_of_inch(length, 64).is_none() => {
            exact(length, Units::Millimeters)
        }
        units => exact(length, units),
    }
}

/// The same as it is bought: a roll with the whole feet that it surely has, where sizes are in inches.
pub(super) fn as_bought(length: Length, units: Units) -> String {
    let exact = in_its_unit(length, units);
    match units {
        Units::Inches if length >= ROLL => format!("{} ft ({exact})", length.nm() / NM_PER_FOOT),
        _ => exact,
    }
}

/// The length in inches as a whole number and a reduced fraction, if it is a whole number of
/// 1/`finest` in; `finest` is a power of two up to 64.
pub fn fraction_of_inch(length: Length, finest: i64) -> Option<String> {
    let part = NM_PER_INCH / finest;
    let nm = length.nm();
    if nm % part != 0 {
        return None;
    }
    let parts = (nm / part).abs();
    let sign = if nm < 0 { "-" } else { "" };
    let (whole, mut top, mut bottom) = (parts / finest, parts % finest, finest);
    while top != 0 && top % 2 == 0 {
        top /= 2;
        bottom /= 2;
    }
    Some(match (whole, top) {
        (_, 0) => format!("{sign}{whole}"),
        (0, _) => format!("{sign}{top}/{bottom}"),
        _ => format!("{sign}{whole} {top}/{bottom}"),
    })
}

// Every mark of a tape is a whole number of nanometers.
const _: () = assert!(NM_PER_INCH % 64 == 0);
