//! The project's items, checked.

use rust_decimal::Decimal;

use crate::length::{Length, Units};
use crate::money::Currency;
use crate::survey::Given;
use crate::tables::Date;

/// What `Project` says, blanks filled.
#[derive(Clone, Debug)]
pub struct Project {
    /// The project's name; empty if blank.
    pub name: String,
    /// Where it is; empty if blank.
    pub site: String,
    /// Who it is for; empty if blank.
    pub client: String,
    /// Who measured; empty if blank.
    pub surveyed_by: String,
    /// When.
    pub survey_date: Option<Date>,
    /// The survey's revision.
    pub revision: String,
    /// How sizes are written and shown.
    pub units: Units,
    /// Currency of every price.
    pub currency: Currency,
    /// Whose safety rules hold.
    pub jurisdiction: Jurisdiction,
    /// What the sizes in the survey are.
    pub sizes_given: SizesGiven,
    /// Whether floors were laid when measured.
    pub floors_finished: FloorsFinished,
    /// Floor as it is to ceiling.
    pub ceiling_height: Option<Given<Length>>,
    /// Year built.
    pub built: Option<u32>,
    /// Tax, in per cent.
    pub tax: Decimal,
    /// Overhead, in per cent of direct cost.
    pub overhead: Decimal,
    /// Profit, in per cent of direct cost and overhead.
    pub profit: Decimal,
    /// Contingency, in per cent of all before tax.
    pub contingency: Decimal,
    /// Price of an hour.
    pub labour_rate: Decimal,
    /// Louvers to cut beyond those needed, in per cent.
    pub spare_louvers: Decimal,
    /// Fixings to buy beyond those needed, in per cent.
    pub spare_fixings: Decimal,
    /// When the blinds must be on site.
    pub need_by: Option<Date>,
    /// Bought whole or made.
    pub cost_basis: CostBasis,
    /// Whether stock sizes may be used.
    pub stock_sizes: bool,
    /// How far under the least overlap a stock size may fall, on a side.
    pub accept_less_cover: Length,
    /// How far a made size may move to share another; `None` for `no`.
    pub merge_sizes: Option<Length>,
    /// The day from which lead days count, if the project gives one.
    pub order_date: Option<Date>,
    /// What the tax is taken on.
    pub tax_on: TaxOn,
}

/// Whose safety rules hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Jurisdiction {
    /// United States.
    UnitedStates,
    /// Canada.
    Canada,
    /// European Union.
    EuropeanUnion,
    /// United Kingdom.
    UnitedKingdom,
    /// Australia.
    Australia,
    /// `none`.
    Unregulated,
    /// Blank: the strictest of all.
    Strictest,
}

/// What the widths and heights of a survey are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SizesGiven {
    /// Of the openings.
    Opening,
    /// Of finished blinds: nothing comes off.
    Finished,
}

/// Whether floors were laid when the openings were measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FloorsFinished {
    /// All of them.
    Yes,
    /// None: a blank surface is an unfinished one.
    No,
    /// Some: a blank surface counts as hard.
    Mixed,
}

/// How blinds are costed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CostBasis {
    /// At a price each.
    Buy,
    /// From bars, parts and making time.
    Make,
}

/// What the tax is taken on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TaxOn {
    /// Everything.
    All,
    /// Materials only.
    Materials,
}
