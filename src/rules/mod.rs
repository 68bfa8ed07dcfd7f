//! What holds for the run: the built-in defaults, overridden by the survey's own sheets. Both give
//! raw rules (item, key, value, place), and one builder checks them into the types here.

mod bars;
mod build;
mod built_in;
pub mod columns;
mod fixing;
mod left_out;
mod material;
mod moved;
mod options;
mod phases;
mod price;
mod priced;
mod product;
mod project;
mod queries;
mod rates;
mod raw;
pub mod safety;
mod saw;
mod sheets;
mod stock;
mod typed;
mod work_days;

pub use build::{build, build_as};
pub use built_in::{BuiltInSheet, built_in_sheets};
pub use columns::bars::Bar;
pub use columns::fixings::Fixing;
pub use columns::materials::{CutIn, Material, StockName};
pub use columns::offcuts::Offcut;
pub use columns::phases::Phase;
pub use columns::products::{CoverRules, LouverRules, WandTilt};
pub use columns::project::{
    CostBasis, FloorsFinished, Jurisdiction, Paper, Project, SawnTogether, SizesGiven, TaxOn,
};
pub use columns::stock_sizes::StockSize;
pub use fixing::{Capacity, FixingId};
pub use options::{AS_IT_STANDS, OptionRow, has_options, options, unlisted};
pub use phases::Terms;
pub use price::{BlindPrice, MADE_BLIND, PartPrice, PriceList, SPARE_LOUVER, SmallPart};
pub use priced::{LABOR_RATE, SHARE, TAX, known_as};
pub use product::{Family, Product};
pub(crate) use queries::QUERIES;
pub use queries::RulesError;
pub use rates::{Rates, rate};
pub use safety::Safety;
pub use saw::{Saw, Stocked};
pub use stock::StockId;
pub(crate) use typed::TypedQuery;
pub use typed::{Figure, TypedFigure, TypedFigures, is_same};
pub use work_days::WorkDays;

use crate::assumptions::Assumption;
use crate::length::Length;
use crate::name::same_name;
use crate::place::CellRef;

/// Every rule of the run, checked.
#[derive(Clone, Debug)]
pub struct Rules {
    /// The project's own items.
    pub project: Project,
    /// Products, in the order in which a blank `Product` tries them.
    pub products: Vec<Product>,
    /// Sizes held in shops; used only if the project says so.
    pub stock_sizes: Vec<StockSize>,
    /// Every material, built in or named by the survey.
    pub materials: Vec<Material>,
    /// Stock lengths of every material.
    pub bars: Vec<Bar>,
    /// Offcuts on hand.
    pub offcuts: Vec<Offcut>,
    /// Fixings, in the order in which they are tried.
    pub fixings: Vec<Fixing>,
    /// Prices of blinds and parts.
    pub prices: PriceList,
    /// Times and charges.
    pub rates: Rates,
    /// What the survey says of single phases, in its order.
    pub phases: Vec<Phase>,
    /// What law and standards say of cords, escape and reach.
    pub safety: Safety,
    /// Where each value came from, for `Rules used`.
    pub used: Vec<RuleUsed>,
    /// Items of `Project` that were blank and were taken to mean something.
    pub assumptions: Vec<Assumption>,
    /// What was typed on an earlier `Cost summary`.
    pub typed: TypedFigures,
}

/// One rule as used in this run.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RuleUsed {
    /// The sheet it belongs to, such as `Products`.
    pub table: &'static str,
    /// The item, such as `louver-89`; empty for the project's items.
    pub item: String,
    /// The column's heading.
    pub rule: &'static str,
    /// The value as written.
    pub value: String,
    /// Its cell in the survey; `None` for the built-in default.
    pub at: Option<CellRef>,
    /// Why the default is what it is; empty for a value from the survey.
    pub why: String,
    /// Whether it is an invented price that nobody has changed: "example price, not a quote".
    pub example: bool,
}

impl Rules {
    /// Where a rule's value comes from: `("Rates", "delivery", "Rate")`, `("Project", "", "Labor rate")`.
    pub fn source(&self, table: &str, item: &str, rule: &str) -> Option<&RuleUsed> {
        self.used.iter().find(|used| used.table == table && used.item == item && used.rule == rule)
    }

    /// The product of that name, if there is one.
    pub fn product(&self, name: &str) -> Option<&Product> {
        // As it is spelled here, which is found far sooner.
        let as_written = self.products.iter().find(|product| &*product.name == name);
        as_written.or_else(|| self.products.iter().find(|product| same_name(&product.name, name)))
    }

    /// The stock size of a product by its nominal width and drop; the first of equals.
    pub fn stock_of(&self, product: &str, nominal: (Length, Length)) -> Option<&StockSize> {
        let is_it = |size: &&StockSize| {
            (size.nominal_width, size.nominal_drop) == nominal && same_name(&size.product, product)
        };
        self.stock_sizes.iter().find(is_it)
    }

    /// A stock size of these rules; there is none under the id of another run's.
    pub fn stock_size(&self, id: StockId) -> Option<&StockSize> {
        let found = self.stock_sizes.iter().find(|size| size.id == id);
        debug_assert!(found.is_some(), "{id:?} is of other rules");
        found
    }

    /// A fixing of these rules; there is none under the id of another run's.
    pub fn fixing(&self, id: FixingId) -> Option<&Fixing> {
        let found = self.fixings.iter().find(|fixing| fixing.id == id);
        debug_assert!(found.is_some(), "{id:?} is of other rules");
        found
    }
}
