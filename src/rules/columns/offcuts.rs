//! The sheet `Offcuts`: what earlier jobs left.

use std::sync::Arc;

use super::{OFFCUT, OFFCUTS_ON_HAND};
use crate::length::Length;
use crate::schema::{Form, Kind};

sheet! { OFFCUTS, "Offcuts", Form::Rows, "Offcuts on hand, used before bars are bought.";
    /// Offcuts on hand.
    pub struct Offcut, read(row, material: Arc<str>, color: Arc<str>) {
        material, "Material" [] Kind::Text, "required (the row is ignored without it)", "The material, as on Bars.";
        color, "Color" [] Kind::Text, "no color: only for a material that does not come in colors", "Color of the offcut.";
        length: Length, "Length" [] OFFCUT, "required (the row is ignored without it)", "Length of the offcut, ends untrimmed.";
        quantity, "Quantity" ["Qty"] OFFCUTS_ON_HAND, "1", "Number of offcuts of this length.";
        note, "Note" [] Kind::Text, "none", "For your own use; ignored by the program.", unknown;
    }
    and {
        /// The material.
        material: Arc<str> = material;
        /// Its color; empty for a material without.
        color: Arc<str> = color;
        /// How many.
        quantity: u32 = row.value(&COLUMNS.quantity).unwrap_or(1);
    }
}
