//! The final size of each blind: which come from stock, and which share a size.

mod calendar;
mod candidate;
mod curve;
mod merge;
mod offer;
mod ordered;
mod queries;
mod rank;
mod share;
mod stock;

pub use crate::schema::choices::Origin;
pub use candidate::{Candidate, PassedOver, WhyNot};
pub use curve::{Cheapest, SizesAt};
pub use offer::LessCover;
pub(crate) use queries::QUERIES;
pub use share::Worth;
pub use stock::StockUse;

use crate::assumptions::Assumption;
use crate::date::Date;
use crate::frozen::Frozen;
use crate::length::Length;
use crate::query::{Checked, Query};
use crate::rules::{Rules, StockSize};
use crate::sizing::{Size, Sizing};
use crate::survey::Survey;
use crate::worked::Record;

use calendar::Calendars;

/// What this stage hands on.
#[derive(Clone, Debug, Default)]
pub struct Sourcing<'r> {
    /// One place for each opening of the survey; `None` where it is held.
    pub sizes: Vec<Option<Sourced<'r>>>,
    /// Each stock size of the list, and what its boxes are worth; empty if the project does not want stock.
    pub stock_use: Vec<StockUse<'r>>,
    /// What sharing sizes did; `None` if the project does not ask for it.
    pub merging: Option<Merging>,
    /// What fewer sizes cost and save, from no move to whole windows; empty where nobody asks for it.
    pub sizes_curve: Vec<SizesAt>,
    /// Values taken because an item was blank.
    pub assumptions: Vec<Assumption>,
}

/// The final size of one opening's blinds.
#[derive(Clone, Debug)]
pub struct Sourced<'r> {
    /// The finished size.
    pub size: Size,
    /// Where the blind comes from.
    pub supply: Supply<'r>,
    /// When it can be on site; `None` without an order date or lead days.
    pub arrives: Option<Date>,
    /// Days from order to delivery, if known.
    pub lead_days: Option<u32>,
    /// What else was looked at, where stock may be used: the stock sizes of its product in the order of
    /// the list, then the made one.
    pub passed_over: Vec<PassedOver<'r>>,
}

/// Where a blind comes from. A row is never split between sources.
#[derive(Clone, Copy, Debug)]
pub enum Supply<'r> {
    /// Made to measure.
    Made,
    /// A stock size, hung as it is.
    Stock(&'r StockSize),
    /// A stock size cut down.
    CutFromStock(&'r StockSize),
    /// A stock size that was ordered and is listed no more.
    Unlisted,
}

impl<'r> Supply<'r> {
    /// The stock size; `None` if made, or if it is listed no more.
    pub const fn stock(&self) -> Option<&'r StockSize> {
        match self {
            Supply::Made | Supply::Unlisted => None,
            Supply::Stock(size) | Supply::CutFromStock(size) => Some(size),
        }
    }

    /// Made, or from stock.
    pub const fn origin(&self) -> Origin {
        match self {
            Supply::Made => Origin::Made,
            Supply::Stock(_) | Supply::CutFromStock(_) | Supply::Unlisted => Origin::Stock,
        }
    }
}

/// What sharing sizes did, each phase counted by itself: no size is moved to share another phase's.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Merging {
    /// Distinct product, width and drop of made blinds before.
    pub before: usize,
    /// And after.
    pub after: usize,
    /// No sharing within the windows can need fewer.
    pub at_least: usize,
    /// How far all blinds were moved together, in width and in drop.
    pub movement: Length,
    /// It is proven that so few sizes cannot do with less movement, and that fewer sizes cannot do.
    pub is_least_movement: bool,
}

impl Merging {
    /// It is proven that fewer sizes cannot do.
    pub const fn is_fewest(&self) -> bool {
        self.after == self.at_least
    }
}

/// Settles where each blind comes from, and then which made blinds share a size. What is ordered stays as it
/// was ordered.
pub fn source<'r>(
    survey: &Survey,
    sizings: &[Option<Sizing<'r>>],
    frozen: &Frozen<'_>,
    rules: &'r Rules,
) -> Checked<Sourcing<'r>> {
    let calendars = Calendars::of(survey, rules);
    let mut records: Vec<Record<'r>> = survey
        .openings
        .iter()
        .enumerate()
        .map(|(index, opening)| Record::silent(index, opening.who.at, rules.project.units))
        .collect();
    let (mut sourced, stock_use) = stock::choose(survey, sizings, frozen, rules, &calendars, &mut records);
    let sizes_curve = match curve::is_asked_for(rules) {
        true => curve::curve(survey, sizings, frozen, rules, &sourced),
        false => Vec::new(),
    };
    let merging = rules
        .project
        .merge_sizes
        .map(|furthest| merge::groups(survey, sizings, frozen, furthest, &sourced))
        .map(|groups| merge::share_sizes(&groups, &mut sourced, &mut records));

    let queries: Vec<Query> = calendars
        .query()
        .into_iter()
        .chain(ordered::off_the_shelf(frozen, rules))
        .chain(records.into_iter().flat_map(|record| record.finish().0))
        .collect();
    let assumptions = calendars.assumption(&sourced).into_iter().collect();
    let value = Sourcing { sizes: sourced, stock_use, merging, sizes_curve, assumptions };
    Checked { value, queries }
}
