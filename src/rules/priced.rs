//! Prices, rates and shares as the cost shows them: the name by which each is known there, and what
//! puts another in its place.

use rust_decimal::Decimal;

use super::columns::{
    bars, bars::BARS, fixings, fixings::FIXINGS, prices, prices::PRICES, project, project::PROJECT, rates,
    rates::RATES, stock_sizes, stock_sizes::STOCK_SIZES,
};
use super::{
    Bar, BlindPrice, MADE_BLIND, PartPrice, PriceList, Project, Rates, Rules, SPARE_LOUVER, StockName,
    StockSize, rate,
};
use crate::length::Units;
use crate::place::CellRef;
use crate::rounding::half_away;
use crate::schema::Column;

/// What every time is charged at.
pub const LABOR_RATE: &str = "labor rate";
/// The unit of a share.
pub const SHARE: &str = "%";
/// The tax on the taxable lines.
pub const TAX: &str = "tax";

/// The lasting name of something that is priced: `labor rate, h`.
pub fn known_as(item: &str, unit: &str) -> String {
    format!("{item}, {unit}")
}

impl BlindPrice {
    /// `made-to-measure blind, louver-89`.
    pub fn name(&self) -> String {
        match &self.product {
            Some(product) => format!("{MADE_BLIND}, {product}"),
            None => MADE_BLIND.to_owned(),
        }
    }
}

impl StockSize {
    /// `stock size 104 in x 84 in of louver-89`.
    pub fn name(&self, units: Units) -> String {
        let (width, drop) = (self.nominal_width.show(units), self.nominal_drop.show(units));
        format!("stock size {width} x {drop} of {}", self.product)
    }
}

impl Bar {
    /// `aluminum rail, 16 ft long`.
    pub fn name(&self, units: Units) -> String {
        format!("{}, {} long", self.material, self.length.as_bought(units))
    }
}

impl PartPrice {
    /// `wand, each 12 in`; `None` for a part that is priced by the piece.
    pub fn by_length(&self, units: Units) -> Option<String> {
        Some(format!("{}, each {}", self.item, self.length?.as_bought(units)))
    }
}

/// A figure of the rules that the cost shows.
pub(super) struct Priced<'r> {
    /// The names by which the cost knows it, and how it is shown under each.
    pub names: Vec<(String, As)>,
    pub value: Value<'r>,
    /// Whether it is a built-in example, and its cell; `None` where `Rules used` alone says so.
    pub source: Option<(&'r mut bool, &'r mut Option<CellRef>)>,
    /// Sheet, item and column of the rule.
    pub rule: (&'static str, String, &'static Column),
    /// The most that it may be.
    pub most: Option<Decimal>,
}

/// The number itself.
pub(super) enum Value<'r> {
    /// One that is always known.
    Known(&'r mut Decimal),
    /// One that may be unknown.
    MayBeUnknown(&'r mut Option<Decimal>),
}

/// How the cost shows a figure of the rules.
#[derive(Clone, Copy)]
pub(super) enum As {
    /// As it is.
    ItIs,
    /// A percentage as a share: 0.05 for 5.
    Share,
    /// So many of it together, rounded to this many decimals: a pack.
    Together(u32, u32),
}

impl As {
    /// The number that the cost shows.
    pub fn shown(self, value: Decimal) -> Decimal {
        match self {
            As::ItIs => value,
            As::Share => value / Decimal::ONE_HUNDRED,
            As::Together(count, decimals) => half_away(value * Decimal::from(count), decimals),
        }
    }

    /// The figure of the rules that is shown so.
    pub fn meant(self, shown: Decimal) -> Decimal {
        match self {
            As::ItIs => shown,
            As::Share => shown * Decimal::ONE_HUNDRED,
            As::Together(count, _) => shown / Decimal::from(count.max(1)),
        }
    }
}

impl Value<'_> {
    pub fn now(&self) -> Option<Decimal> {
        match self {
            Value::Known(value) => Some(**value),
            Value::MayBeUnknown(value) => **value,
        }
    }

    /// Puts another in its place; `false` where it must be known and is not.
    pub fn put(&mut self, other: Option<Decimal>) -> bool {
        match (self, other) {
            (Value::Known(value), Some(other)) => **value = other,
            (Value::Known(_), None) => return false,
            (Value::MayBeUnknown(value), other) => **value = other,
        }
        true
    }
}

/// Lists what the survey's own list leaves out, without a price, where one is typed for it.
pub(super) fn list(prices: &mut PriceList, named: &str) {
    if named == known_as(SPARE_LOUVER, "each") && prices.parts.iter().all(|part| *part.item != *SPARE_LOUVER)
    {
        prices.parts.push(PartPrice {
            item: SPARE_LOUVER.into(),
            each: None,
            length: None,
            pack_of: 1,
            example: false,
            at: None,
        });
    }
    let is_blind = ["each", "m2"].iter().any(|unit| named == known_as(MADE_BLIND, unit));
    if is_blind && prices.blinds.iter().all(|blind| blind.product.is_some()) {
        // The last: it is for the products that have none of their own.
        prices.blinds.push(BlindPrice {
            product: None,
            each: None,
            per_m2: None,
            least_m2: Decimal::ZERO,
            lead_days: None,
            example: false,
            at: None,
            m2_example: false,
            m2_at: None,
        });
    }
}

/// Every price, rate and share that the cost may show.
pub(super) fn all(rules: &mut Rules) -> Vec<Priced<'_>> {
    let (units, decimals) = (rules.project.units, rules.project.currency.decimals());
    let Rules { project, prices, rates, stock_sizes, materials, bars, fixings, .. } = rules;
    let stock_name = |material: &str| {
        let named = materials.iter().find(|known| &*known.name == material);
        named.map_or(StockName::Bar, |material| material.stock_name).word()
    };
    let mut all = of_project(project);
    all.extend(of_rates(rates));
    for blind in &mut prices.blinds {
        let name = blind.name();
        let rule = || (PRICES.sheet, MADE_BLIND.to_owned(), &prices::COLUMNS.price);
        all.push(Priced {
            names: vec![(known_as(&name, "each"), As::ItIs)],
            value: Value::MayBeUnknown(&mut blind.each),
            source: Some((&mut blind.example, &mut blind.at)),
            rule: rule(),
            most: None,
        });
        all.push(Priced {
            names: vec![(known_as(&name, "m2"), As::ItIs)],
            value: Value::MayBeUnknown(&mut blind.per_m2),
            source: Some((&mut blind.m2_example, &mut blind.m2_at)),
            rule: rule(),
            most: None,
        });
    }
    for part in &mut prices.parts {
        let names = match part.by_length(units) {
            Some(name) => vec![(known_as(&name, "each"), As::ItIs)],
            None if *part.item == *SPARE_LOUVER => vec![(known_as(&part.item, "each"), As::ItIs)],
            None => vec![
                (known_as(&part.item, "pack"), As::Together(part.pack_of, decimals)),
                (known_as(&part.item, "each"), As::Together(1, decimals)),
            ],
        };
        all.push(Priced {
            names,
            rule: (PRICES.sheet, part.item.to_string(), &prices::COLUMNS.price),
            value: Value::MayBeUnknown(&mut part.each),
            source: Some((&mut part.example, &mut part.at)),
            most: None,
        });
    }
    for size in stock_sizes {
        all.push(Priced {
            names: vec![(known_as(&size.name(units), "each"), As::ItIs)],
            rule: (STOCK_SIZES.sheet, size.product.to_string(), &stock_sizes::COLUMNS.price),
            value: Value::MayBeUnknown(&mut size.price),
            source: Some((&mut size.example, &mut size.at)),
            most: None,
        });
    }
    for bar in bars {
        all.push(Priced {
            names: vec![(known_as(&bar.name(units), stock_name(&bar.material)), As::ItIs)],
            rule: (BARS.sheet, bar.material.to_string(), &bars::COLUMNS.price),
            value: Value::MayBeUnknown(&mut bar.price),
            source: Some((&mut bar.example, &mut bar.at)),
            most: None,
        });
    }
    for fixing in fixings {
        all.push(Priced {
            names: vec![(known_as(&fixing.item, "pack"), As::ItIs)],
            rule: (FIXINGS.sheet, fixing.item.to_string(), &fixings::COLUMNS.price),
            value: Value::MayBeUnknown(&mut fixing.price),
            source: Some((&mut fixing.example, &mut fixing.at)),
            most: None,
        });
    }
    all
}

fn of_project(project: &mut Project) -> Vec<Priced<'_>> {
    let Project { labor_rate, overhead, profit, contingency, tax, .. } = project;
    let c = &project::COLUMNS;
    let share = |name: &str, value, column: &'static Column, most: u32| Priced {
        names: vec![(known_as(name, SHARE), As::Share)],
        value: Value::Known(value),
        source: None,
        rule: (PROJECT.sheet, String::new(), column),
        most: Some(most.into()),
    };
    vec![
        Priced {
            names: vec![(known_as(LABOR_RATE, "h"), As::ItIs)],
            value: Value::Known(labor_rate),
            source: None,
            rule: (PROJECT.sheet, String::new(), &c.labor_rate),
            most: None,
        },
        share("overhead", overhead, &c.overhead, 1_000),
        share("profit", profit, &c.profit, 1_000),
        share("contingency", contingency, &c.contingency, 1_000),
        share(TAX, tax, &c.tax, 100),
    ]
}

/// Charges and the discount. Times are totals on the cost summary, so they are quantities there.
fn of_rates(rates: &mut Rates) -> Vec<Priced<'_>> {
    let Rates { removal, delivery, size_set_up, discount, .. } = rates;
    let charge = |item: &str, unit, value, shown, most: Option<u32>| Priced {
        names: vec![(known_as(item, unit), shown)],
        value: Value::MayBeUnknown(value),
        source: None,
        rule: (RATES.sheet, item.to_owned(), &rates::COLUMNS.rate),
        most: most.map(Decimal::from),
    };
    vec![
        charge(rate::REMOVAL, "opening", removal, As::ItIs, None),
        charge(rate::DELIVERY, "project", delivery, As::ItIs, None),
        charge(rate::SIZE_SET_UP, "size", size_set_up, As::ItIs, None),
        charge(rate::DISCOUNT, SHARE, discount, As::Share, Some(100)),
    ]
}
