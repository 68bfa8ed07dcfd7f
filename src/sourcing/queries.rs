//! What sourcing asks and tells, in its own words.

use crate::date::Date;
use crate::length::Shown;
use crate::query::{Entry, queries};
use crate::rules::columns::project;

/// Every query of this room.
pub(crate) const QUERIES: &[&[Entry]] = &[SourcingQuery::ENTRIES];

queries! {
    /// A doubt about where a blind comes from, or what was done to its size.
    pub(super) enum SourcingQuery for Office {
        NoOrderDate: Check, "no-order-date",
            "without an order date it is not known whether blinds will arrive in time"
            => "fill in {} on the sheet Project, or for each phase on Phases", project::COLUMNS.order_date.name;
        Late { need_by: Date }: Check, "arrives-late",
            "it will arrive after {need_by}, the day it is needed"
            => "agree on a later day, or on a stock size";
        LeadDaysUnknown { need_by: Date }: Check, "lead-days-unknown",
            "lead days are unknown, so it may not arrive by {need_by}"
            => "ask the supplier, and fill in the lead days";
        LessCover { accepted: Shown }: Check, "less-cover",
            "a stock size is used that overlaps up to {accepted} less than the minimum on each side"
            => "check the overlap on site, or set {} to 0", project::COLUMNS.accept_less_cover.name;
        UsedUp: Note, "stock-used-up",
            "there are too few of the best-fitting stock size"
            => "correct the number on hand if there are more";
        UnpricedStock: Check, "stock-without-price",
            "a suitable stock size has no price, so it was not used"
            => "fill in its price in Stock sizes, or enter 0 on hand if it is not held";
        UnpricedBesides { bracket: String }: Check, "stock-bracket-without-price",
            "a suitable stock size lacks the {bracket}, which has no price, so it was not used"
            => "fill in the price of {bracket} in Prices";
        Moved: Note, "size-moved",
            "size adjusted to match other blinds"
            => "set {} to no to keep every preferred size", project::COLUMNS.merge_sizes.name;
    }
}
