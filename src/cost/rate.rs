//! Rates with the place they come from.

use rust_decimal::Decimal;

use super::RateFrom;
use crate::place::CellRef;
use crate::rules::Rules;

/// What one of something costs, and who says so.
#[derive(Clone, Copy, Debug)]
pub(super) struct Rate {
    /// Price of one; `None` if not known.
    pub price: Option<Decimal>,
    /// Whether it is a built-in example price, also where a survey repeats it.
    pub example: bool,
    /// Its cell, if the survey gives it.
    pub at: Option<CellRef>,
}

impl Rate {
    /// A rate that no list gives.
    pub const UNKNOWN: Rate = Rate { price: None, example: false, at: None };

    /// A rate whose place the list of used rules tells.
    pub fn used(price: Option<Decimal>, at: Option<CellRef>) -> Rate {
        Rate { price, example: at.is_none(), at }
    }

    /// Where it comes from, as the sheet says it.
    pub fn origin(&self) -> RateFrom {
        match (self.price, self.at) {
            (None, _) => RateFrom::Unknown,
            (Some(_), Some(at)) if !self.example => RateFrom::Cell(at),
            (Some(_), _) => RateFrom::Example,
        }
    }

    /// A built-in charge of nothing: not worth a line. A survey that writes 0 sees its line.
    pub fn is_default_nothing(&self) -> bool {
        self.at.is_none() && self.price.is_some_and(|price| price.is_zero())
    }
}

/// The survey's cell for one rule, if the survey gives it; `item` is empty for the project's items.
pub(super) fn cell_of(rules: &Rules, table: &str, item: &str, heading: &str) -> Option<CellRef> {
    let mut rows = rules.used.iter().filter(|used| used.table == table && used.item == item);
    rows.find(|used| used.rule == heading)?.at
}

/// Price of an hour's work.
pub(super) fn labour_rate(rules: &Rules) -> Rate {
    Rate::used(Some(rules.project.labour_rate), cell_of(rules, "Project", "", "Labour rate"))
}
