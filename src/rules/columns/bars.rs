//! The sheet `Bars`: stock lengths of materials.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::BAR;
use crate::length::Length;
use crate::place::CellRef;
use crate::schema::{Form, Kind, LENGTH, YES_NO};

sheet! { BARS, "Bars", Form::Rows, "Stock lengths of each material: bars and rolls. This sheet replaces the built-in list.";
    /// A stock length of a material. A material may have several, of different lengths.
    pub struct Bar, read(row) {
        material: Arc<str>, "Material" [] Kind::Text, "required (the row is ignored without it)", "The material, as on Products.";
        length: Length, "Length" ["Bar length", "Stock length"] BAR, "required (the row is ignored without it)", "Length of one bar or roll.";
        price: Option<Decimal>, "Price" [] Kind::Money, "unknown", "Price of one bar or roll.", unknown;
        kerf, "Kerf" ["Saw kerf"] LENGTH, "as Materials says", "Stands on Materials now: width of the saw cut.", only_read;
        trim, "End trim" ["Trim"] LENGTH, "as Materials says", "Stands on Materials now: length trimmed off each raw end.", only_read;
        least_useful, "Shortest offcut to keep" ["Least useful offcut", "Least useful"] LENGTH, "as Materials says", "Stands on Materials now: offcuts this long or longer are kept.", only_read;
        colored, "Comes in colors" ["Colored"] YES_NO, "as Materials says", "Stands on Materials now: whether it comes in the blind's colors.", only_read;
        note, "Note" [] Kind::Text, "none", "`example price, not a quote` here marks an example price. Change the price, or delete these words, and it counts as yours.", unknown;
    }
    and {
        /// Whether the price is the built-in example.
        example: bool = row.example;
        /// Cell of the price, if the survey gives it.
        at: Option<CellRef> = row.at(&COLUMNS.price);
    }
}
