//! The sheet `Bars`: stock lengths of materials.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::BAR;
use crate::length::Length;
use crate::place::CellRef;
use crate::schema::{Form, Kind, LENGTH, YES_NO};

sheet! { BARS, "Bars", Form::Rows, "Stock lengths of each material: bars, rolls and lengths. The sheet replaces the built-in list.";
    /// A stock length of a material. A material may have several, of different lengths.
    pub struct Bar, read(row) {
        material: Arc<str>, "Material" [] Kind::Text, "the row is left out", "The material, as Products names it.";
        length: Length, "Length" ["Bar length", "Stock length"] BAR, "the row is left out", "Length of one bar or roll.";
        price: Option<Decimal>, "Price" [] Kind::Money, "unknown", "Price of one.", unknown;
        kerf: Length, "Kerf" ["Saw kerf"] LENGTH, "as the built-in bar of its material, else 3 mm", "What the saw takes between two pieces.";
        trim: Length, "End trim" ["Trim"] LENGTH, "as the built-in bar of its material, else 10 mm", "What comes off each raw end, its own cut included.";
        least_useful: Length, "Least useful offcut" ["Least useful"] LENGTH, "as the built-in bar of its material, else 600 mm", "Offcuts of at least this length are kept.";
        colored: bool, "Colored" [] YES_NO, "as the built-in bar of its material, else yes", "Whether it comes in the blind's colors.";
        note, "Note" [] Kind::Text, "none", "A price marked `example price, not a quote` is shown so until it or the mark is changed.", unknown;
    }
    and {
        /// Whether the price is the built-in example.
        example: bool = row.example;
        /// Cell of the price, if the survey gives it.
        at: Option<CellRef> = row.at(&COLUMNS.price);
    }
}
