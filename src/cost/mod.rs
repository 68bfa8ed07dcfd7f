//! Priced lines, labor, overheads and tax; and what is not in the total.
//!
//! A rate is what someone would quote or pay for one blind, one pack or one bar, so it is in whole
//! minor units; a line's amount is quantity x rate, rounded once; every sum is a sum of rounded
//! lines. What several lines may use (the labor rate, a price of a list) is an [`Input`], and their
//! rates say how they follow from it.
//!
//! A quantity that someone typed on an earlier `Cost summary` stands in the place of what is counted, as
//! long as that is what was counted then. Openings keep their parts of what is counted: what it is more,
//! or less, is the whole project's.
//!
//! While anything is unknown, what is known is carried to the end: overhead, profit, contingency and
//! tax are taken on it, and the result is a known part, never a total.

mod blinds;
mod breakdown;
mod by_length;
mod class;
mod input;
mod labor;
mod ledger;
mod markup;
mod missing;
mod parts;
mod queries;
mod range;
mod rate;
mod typed;

pub use crate::rules::SHARE;
pub use blinds::price_each;
pub use breakdown::{Breakdown, Place, Share, WHOLE_PROJECT};
pub use class::Class;
pub use input::{Input, Measure, RateOf};
pub(crate) use queries::QUERIES;
pub use range::{RangePart, TotalRange};

use std::borrow::Cow;

use rust_decimal::Decimal;

use crate::cutting::Cuts;
use crate::fitting::Blind;
use crate::frozen::Frozen;
use crate::hardware::Hardware;
use crate::order::{Order, OrderLine};
use crate::place::CellRef;
use crate::query::{Checked, OpeningIndex};
use crate::rules::{CostBasis, Rules, TAX, known_as};
use crate::spares::Spare;
use crate::survey::Survey;
use ledger::Ledger;

/// What the job costs.
#[derive(Clone, Debug, Default)]
pub struct Cost {
    /// Every line: direct lines by section, then overhead, profit and contingency; not tax.
    pub lines: Vec<CostLine>,
    /// What rates of the lines are made of, in the order in which the lines first need it.
    pub inputs: Vec<Input>,
    /// Sum of the known amounts of the lines.
    pub subtotal: Decimal,
    /// The survey's own share of tax, where another was typed over it; else that which is taken.
    pub printed_tax_share: Option<Decimal>,
    /// The tax on what is known, rounded once.
    pub known_tax: Decimal,
    /// The same if it is all of the tax; `None` if its base holds an unknown amount.
    pub tax: Option<Decimal>,
    /// Subtotal + tax; `None` if any amount is unknown.
    pub total: Option<Decimal>,
    /// Held and unpriced, each with its openings.
    pub not_in_total: Vec<NotInTotal>,
    /// The known cost again by phase, floor, unit and product.
    pub breakdowns: Vec<Breakdown>,
    /// What the total may come to.
    pub range: TotalRange,
}

/// Sections of the cost summary, in the order of the sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Section {
    /// Blinds bought whole, and spare louvers with them.
    Blinds,
    /// What comes off the section of blinds.
    Discount,
    /// Bars, parts and fixings.
    Parts,
    /// Making time.
    Making,
    /// Fitting time.
    Fitting,
    /// Measuring time.
    Survey,
    /// Taking old blinds down.
    Removal,
    /// Delivery.
    Delivery,
    /// Overhead on direct cost.
    Overhead,
    /// Profit on direct cost and overhead.
    Profit,
    /// Contingency on all of these.
    Contingency,
}

impl Section {
    /// The word that the sheets and the exchange formats use.
    pub const fn word(self) -> &'static str {
        match self {
            Section::Blinds => "blinds",
            Section::Discount => "discount",
            Section::Parts => "parts",
            Section::Making => "making",
            Section::Fitting => "fitting",
            Section::Survey => "survey",
            Section::Removal => "removal",
            Section::Delivery => "delivery",
            Section::Overhead => "overhead",
            Section::Profit => "profit",
            Section::Contingency => "contingency",
        }
    }

    /// Whether `Tax on: materials` covers it.
    pub const fn is_material(self) -> bool {
        matches!(self, Section::Blinds | Section::Discount | Section::Parts)
    }
}

/// One priced line.
#[derive(Clone, Debug)]
pub struct CostLine {
    /// Its section.
    pub section: Section,
    /// What it is.
    pub item: String,
    /// What the quantity counts: `each`, `m2`, `pack`, `min`, `share of direct cost`.
    pub unit: &'static str,
    /// How the amount is reached, in words: `per blind`, `minutes x rate / 60`.
    pub basis: Cow<'static, str>,
    /// The name by which a later run knows it again; no other line has it.
    pub known_as: String,
    /// How many; for a share the known part of its base. `None` if unknown.
    pub quantity: Option<Decimal>,
    /// What was counted, where another quantity was typed over it; else the same.
    pub printed_quantity: Option<Decimal>,
    /// What the quantity is counted from.
    pub quantity_from: QuantityFrom,
    /// Price of one; for a share the share itself (0.08 for 8 %), below zero for a discount. `None` if
    /// unknown.
    pub rate: Option<Decimal>,
    /// The survey's own rate, where another was typed over it; else the same.
    pub printed_rate: Option<Decimal>,
    /// What the rate is made of.
    pub rate_of: RateOf,
    /// What the openings' parts of the quantity are counted in.
    pub shared_in: Measure,
    /// How quantity and rate make the amount.
    pub formula: AmountFormula,
    /// Rounded once, half away from zero; `None` if quantity or rate is unknown.
    pub amount: Option<Decimal>,
    /// Whether it is ordered, still open, or made again.
    pub commitment: Commitment,
    /// Whether the tax is taken on it.
    pub taxable: bool,
    /// Where the rate comes from.
    pub rate_from: RateFrom,
}

impl CostLine {
    /// Whether it is 0 % of something: there for the sheet alone, where it may be changed.
    pub fn is_share_of_nothing(&self) -> bool {
        matches!(self.formula, AmountFormula::ShareOf(_)) && self.rate.is_some_and(|rate| rate.is_zero())
    }
}

/// How far a line of cost is settled.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Commitment {
    /// It is ordered, at the price at which it was.
    Committed,
    /// It is not ordered yet.
    Open,
    /// It is made again in place of a blind that was ordered.
    Remade,
}

impl Commitment {
    /// The word that the sheets and the exchange formats use.
    pub const fn word(self) -> &'static str {
        match self {
            Commitment::Committed => "committed",
            Commitment::Open => "open",
            Commitment::Remade => "remade",
        }
    }
}

/// What a quantity is counted from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum QuantityFrom {
    /// The lines of the order.
    Order,
    /// The bars of the cut plans.
    CutList,
    /// The packs of parts and fixings.
    Hardware,
    /// The openings.
    Openings,
    /// The project as a whole.
    Project,
    /// The sections above.
    Sections,
}

/// Times are in minutes, and the labor rate is an hour's.
pub const MINUTES_AN_HOUR: Decimal = Decimal::from_parts(60, 0, 0, false, 0);

/// How quantity and rate make an amount.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AmountFormula {
    /// quantity x rate.
    Product,
    /// minutes x hourly rate / 60.
    MinutesAtHourlyRate,
    /// base x share, the base being the sum of the lines of the sections named.
    ShareOf(&'static [Section]),
}

impl AmountFormula {
    /// The amount before it is rounded.
    pub fn of(self, quantity: Decimal, rate: Decimal) -> Decimal {
        match self {
            AmountFormula::Product | AmountFormula::ShareOf(_) => quantity * rate,
            AmountFormula::MinutesAtHourlyRate => quantity * rate / MINUTES_AN_HOUR,
        }
    }
}

/// Where a rate comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RateFrom {
    /// A built-in default: "example price, not a quote".
    Example,
    /// A cell of the survey.
    Cell(CellRef),
    /// Not known.
    Unknown,
}

/// Something that the total does not hold.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NotInTotal {
    /// What, such as `held openings`.
    pub what: String,
    /// Its openings, each once a row.
    pub openings: Vec<OpeningIndex>,
    /// The lines without an amount for want of it, by position; none for held openings.
    pub lines: Vec<usize>,
    /// Median direct cost of like openings, times these, less what the total holds of them already:
    /// an allowance, not a price. `None` where there is nothing to go by.
    pub allowance: Option<Decimal>,
}

/// The survey's openings with what was decided for each: what every section of the cost reads.
#[derive(Clone, Copy)]
pub struct Job<'a> {
    /// The survey.
    pub survey: &'a Survey,
    /// One place for each opening of the survey; `None` where it is held.
    pub blinds: &'a [Option<Blind<'a>>],
    /// The order of these blinds.
    pub order: &'a Order,
    /// Their spare louvers.
    pub spares: &'a [Spare],
    /// How their bars are cut.
    pub cuts: &'a Cuts,
    /// What they hang by.
    pub hardware: &'a Hardware,
    /// What was ordered before.
    pub frozen: &'a Frozen<'a>,
    /// The rules.
    pub rules: &'a Rules,
}

impl<'a> Job<'a> {
    /// How many openings a row stands for.
    fn quantity(self, opening: OpeningIndex) -> Decimal {
        self.survey.openings.get(opening).map_or(Decimal::ZERO, |opening| opening.who.quantity.into())
    }

    /// Openings of the order lines of these numbers.
    fn openings_of<'n>(
        self,
        lines: impl IntoIterator<Item = &'n usize>,
    ) -> impl Iterator<Item = OpeningIndex> {
        let lines = lines.into_iter().filter_map(move |&number| self.order.line(number));
        lines.flat_map(OrderLine::openings)
    }

    /// Openings that get a blind: position, quantity, blind.
    fn covered(self) -> impl Iterator<Item = (OpeningIndex, u32, &'a Blind<'a>)> {
        let openings = self.survey.openings.iter().zip(self.blinds).enumerate();
        openings.filter_map(|(index, (opening, blind))| Some((index, opening.who.quantity, blind.as_ref()?)))
    }
}

impl Cost {
    /// Subtotal and tax as far as they are known; the total, if it is known.
    pub fn known_total(&self) -> Decimal {
        self.subtotal + self.known_tax
    }

    /// Whether the total is known, and holds every opening.
    pub fn is_known_in_full(&self) -> bool {
        self.total.is_some() && self.not_in_total.is_empty()
    }
}

/// Prices the whole job. A price that is not known leaves its amount and the total unknown, and one check
/// for each such price says how many order lines need it. What is ordered costs what it cost when it was.
pub fn price(job: Job<'_>) -> Checked<Cost> {
    let Job { survey, order, rules, .. } = job;
    let mut ledger = Ledger::new(survey.openings.len(), rules);
    blinds::enter(&mut ledger, job);
    blinds::enter_spares(&mut ledger, job);
    blinds::enter_discount(&mut ledger, job);
    if rules.project.cost_basis == CostBasis::Make {
        parts::enter_bars(&mut ledger, job);
        by_length::enter(&mut ledger, job);
    }
    parts::enter_items(&mut ledger, job);
    labor::enter(&mut ledger, job);
    ledger.sort_by_section();

    let not_in_total = missing::not_in_total(&ledger, job);
    let mut queries = ledger.queries(order);
    markup::enter(&mut ledger, rules);
    queries.extend(ledger.of_typed());
    let lines = || ledger.lines().iter().map(|entered| &entered.line);
    let subtotal: Decimal = lines().filter_map(|line| line.amount).sum();
    let known_tax = markup::known_tax(lines(), &rules.project);
    let tax = lines().all(|line| line.amount.is_some() || !line.taxable).then_some(known_tax);
    let total = lines().all(|line| line.amount.is_some()).then(|| subtotal + known_tax);
    let breakdowns = breakdown::by_every_property(&ledger, job, known_tax);
    let range = range::of(&ledger, job, subtotal + known_tax);
    let (lines, inputs) = ledger.into_parts();
    let tax_share = rules.project.tax / Decimal::ONE_HUNDRED;
    let printed_tax_share = rules.typed.printed_rate(&known_as(TAX, SHARE), Some(tax_share));
    let cost = Cost {
        lines,
        inputs,
        subtotal,
        printed_tax_share,
        known_tax,
        tax,
        total,
        not_in_total,
        breakdowns,
        range,
    };
    Checked { value: cost, queries }
}
