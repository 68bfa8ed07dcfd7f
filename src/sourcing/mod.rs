//! The final size of each blind: which come from stock, and which share a size.

mod calendar;
mod candidate;
mod merge;
mod ordered;
mod queries;
mod stock;

pub use crate::schema::choices::Origin;
pub use candidate::{Candidate, PassedOver, WhyNot};
pub(crate) use queries::QUERIES;

use crate::assumptions::Assumption;
use crate::date::Date;
use crate::frozen::Frozen;
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
    /// What sharing sizes did; `None` if the project does not ask for it.
    pub merging: Option<Merging>,
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
}

/// Settles where each blind comes from, in survey order, and then which made blinds share a size. What is
/// ordered stays as it was ordered.
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
    let mut sourced = stock::choose(survey, sizings, frozen, rules, &calendars, &mut records);
    let merging = rules
        .project
        .merge_sizes
        .map(|furthest| merge::share_sizes(survey, sizings, frozen, furthest, &mut sourced, &mut records));

    let queries: Vec<Query> = calendars
        .query()
        .into_iter()
        .chain(ordered::off_the_shelf(frozen, rules))
        .chain(records.into_iter().flat_map(|record| record.finish().0))
        .collect();
    let assumptions = calendars.assumption(&sourced).into_iter().collect();
    Checked { value: Sourcing { sizes: sourced, merging, assumptions }, queries }
}
