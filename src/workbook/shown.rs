//! How a number is shown in a cell: a length as a tape is read, money with its currency's decimals.

use rust_decimal::Decimal;

use crate::length::{Length, Unit, Units};
use crate::money::Currency;

/// How a number is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Shown {
    /// Text, or a number as the program likes.
    Plain,
    /// A whole number, thousands apart.
    Whole,
    /// Whole inches or millimeters.
    WholeLength,
    /// Inches and halves.
    Halves,
    /// Inches and quarters.
    Quarters,
    /// Inches and eighths.
    Eighths,
    /// Inches and sixteenths.
    Sixteenths,
    /// Millimeters and tenths.
    Tenths,
    /// Inches and thousandths.
    Thousandths,
    /// Money, with the decimals of its currency.
    Money,
    /// Kilograms or pounds.
    Mass,
    /// A decimal number as it is.
    Number,
    /// A number to the hundredth: hours.
    Hundredths,
    /// A share of one that was worked out, in percent.
    Share,
    /// A share of one that people give, in percent with as many decimals as it has.
    Percent,
    /// Degrees.
    Angle,
    /// A calendar date, in the one order that cannot be misread.
    Date,
}

impl Shown {
    /// Every way, in the order of their list.
    pub(super) const ALL: [Shown; 17] = [
        Shown::Plain,
        Shown::Whole,
        Shown::WholeLength,
        Shown::Halves,
        Shown::Quarters,
        Shown::Eighths,
        Shown::Sixteenths,
        Shown::Tenths,
        Shown::Thousandths,
        Shown::Money,
        Shown::Mass,
        Shown::Number,
        Shown::Hundredths,
        Shown::Share,
        Shown::Percent,
        Shown::Angle,
        Shown::Date,
    ];

    /// How a length is shown: inches to the nearest sixteenth with the fraction reduced, as a
    /// tape is read; millimeters to the nearest tenth, which is finer than any saw's stop.
    pub(super) fn of_length(length: Length, units: Units) -> Shown {
        match units {
            Units::Inches => {
                let sixteenths =
                    Length::from_ratio(i128::from(length.nm()) * 16, i128::from(Unit::Inch.nanometers()))
                        .nm();
                match sixteenths.rem_euclid(16) {
                    0 => Shown::WholeLength,
                    8 => Shown::Halves,
                    4 | 12 => Shown::Quarters,
                    part if part % 2 == 0 => Shown::Eighths,
                    _ => Shown::Sixteenths,
                }
            }
            Units::Millimeters => {
                const TENTH: i128 = Length::from_mm(1).nm() as i128 / 10;
                match Length::from_ratio(i128::from(length.nm()), TENTH).nm() % 10 {
                    0 => Shown::WholeLength,
                    _ => Shown::Tenths,
                }
            }
        }
    }

    /// How a plain decimal number is shown: without a point where it is whole.
    pub(super) fn number(number: Decimal) -> Shown {
        if number.fract().is_zero() { Shown::Whole } else { Shown::Number }
    }

    /// Digits' widths that a length shown so takes after its whole part.
    pub(super) fn after_the_whole(self) -> u32 {
        match self {
            Shown::Halves | Shown::Quarters | Shown::Eighths | Shown::Thousandths => 4,
            Shown::Sixteenths => 6,
            Shown::Tenths => 2,
            _ => 0,
        }
    }

    /// The same as spreadsheets write it.
    pub(super) fn number_format(self, currency: Currency) -> String {
        match self {
            Shown::Plain => "General".to_owned(),
            Shown::Whole => "#,##0".to_owned(),
            Shown::WholeLength => "0".to_owned(),
            Shown::Halves => "# ?/2".to_owned(),
            Shown::Quarters => "# ?/4".to_owned(),
            Shown::Eighths => "# ?/8".to_owned(),
            Shown::Sixteenths => "# ??/16".to_owned(),
            Shown::Tenths => "0.0".to_owned(),
            Shown::Thousandths => "0.000".to_owned(),
            Shown::Money => match currency.decimals() {
                0 => "#,##0".to_owned(),
                decimals => format!("#,##0.{}", "0".repeat(decimals as usize)),
            },
            Shown::Mass => "0.00".to_owned(),
            Shown::Number => "#,##0.######".to_owned(),
            Shown::Hundredths => "#,##0.00".to_owned(),
            Shown::Share => "0.0##%".to_owned(),
            Shown::Percent => "0.0#####%".to_owned(),
            Shown::Angle => "0.0\"°\"".to_owned(),
            Shown::Date => "yyyy-mm-dd".to_owned(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Shown;
    use crate::length::{Length, Units};

    #[test]
    fn a_length_in_inches_shows_its_reduced_fraction_to_a_sixteenth() {
        // In sixty-fourths of an inch.
        let cases = [
            (64, Shown::WholeLength),
            (32, Shown::Halves),
            (48, Shown::Quarters),
            (8, Shown::Eighths),
            (4, Shown::Sixteenths),
            (-4, Shown::Sixteenths),
            // 33/64 is nearest to 8/16 = 1/2; 63/64 to a whole inch.
            (33, Shown::Halves),
            (63, Shown::WholeLength),
        ];
        for (sixty_fourths, shown) in cases {
            let length = Length::sixty_fourths(sixty_fourths);
            assert_eq!(Shown::of_length(length, Units::Inches), shown, "{sixty_fourths}/64");
        }
    }

    #[test]
    fn millimeters_show_a_tenth_where_there_is_one() {
        let cases = [
            (2_692_000_000, Shown::WholeLength),
            (2_692_400_000, Shown::Tenths),
            (2_692_450_000, Shown::Tenths),
            (2_692_040_000, Shown::WholeLength),
            (914_333_333, Shown::Tenths),
        ];
        for (nm, shown) in cases {
            assert_eq!(Shown::of_length(Length::from_nm(nm), Units::Millimeters), shown, "{nm} nm");
        }
    }
}
