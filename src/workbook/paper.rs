//! What the workbook is printed on: the sizes of the survey's units, or those that the project names.
//!
//! Wide sheets lie on paper of twice the size. Where the project says that there is none, they take two
//! pages beside each other, with the first column on each.

use crate::length::Units;
use crate::rules::{self, Project};

/// How a page lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Lie {
    /// Upright.
    Portrait,
    /// On its side.
    Landscape,
    /// On its side, on a sheet of twice the size.
    Wide,
}

/// Margins in inches: left and right, top, bottom, and those of header and footer.
pub(super) const MARGINS: [f64; 6] = [0.4, 0.4, 0.7, 0.6, 0.3, 0.3];
/// The same, together, in hundredths of an inch.
const MARGINS_ACROSS: u32 = 80;
const MARGINS_DOWN: u32 = 130;

/// Paper numbers of the file format: US Letter and Tabloid, A4 and A3.
pub(super) const LETTER: u8 = 1;
const TABLOID: u8 = 3;
const A3: u8 = 8;
pub(super) const A4: u8 = 9;

/// The sizes of paper that a workbook uses.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Papers {
    /// Letter and Tabloid, or A4 and A3.
    pub units: Units,
    /// Whether there is the larger of the two.
    pub has_large: bool,
}

impl Papers {
    /// Those of a project.
    pub(super) fn of(project: &Project) -> Papers {
        match project.paper {
            None => Papers { units: project.units, has_large: true },
            Some(rules::Paper::Letter) => Papers { units: Units::Inches, has_large: false },
            Some(rules::Paper::Tabloid) => Papers { units: Units::Inches, has_large: true },
            Some(rules::Paper::A4) => Papers { units: Units::Millimeters, has_large: false },
            Some(rules::Paper::A3) => Papers { units: Units::Millimeters, has_large: true },
        }
    }

    /// The paper's number in the file format.
    pub(super) const fn number(self, lie: Lie) -> u8 {
        match (self.units, lie) {
            (Units::Inches, Lie::Wide) if self.has_large => TABLOID,
            (Units::Inches, _) => LETTER,
            (Units::Millimeters, Lie::Wide) if self.has_large => A3,
            (Units::Millimeters, _) => A4,
        }
    }

    /// Pages beside each other that a sheet's width is printed on.
    pub(super) const fn across(self, lie: Lie) -> u16 {
        match lie {
            Lie::Wide if !self.has_large => 2,
            _ => 1,
        }
    }

    /// What is within the margins of all pages beside each other, in hundredths of an inch: across and down.
    pub(super) fn room(self, lie: Lie) -> (u32, u32) {
        let (short, long) = match self.units {
            Units::Inches => (850, 1_100),
            Units::Millimeters => (827, 1_169),
        };
        let (across, down) = match lie {
            Lie::Portrait => (short, long),
            Lie::Wide if self.has_large => (2 * short, long),
            Lie::Landscape | Lie::Wide => (long, short),
        };
        (u32::from(self.across(lie)) * (across - MARGINS_ACROSS), down - MARGINS_DOWN)
    }
}
