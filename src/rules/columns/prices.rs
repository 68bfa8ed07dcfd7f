//! The sheet `Prices`: made-to-measure blinds and parts.

use super::{DAYS, PACK};
use crate::length::{Length, Units};
use crate::schema::choices::choice;
use crate::schema::{Form, Kind};

choice! {
    /// What a price is for.
    Per {
        /// One of them.
        Each = "each",
        /// A square meter of width x drop.
        SquareMeter = "m2",
        /// A foot of a wand.
        TwelveInches = "12 in",
        /// 300 mm of it.
        ThreeHundredMillimeters = "300 mm",
    }
}

impl Per {
    /// The length of a part that a price is for, if it is for one.
    pub(in crate::rules) const fn length(self) -> Option<Length> {
        match self {
            Per::Each | Per::SquareMeter => None,
            Per::TwelveInches => Some(Length::inches(12)),
            Per::ThreeHundredMillimeters => Some(Length::from_mm(300)),
        }
    }

    /// What a wand's price is for that does not say.
    pub(in crate::rules) const fn of_wand(units: Units) -> Per {
        match units {
            Units::Inches => Per::TwelveInches,
            Units::Millimeters => Per::ThreeHundredMillimeters,
        }
    }
}

sheet! { PRICES, "Prices", Form::Rows, "Prices of made-to-measure blinds and of parts. This sheet replaces the built-in list.";
    item, "Item" [] Kind::Text, "required (the row is ignored without it)", "`made-to-measure blind`, or the name of a part.";
    product, "Product" [] Kind::Text, "every product", "For a made-to-measure blind: the product it is for.";
    price, "Price" [] Kind::Money, "unknown", "The price, in the project currency.", unknown;
    per, "Per" ["Unit"] Kind::Choice(Per::WORDS), "each; for a wand 12 in, or 300 mm in a millimeter survey", "What the price is for: each, m2 (square meter of width x drop), 12 in or 300 mm (of a wand).", unknown;
    least_m2, "Minimum m2" ["At least m2", "Least area"] Kind::Number { most: 1_000 }, "no minimum", "Smallest area charged for one blind, in square meters, where the price is per m2.";
    lead_days, "Lead days" [] DAYS, "unknown", "For a made-to-measure blind: calendar days from order to delivery.", unknown;
    pack_of, "Pack of" ["Pack"] PACK, "1: sold singly", "For a part: number in a pack.";
    note, "Note" [] Kind::Text, "none", "`example price, not a quote` here marks an example price. Change the price, or delete these words, and it counts as yours.", unknown;
}
