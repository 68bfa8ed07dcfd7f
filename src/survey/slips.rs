//! The slips of pen and key that turn one size into another.

use rust_decimal::Decimal;

use crate::length::{Length, Unit};

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
                return format!("the number is probably in {}: measure again", unit.plural());
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

/// The slip, if any, that makes `size` of a size that is `near` enough, with that size. Swapped
/// sides are not looked for here: they take both sizes of an opening.
pub(super) fn likely(size: Length, bare: Unit, near: impl Fn(Length) -> bool) -> Option<(Slip, Length)> {
    let of_unit = |unit: Unit| {
        let meant = Length::from_ratio(
            i128::from(size.nm()) * i128::from(unit.nanometers()),
            i128::from(bare.nanometers()),
        );
        (Slip::Unit(unit), meant)
    };
    let by_scale = foreign_to(bare).iter().copied().map(of_unit);
    let by_scale = by_scale.chain([(Slip::Point, size * 10), (Slip::Point, size.share(1, 10))]);
    by_scale.chain(of_digits(size, bare)).find(|(_, meant)| near(*meant))
}

/// The units that a number may be in by a slip, the likelier first.
pub(super) const fn foreign_to(bare: Unit) -> &'static [Unit] {
    match bare {
        Unit::Inch | Unit::Foot => &[Unit::Foot, Unit::Millimeter, Unit::Centimeter],
        Unit::Millimeter => &[Unit::Centimeter, Unit::Inch, Unit::Foot],
        Unit::Centimeter | Unit::Meter => &[Unit::Millimeter, Unit::Inch, Unit::Foot],
    }
}

/// What slips in the digits before the point would make of a size.
fn of_digits(size: Length, bare: Unit) -> impl Iterator<Item = (Slip, Length)> {
    let number = size.in_unit(bare);
    let digits: Vec<u8> = number.trunc().to_string().bytes().map(|digit| digit - b'0').collect();
    let fraction = number.fract();
    let length = move |digits: Vec<u8>| {
        let whole =
            digits.into_iter().fold(Decimal::ZERO, |sum, digit| sum * Decimal::TEN + Decimal::from(digit));
        Length::of(whole + fraction, bare)
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
    use crate::length::{Length, Unit};

    /// What a size in the survey's unit likely was, within half an inch of another.
    fn slip(size: i64, about: i64, bare: Unit) -> Option<Slip> {
        let in_units = |number: i64| Length::from_nm(number * bare.nanometers());
        let near = |meant: Length| (meant - in_units(about)).abs() <= Length::sixty_fourths(32);
        likely(in_units(size), bare, near).map(|(slip, _)| slip)
    }

    #[test]
    fn each_slip_is_known_by_what_it_makes_of_a_size() {
        use Unit::{Inch, Millimeter};
        for (size, about, bare, expected) in [
            (3, 36, Inch, Some(Slip::Unit(Unit::Foot))),
            (914, 36, Inch, Some(Slip::Unit(Unit::Millimeter))),
            (91, 36, Inch, Some(Slip::Unit(Unit::Centimeter))),
            (91, 914, Millimeter, Some(Slip::Unit(Unit::Centimeter))),
            (36, 914, Millimeter, Some(Slip::Unit(Unit::Inch))),
            (360, 36, Inch, Some(Slip::Point)),
            (9140, 914, Millimeter, Some(Slip::Point)),
            (78, 87, Inch, Some(Slip::DigitsSwapped)),
            (1240, 1420, Millimeter, Some(Slip::DigitsSwapped)),
            (190, 1190, Millimeter, Some(Slip::DigitMissing)),
            (1190, 190, Millimeter, Some(Slip::DigitTooMany)),
            (1290, 190, Millimeter, None),
            (40, 36, Inch, None),
        ] {
            assert_eq!(slip(size, about, bare), expected, "{size} for {about}");
        }
    }
}
