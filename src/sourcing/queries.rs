//! What sourcing asks and tells, in its own words.

use thiserror::Error;

use crate::date::Date;
use crate::length::Shown;
use crate::query::{Reader, Wording};

/// A doubt about where a blind comes from, or what was done to its size.
#[derive(Debug, Error)]
pub(super) enum SourcingQuery {
    #[error("whether blinds are there by the day they are needed is not known without an order date")]
    NoOrderDate,
    #[error("it arrives after {need_by}, when it is needed")]
    Late { need_by: Date },
    #[error("lead days are not known, so it may not arrive by {need_by}")]
    LeadDaysUnknown { need_by: Date },
    #[error("taken from stock with up to {accepted} a side less than the least overlap")]
    LessCover { accepted: Shown },
    #[error("too few are left of the stock size that suits best")]
    UsedUp,
    #[error("a stock size that would do has no price, so it was passed over")]
    UnpricedStock,
    #[error("its size was moved to share another")]
    Moved,
}

impl Wording for SourcingQuery {
    fn reader(&self) -> Reader {
        Reader::Office
    }

    fn hint(&self) -> String {
        match self {
            SourcingQuery::NoOrderDate => "fill in Order date in Project",
            SourcingQuery::Late { .. } => "agree on a later day, or on a size held in stock",
            SourcingQuery::LeadDaysUnknown { .. } => "ask the supplier, and fill in the lead days",
            SourcingQuery::LessCover { .. } => "look at the gap on site, or set Accept less cover to 0",
            SourcingQuery::UsedUp => "correct the number on hand if there are more",
            SourcingQuery::UnpricedStock => {
                "fill in its price in Stock sizes, or 0 on hand if it is not held"
            }
            SourcingQuery::Moved => "set Merge sizes to no to keep every preferred size",
        }
        .to_owned()
    }
}
