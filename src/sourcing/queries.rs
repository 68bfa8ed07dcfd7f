//! What sourcing asks and tells, in its own words.

use crate::date::Date;
use crate::length::Shown;
use crate::query::{Entry, queries};

/// Every query of this room.
pub(crate) const QUERIES: &[&[Entry]] = &[SourcingQuery::ENTRIES];

queries! {
    /// A doubt about where a blind comes from, or what was done to its size.
    pub(super) enum SourcingQuery for Office {
        NoOrderDate: Check, "no-order-date",
            "whether blinds are there by the day they are needed is not known without an order date"
            => "fill in Order date in Project";
        Late { need_by: Date }: Check, "arrives-late",
            "it arrives after {need_by}, when it is needed"
            => "agree on a later day, or on a size held in stock";
        LeadDaysUnknown { need_by: Date }: Check, "lead-days-unknown",
            "lead days are not known, so it may not arrive by {need_by}"
            => "ask the supplier, and fill in the lead days";
        LessCover { accepted: Shown }: Check, "less-cover",
            "taken from stock with up to {accepted} a side less than the least overlap"
            => "look at the gap on site, or set Accept less cover to 0";
        UsedUp: Note, "stock-used-up",
            "too few are left of the stock size that suits best"
            => "correct the number on hand if there are more";
        UnpricedStock: Check, "stock-without-price",
            "a stock size that would do has no price, so it was passed over"
            => "fill in its price in Stock sizes, or 0 on hand if it is not held";
        Moved: Note, "size-moved",
            "its size was moved to share another" => "set Merge sizes to no to keep every preferred size";
    }
}
