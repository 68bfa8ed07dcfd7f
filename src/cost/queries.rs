//! What cost must ask.

use crate::query::{Entry, queries};
use crate::schema::blinds::{BLINDS, PRICE};
use crate::schema::openings::SUBSTRATE;

/// Every query of this room.
pub(crate) const QUERIES: &[&[Entry]] = &[Lacking::ENTRIES, CostQuery::ENTRIES];

queries! {
    /// Something that the total cannot hold. The words are also its entry under what is not in the total.
    #[derive(PartialOrd, Ord)]
    pub(super) enum Lacking {
        Price { what: String, sheet: &'static str }: Check, "no-price",
            "{what} has no price" => "fill in the price of {what} in {sheet}";
        OrderedPrice: Check, "ordered-without-price",
            "blinds are ordered, and their price is not known"
            => "fill in {} on their rows of {}", PRICE.name, BLINDS.sheet;
        Rate { what: &'static str }: Check, "no-rate",
            "{what} has no rate" => "fill in {what} in Rates; enter 0 if nothing is charged";
        Choice: Check, "fixings-without-price",
            "fixings not chosen yet have no price"
            => "fill in {}: what the brackets are fixed to", SUBSTRATE.name;
    }
}

queries! {
    /// What else is asked about prices.
    pub(super) enum CostQuery {
        PricedInPart { material: String }: Check, "bars-priced-in-part",
            "some bars of {material} have no price; the plan uses the fewest bars, not the cheapest"
            => "fill in the price in Bars, or delete the row";
    }
}
