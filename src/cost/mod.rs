//! Priced lines, labour, overheads and tax; and what is not in the total.

use rust_decimal::Decimal;

use crate::place::CellRef;
use crate::query::OpeningIndex;

/// What the job costs.
#[derive(Clone, Debug, Default)]
pub struct Cost {
    /// Every line: direct lines by section, then overhead, profit and contingency; not tax.
    pub lines: Vec<CostLine>,
    /// Sum of the known amounts of the lines.
    pub subtotal: Decimal,
    /// The tax, rounded once; `None` if its base holds an unknown amount.
    pub tax: Option<Decimal>,
    /// Subtotal + tax; `None` if any amount is unknown.
    pub total: Option<Decimal>,
    /// Held and unpriced, each with its openings.
    pub not_in_total: Vec<NotInTotal>,
    /// The direct cost again by phase, floor, unit and product.
    pub breakdowns: Vec<Breakdown>,
}

/// Sections of the cost summary, in the order of the sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Section {
    /// Blinds bought whole.
    Blinds,
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
    pub basis: &'static str,
    /// How many; for overhead, profit and contingency the base. `None` if unknown.
    pub quantity: Option<Decimal>,
    /// Price of one; for overhead, profit and contingency the share (0.08 for 8 %). `None` if unknown.
    pub rate: Option<Decimal>,
    /// How quantity and rate make the amount.
    pub formula: AmountFormula,
    /// Rounded once, half away from zero; `None` if quantity or rate is unknown.
    pub amount: Option<Decimal>,
    /// Whether the tax is taken on it.
    pub taxable: bool,
    /// Where the rate comes from.
    pub rate_from: RateFrom,
}

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
    /// Median direct cost of like openings, times these: an allowance, not a price.
    pub allowance: Option<Decimal>,
}

/// Direct cost shared out by one property.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Breakdown {
    /// `Phase`, `Floor`, `Unit` or `Product`.
    pub by: &'static str,
    /// Name, blinds and the known amount; in survey order.
    pub rows: Vec<(String, u64, Decimal)>,
}
