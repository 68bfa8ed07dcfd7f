//! The slips of pen and key that turn one size into another.

use rust_decimal::Decimal;

use crate::length::{Length, Unit, Units};

/// A slip that would explain a size.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Slip {
    /// Width and height stand in each other's place.
    SidesSwapped,
    /// The number was meant in this unit.
    Unit(Unit),
    /// The decimal point is a place off.
    Point,
    /// Two digits stand in each other's place.
    DigitsSwapped,
    /// A digit was left out.
    DigitMissing,
    /// A digit was typed once too often.
    DigitTooMany,
}

impl Slip {
    /// What to do where it is likely.
    pub fn hint(self) -> String {
        let likely = match self {
            Slip::SidesSwapped => "width and height are probably swapped",
            Slip::Unit(unit) => {
                return format!("the number is probably in {}: measure again", plural(unit));
            }
            Slip::Point => "the decimal point is probably one place out",
            Slip::DigitsSwapped => "two digits are probably swapped",
            Slip::DigitMissing => "a digit is probably missing",
            Slip::DigitTooMany => "a digit was probably typed twice",
        };
        format!("{likely}: measure again")
    }

    /// Whether a whole batch of rows is likely to have it, as no slip of the key is.
    pub fn is_of_a_batch(self) -> bool {
        matches!(self, Slip::Unit(_) | Slip::Point)
    }
}

/// A unit as a sentence says it.
pub(super) const fn plural(unit: Unit) -> &'static str {
    match unit {
        Unit::Inch => "inches",
        Unit::Foot => "feet",
        Unit::Millimeter => "millimeters",
        Unit::Centimeter => "centimeters",
        Unit::Meter => "meters",
    }
}

/// The slip, if any, that makes `size` of a size that is `near` enough, with that size. Swapped
/// sides are not looked for here: they take both sizes of an opening.
pub(super) fn likely(size: Length, units: Units, near: impl Fn(Length) -> bool) -> Option<(Slip, Length)> {
    let of_unit = |unit: Unit| {
        let meant = Length::from_ratio(
            i128::from(size.nm()) * i128::from(unit.nanometers()),
            i128::from(units.unit().nanometers()),
        );
        (Slip::Unit(unit), meant)
    };
    let foreign = match units {
        Units::Inches => [Unit::Foot, Unit::Millimeter, Unit::Centimeter],
        Units::Millimeters => [Unit::Centimeter, Unit::Inch, Unit::Foot],
    };
    let by_scale = foreign.map(of_unit).into_iter();
    let by_scale = by_scale.chain([(Slip::Point, size * 10), (Slip::Point, size.share(1, 10))]);
    by_scale.chain(of_digits(size, units)).find(|(_, meant)| near(*meant))
}

/// What slips in the digits before the point would make of a size.
fn of_digits(size: Length, units: Units) -> impl Iterator<Item = (Slip, Length)> {
    let number = size.in_unit(units.unit());
    let digits: Vec<u8> = number.trunc().to_string().bytes().map(|digit| digit - b'0').collect();
    let fraction = number.fract();
    let length = move |digits: Vec<u8>| {
        let whole =
            digits.into_iter().fold(Decimal::ZERO, |sum, digit| sum * Decimal::TEN + Decimal::from(digit));
        Length::of(whole + fraction, units.unit())
    };
    let count = digits.len();
    let pairs = (0..count).flat_map(move |one| (one + 1..count).map(move |other| (one, other)));
    let swapped = pairs.map({
        let digits = digits.clone();
        move |(one, other)| {
            let mut digits = digits.clone();
            digits.swap(one, other);
            (Slip::DigitsSwapped, digits)
        }
    });
    let missing = (0..=count).flat_map(|place| (0..=9).map(move |digit| (place, digit))).map({
        let digits = digits.clone();
        move |(place, digit)| {
            let mut digits = digits.clone();
            digits.insert(place, digit);
            (Slip::DigitMissing, digits)
        }
    });
    // Only a digit beside its like was typed twice.
    let doubled = (1..count).filter_map(move |place| {
        let mut rest = digits.clone();
        let twin = rest[place - 1];
        (rest.remove(place) == twin).then_some((Slip::DigitTooMany, rest))
    });
    let written = swapped.chain(missing).chain(doubled);
    // Nobody writes a size that begins with 0.
    let written = written.filter(|(_, digits)| digits.first().is_some_and(|first| *first != 0));
    written.filter_map(move |(slip, digits)| Some((slip, length(digits)?)))
}

#[cfg(test)]
mod tests {
    use super::{Slip, likely};
    use crate::length::{Length, Unit, Units};

    /// What a size in the survey's units likely was, within half an inch of another.
    fn slip(size: i64, about: i64, units: Units) -> Option<Slip> {
        let in_units = |number: i64| Length::from_nm(number * units.unit().nanometers());
        let near = |meant: Length| (meant - in_units(about)).abs() <= Length::sixty_fourths(32);
        likely(in_units(size), units, near).map(|(slip, _)| slip)
    }

    #[test]
    fn each_slip_is_known_by_what_it_makes_of_a_size() {
        use Units::{Inches, Millimeters};
        for (size, about, units, expected) in [
            (3, 36, Inches, Some(Slip::Unit(Unit::Foot))),
            (914, 36, Inches, Some(Slip::Unit(Unit::Millimeter))),
            (91, 36, Inches, Some(Slip::Unit(Unit::Centimeter))),
            (91, 914, Millimeters, Some(Slip::Unit(Unit::Centimeter))),
            (36, 914, Millimeters, Some(Slip::Unit(Unit::Inch))),
            (360, 36, Inches, Some(Slip::Point)),
            (9140, 914, Millimeters, Some(Slip::Point)),
            (78, 87, Inches, Some(Slip::DigitsSwapped)),
            (1240, 1420, Millimeters, Some(Slip::DigitsSwapped)),
            (190, 1190, Millimeters, Some(Slip::DigitMissing)),
            (1190, 190, Millimeters, Some(Slip::DigitTooMany)),
            (1290, 190, Millimeters, None),
            (40, 36, Inches, None),
        ] {
            assert_eq!(slip(size, about, units), expected, "{size} for {about}");
        }
    }
}
