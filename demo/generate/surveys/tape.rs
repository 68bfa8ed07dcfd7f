//! What a tape shows, and how a surveyor writes it down.

use std::ops::{Add, Sub};

use sillbook::length::{Length, fraction_of_inch};

use super::workbook::Cell;

/// Sixteenths of an inch: the marks of the tape.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Marks(i32);

impl Marks {
    /// Nothing.
    pub const ZERO: Marks = Marks(0);

    /// Whole inches and sixteenths.
    pub const fn inches(whole: i32, sixteenths: i32) -> Marks {
        Marks(16 * whole + sixteenths)
    }

    /// Sixteenths alone.
    pub const fn sixteenths(count: i32) -> Marks {
        Marks(count)
    }

    /// The nearest mark below on a tape that shows eighths.
    pub const fn to_eighths(self) -> Marks {
        Marks(self.0.div_euclid(2) * 2)
    }

    /// The diagonal of a rectangle, to the mark below.
    pub const fn diagonal(width: Marks, height: Marks) -> Marks {
        Marks((width.0 * width.0 + height.0 * height.0).isqrt())
    }
}

impl Add for Marks {
    type Output = Marks;
    fn add(self, other: Marks) -> Marks {
        Marks(self.0 + other.0)
    }
}

impl Sub for Marks {
    type Output = Marks;
    fn sub(self, other: Marks) -> Marks {
        Marks(self.0 - other.0)
    }
}

/// How a surveyor writes a length.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hand {
    /// `105.5`, a number cell.
    Decimals,
    /// `105 1/2`, text; a whole inch is a number cell.
    Fractions,
    /// `105-1/2"`, text.
    Hyphened,
    /// `8' 9 1/2"`, text.
    FeetAndInches,
}

impl Hand {
    /// The cell.
    pub fn write(self, marks: Marks) -> Cell {
        match self {
            Hand::Decimals => Cell::Number(f64::from(marks.0) / 16.0),
            Hand::Fractions if marks.0 % 16 == 0 => Cell::Number(f64::from(marks.0 / 16)),
            Hand::Fractions => Cell::Text(fraction(marks)),
            Hand::Hyphened => Cell::Text(format!("{}\"", fraction(marks).replace(' ', "-"))),
            Hand::FeetAndInches if marks < Marks::inches(12, 0) => {
                Cell::Text(format!("{}\"", fraction(marks)))
            }
            Hand::FeetAndInches => {
                let (feet, rest) = (marks.0 / 192, Marks(marks.0 % 192));
                Cell::Text(format!("{feet}' {}\"", fraction(rest)))
            }
        }
    }
}

/// `105 1/2`.
fn fraction(marks: Marks) -> String {
    fraction_of_inch(Length::sixty_fourths(4 * i64::from(marks.0)), 16).unwrap_or_default()
}
