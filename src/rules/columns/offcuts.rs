//! The sheet `Offcuts`: what earlier jobs left.

use std::sync::Arc;

use super::{OFFCUT, OFFCUTS_ON_HAND};
use crate::length::Length;
use crate::schema::{Form, Kind};

sheet! { OFFCUTS, "Offcuts", Form::Rows, "Offcuts on hand, used before bars are bought.";
    /// Offcuts on hand.
    pub struct Offcut, read(row, material: Arc<str>, color: Arc<str>) {
        material, "Material" [] Kind::Text, "the row is left out", "The material, as Bars names it.";
        color, "Color" [] Kind::Text, "none: only for a material without color", "Its color.";
        length: Length, "Length" [] OFFCUT, "the row is left out", "Its length, ends untrimmed.";
        quantity, "Quantity" ["Qty"] OFFCUTS_ON_HAND, "1", "How many there are.";
        note, "Note" [] Kind::Text, "none", "For the reader; nothing is taken from it.", unknown;
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
