//! The sheet `Stock sizes`: sizes held in shops.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::{COUNT, DAYS};
use crate::length::Length;
use crate::place::CellRef;
use crate::rules::StockId;
use crate::schema::{Form, Kind, SIZE};

sheet! { STOCK_SIZES, "Stock sizes", Form::Rows, "Sizes held in shops, used only if the project says so. The sheet replaces the built-in list.";
    /// A size held in shops.
    pub struct StockSize, read(row, id: StockId, product: Arc<str>, colors: Vec<Arc<str>>) {
        product, "Product" [] Kind::Text, "the row is left out", "The product, as Products names it.";
        colors, "Colors" ["Color"] Kind::List, "every color", "The colors it is held in, separated by commas.";
        nominal_width: Length, "Nominal width" ["Width"] SIZE, "the row is left out", "The width by which it is sold.";
        nominal_drop: Length, "Nominal drop" ["Drop"] SIZE, "the row is left out", "The drop by which it is sold.";
        width, "Actual width" [] SIZE, "the nominal width", "Its finished width.";
        drop, "Actual drop" [] SIZE, "the nominal drop", "Its finished drop.";
        price: Option<Decimal>, "Price" [] Kind::Money, "unknown", "Price of one.", unknown;
        lead_days: Option<u32>, "Lead days" [] DAYS, "unknown", "Calendar days from order to delivery.", unknown;
        on_hand, "On hand" [] COUNT, "unknown, so none is used, with a check", "How many are held.", unknown;
        cut_width_to: Option<Length>, "Cut down to width" [] SIZE, "its width may not be cut", "The least width it may be cut down to.";
        cut_drop_to: Option<Length>, "Cut down to drop" [] SIZE, "its drop may not be cut", "The least drop it may be cut down to.";
        note, "Note" [] Kind::Text, "none", "A price marked `example price, not a quote` is shown so until it or the mark is changed.", unknown;
    }
    and {
        /// Which it is.
        id: StockId = id;
        /// The product.
        product: Arc<str> = product;
        /// Colors it comes in; empty for every color.
        colors: Vec<Arc<str>> = colors;
        /// Actual width.
        width: Length = row.value(&COLUMNS.width).map_or_else(|| row.needed(&COLUMNS.nominal_width), Ok)?;
        /// Actual drop.
        drop: Length = row.value(&COLUMNS.drop).map_or_else(|| row.needed(&COLUMNS.nominal_drop), Ok)?;
        /// How many are on hand; 0 if that is not known.
        on_hand: u32 = row.value(&COLUMNS.on_hand).unwrap_or(0);
        /// Whether the price is the built-in example.
        example: bool = row.example;
        /// Its cell, if the survey gives it.
        at: Option<CellRef> = row.at;
    }
}
