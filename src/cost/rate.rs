//! Rates with the place they come from.

use rust_decimal::Decimal;

use super::{RateFrom, RateOf};
use crate::place::CellRef;
use crate::rules::Rules;
use crate::rules::columns::project::{self, PROJECT};
use crate::rules::columns::rates::{self, RATES};
use crate::schema::{Column, Table};

/// What one of something costs, and who says so.
#[derive(Clone, Copy, Debug)]
pub(super) struct Rate {
    /// Price of one; `None` if not known.
    pub price: Option<Decimal>,
    /// Whether it is a built-in example price, also where a survey repeats it.
    pub example: bool,
    /// Its cell, if the survey gives it.
    pub at: Option<CellRef>,
    /// What it is made of.
    pub of: RateOf,
}

impl Rate {
    /// A rate that no list gives.
    pub const UNKNOWN: Rate = Rate { price: None, example: false, at: None, of: RateOf::Itself };

    /// A price of a list that says of itself whether it is an example, and where it stands.
    pub fn listed(price: Option<Decimal>, example: bool, at: Option<CellRef>) -> Rate {
        Rate { price, example, at, of: RateOf::Itself }
    }

    /// What something cost when it was ordered, and where that is said.
    pub fn as_ordered(price: Option<Decimal>, at: Option<CellRef>) -> Rate {
        Rate { price, example: false, at, of: RateOf::AsOrdered }
    }

    /// A rate that a person typed, in the cell that says so.
    pub fn typed(self, price: Option<Decimal>, at: CellRef) -> Rate {
        Rate { price, example: false, at: Some(at), ..self }
    }

    /// The same rate, made of an input.
    pub fn made(self, of: RateOf) -> Rate {
        Rate { of, ..self }
    }

    /// A rate whose place the list of used rules tells; `item` is empty for the project's items.
    pub fn used(price: Option<Decimal>, rules: &Rules, table: &Table, item: &str, column: &Column) -> Rate {
        let source = rules.source(table.sheet, item, column.name);
        Rate::listed(price, source.is_none_or(|used| used.example), source.and_then(|used| used.at))
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

/// Price of an hour's work.
pub(super) fn labor_rate(rules: &Rules) -> Rate {
    Rate::used(Some(rules.project.labor_rate), rules, &PROJECT, "", &project::COLUMNS.labor_rate)
}

/// A time or a charge of `Rates`.
pub(super) fn charge(rules: &Rules, item: &str, price: Option<Decimal>) -> Rate {
    Rate::used(price, rules, &RATES, item, &rates::COLUMNS.rate)
}
