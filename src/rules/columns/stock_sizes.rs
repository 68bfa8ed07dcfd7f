//! The sheet `Stock sizes`: blinds of fixed sizes, ready to buy.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::{COUNT, DAYS};
use crate::length::Length;
use crate::place::CellRef;
use crate::rules::StockId;
use crate::schema::choices::{Control, Draw};
use crate::schema::{Form, Kind, SIZE};

/// What is in a box, in the words of its product.
pub(in crate::rules) struct Contents {
    /// Colors it comes in.
    pub(in crate::rules) colors: Vec<Arc<str>>,
    /// The bracket items.
    pub(in crate::rules) brackets: Vec<Arc<str>>,
}

sheet! { STOCK_SIZES, "Stock sizes", Form::Rows, "Stock sizes, used only if Stock sizes on Project is yes. This sheet replaces the built-in list.";
    /// A size that is held in stock.
    pub struct StockSize, read(row, id: StockId, product: Arc<str>, contents: Contents) {
        product, "Product" [] Kind::Text, "required (the row is ignored without it)", "The product, as on Products.";
        colors, "Colors" ["Color"] Kind::List, "the product's first color", "Colors it is stocked in, separated by commas.";
        draw: Option<Draw>, "Draw" ["Stack"] Kind::Choice(Draw::WORDS), "left or right, whichever is wanted", "How the blind in the box is drawn: left, right or split.";
        control, "Control" ["Controls"] Kind::Choice(Control::WORDS), "wand", "How the blind in the box is operated.";
        brackets, "Brackets" ["Bracket items", "Bracket"] Kind::List, "wall brackets of the shortest reach", "The bracket items in the box, separated by commas, as on Products; none if there are none.";
        nominal_width: Length, "Nominal width" ["Width"] SIZE, "required (the row is ignored without it)", "The width it is sold as.";
        nominal_drop: Length, "Nominal drop" ["Drop"] SIZE, "required (the row is ignored without it)", "The drop it is sold as.";
        width, "Actual width" [] SIZE, "the nominal width", "Its actual finished width.";
        drop, "Actual drop" [] SIZE, "the nominal drop", "Its actual finished drop.";
        price: Option<Decimal>, "Price" [] Kind::Money, "unknown", "Price of one blind.", unknown;
        lead_days: Option<u32>, "Lead days" [] DAYS, "unknown", "Calendar days from order to delivery.", unknown;
        on_hand, "On hand" [] COUNT, "unknown: none is used, and a check is raised", "Number in stock.", unknown;
        cut_width_to: Option<Length>, "Minimum cut-down width" ["Cut down to width"] SIZE, "the width may not be cut", "Smallest width it may be cut down to.";
        cut_drop_to: Option<Length>, "Minimum cut-down drop" ["Cut down to drop"] SIZE, "the drop may not be cut", "Smallest drop it may be cut down to.";
        note, "Note" [] Kind::Text, "none", "`example price, not a quote` here marks an example price. Change the price, or delete these words, and it counts as yours.", unknown;
    }
    and {
        /// Which it is.
        id: StockId = id;
        /// The product.
        product: Arc<str> = product;
        /// Colors it comes in. Never empty.
        colors: Vec<Arc<str>> = contents.colors;
        /// How it is operated.
        control: Control = row.value(&COLUMNS.control).unwrap_or(Control::Wand);
        /// The bracket items in its box; empty for a box without.
        brackets: Vec<Arc<str>> = contents.brackets;
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
