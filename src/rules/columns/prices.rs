//! The sheet `Prices`: made blinds and parts.

use super::{DAYS, PACK};
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
    }
}

sheet! { PRICES, "Prices", Form::Rows, "Prices of made blinds and of parts. The sheet replaces the built-in list.";
    item, "Item" [] Kind::Text, "the row is left out", "`made blind`, or a part.";
    product, "Product" [] Kind::Text, "every product", "For a made blind: the product it is for.";
    price, "Price" [] Kind::Money, "unknown", "The price.", unknown;
    per, "Per" ["Unit"] Kind::Choice(Per::WORDS), "each; 12 in for a wand", "What the price is for: each, m2 of width x drop, or 12 in of a wand.", unknown;
    least_m2, "At least m2" ["Least area"] Kind::Number { most: 1_000 }, "no least", "Least area that is charged, where the price is per m2.";
    lead_days, "Lead days" [] DAYS, "unknown", "For a made blind: calendar days from order to delivery.", unknown;
    pack_of, "Pack of" ["Pack"] PACK, "1: sold singly", "For a part: how many are in a pack.";
    note, "Note" [] Kind::Text, "none", "A price marked `example price, not a quote` is shown so until it or the mark is changed.", unknown;
}
