//! Prices: `None` is a price that is not known, never 0.

use std::collections::HashSet;
use std::sync::Arc;

use rust_decimal::Decimal;

use super::columns::prices::{COLUMNS as p, Per};
use super::queries::{Findings, RuleQuery};
use super::raw::{ByItem, RawRow, by_item};
use super::sheets::{Renamed, as_known};
use crate::length::{Length, Units};
use crate::money::Currency;
use crate::name::{self, compared};
use crate::place::CellRef;
use crate::schema::choices::choice;

/// Prices of blinds and parts.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PriceList {
    /// Price of a made blind, by product; the first that fits.
    pub blinds: Vec<BlindPrice>,
    /// Prices of parts, by item.
    pub parts: Vec<PartPrice>,
}

/// The price of a blind made to measure.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BlindPrice {
    /// The product it is for; `None` for every product.
    pub product: Option<Arc<str>>,
    /// Price of each blind, whatever its size.
    pub each: Option<Decimal>,
    /// Price of a square meter of width x drop.
    pub per_m2: Option<Decimal>,
    /// Least area charged, m2.
    pub least_m2: Decimal,
    /// Days from order to delivery.
    pub lead_days: Option<u32>,
    /// Whether the price each is the built-in example.
    pub example: bool,
    /// The cell of the price each, if the survey gives it.
    pub at: Option<CellRef>,
    /// Whether the price of a square meter is the built-in example.
    pub m2_example: bool,
    /// The cell of the price of a square meter, if the survey gives it.
    pub m2_at: Option<CellRef>,
}

impl PriceList {
    /// What a made blind of a product costs: the first entry that is for it, or for every product.
    pub fn made_blind(&self, product: &str) -> Option<&BlindPrice> {
        self.blinds.iter().find(|price| price.product.as_deref().is_none_or(|named| named == product))
    }
}

impl BlindPrice {
    /// Square meters that are charged for one blind of this width and drop.
    pub fn m2(&self, width: Length, drop: Length) -> Decimal {
        (width.meters() * drop.meters()).max(self.least_m2)
    }

    /// The price of one made blind of this width and drop, rounded once; `None` if either of its
    /// two parts is not known.
    pub fn of(&self, width: Length, drop: Length, currency: Currency) -> Option<Decimal> {
        let of_area = self.per_m2?.checked_mul(self.m2(width, drop))?;
        Some(currency.round(self.each?.checked_add(of_area)?))
    }
}

/// The price of a part.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PartPrice {
    /// The part's item name, as hardware counts it.
    pub item: Arc<str>,
    /// Price of one, or of each `length` of it.
    pub each: Option<Decimal>,
    /// The length that the price is for, of a wand; `None` for every other part.
    pub length: Option<Length>,
    /// How many are in a pack.
    pub pack_of: u32,
    /// Whether it is the built-in example price.
    pub example: bool,
    /// Its cell, if the survey gives it.
    pub at: Option<CellRef>,
}

/// The item of a blind made to measure.
pub const MADE_BLIND: &str = "made-to-measure blind";
/// The item of a louver that is ordered by itself, of any size.
pub const SPARE_LOUVER: &str = "spare louver";
/// Other names of an item, which surveys in use have.
pub(super) const RENAMED: Renamed = &[(MADE_BLIND, &["made blind", "made to measure blind"])];

choice! {
    /// A small part that is bought by the piece, in the order in which lists name them; brackets
    /// are named by their product.
    SmallPart {
        /// Holds a valance on the headrail.
        ValanceClip = "valance clip",
        /// Runs in the headrail, one a louver.
        Carrier = "carrier",
        /// Joins a louver to its carrier.
        Hanger = "hanger",
        /// Weighs a louver down.
        BottomWeight = "bottom weight",
        /// Spaces two louvers, at the top or at the bottom.
        SpacerLink = "spacer link",
        /// Closes an end of the headrail.
        EndCap = "end cap",
        /// Joins a valance to its return.
        CornerPiece = "corner piece",
        /// Draws and turns the louvers; priced by the foot.
        Wand = "wand",
        /// Goes between a bracket and a head that is not level, one a bracket.
        Packer = "packer",
        /// Draws and turns the louvers without a hand.
        Motor = "motor",
    }
}

/// The prices, and the rows as used. `brackets` are the items that the products name.
pub(super) fn prices(
    rows: &[RawRow],
    products: &[RawRow],
    brackets: &[Arc<str>],
    built_in: &[RawRow],
    units: Units,
    findings: &mut Findings,
) -> (PriceList, Vec<RawRow>) {
    let mut list = PriceList::default();
    let mut used: Vec<RawRow> = Vec::with_capacity(rows.len());
    let small = || SmallPart::WORDS.own.iter().copied().chain([SPARE_LOUVER]);
    let by_name = by_item(products);
    let mut known_prices = HashSet::with_capacity(rows.len());
    for row in rows {
        if !row.sift(findings) {
            continue;
        }
        let known = small().chain(brackets.iter().map(|item| &**item));
        let row = row.clone().spelled(as_known(&row.item, known.clone().chain([MADE_BLIND])));
        let priced = priced(&row, units);
        let same_row = built_in.iter().find(|known| self::priced(known, units) == priced);
        let row = row.with_example(same_row);
        if known_prices.contains(&priced) {
            findings.raise(RuleQuery::Twice { sheet: row.table.sheet }, row.at, row.item.clone());
        } else if row.item == MADE_BLIND {
            if !enter_blind(&row, &by_name, products, units, &mut list.blinds, findings) {
                continue;
            }
        } else {
            if !known.clone().any(|item| item == row.item) {
                let nearest = name::nearest(&row.item, known.chain([MADE_BLIND])).map(str::to_owned);
                let query = RuleQuery::Item { sheet: row.table.sheet, nearest };
                findings.raise(query, row.at(&p.item), row.item.clone());
            }
            list.parts.push(part_price(&row, units, findings));
        }
        known_prices.insert(priced);
        used.push(row);
    }
    // A price for one product comes before the price for all.
    list.blinds.sort_by_key(|blind| blind.product.is_none());
    (list, used)
}

/// What a row prices: two rows of one thing are too many.
fn priced(row: &RawRow, units: Units) -> (String, String, Option<Per>) {
    let of_blind = row.item == MADE_BLIND;
    (row.item.clone(), compared(row.written(&p.product)), if of_blind { per(row, units) } else { None })
}

/// What the row's price is for; a blank is what its item is counted in.
fn per(row: &RawRow, units: Units) -> Option<Per> {
    match row.cell(&p.per) {
        Some(_) => row.value(&p.per),
        None if is_wand(row) => Some(Per::of_wand(units)),
        None => Some(Per::Each),
    }
}

/// Adds one row to the price of its product's blinds; `false` if there is no such product.
fn enter_blind(
    row: &RawRow,
    by_name: &ByItem<'_>,
    products: &[RawRow],
    units: Units,
    blinds: &mut Vec<BlindPrice>,
    findings: &mut Findings,
) -> bool {
    let product = match row.value::<Arc<str>>(&p.product) {
        None => None,
        Some(name) => match by_name.first(&name) {
            Some(product) => Some(Arc::from(product.item.as_str())),
            None => {
                let names = products.iter().map(|product| product.item.as_str());
                let nearest = name::nearest(&name, names).map(str::to_owned);
                let query = RuleQuery::Product { sheet: row.table.sheet, nearest };
                findings.raise(query, row.at(&p.product), &*name);
                return false;
            }
        },
    };
    let place = blinds.iter().position(|blind| blind.product == product).unwrap_or_else(|| {
        blinds.push(BlindPrice {
            product,
            each: Some(Decimal::ZERO),
            per_m2: Some(Decimal::ZERO),
            least_m2: Decimal::ZERO,
            lead_days: None,
            // A price that no row gives is nothing, and no example.
            example: false,
            at: row.at(&p.price),
            m2_example: false,
            m2_at: row.at(&p.price),
        });
        blinds.len() - 1
    });
    let Some(blind) = blinds.get_mut(place) else { return false };
    let price = row.value(&p.price);
    match per(row, units) {
        Some(Per::Each) => (blind.each, blind.example, blind.at) = (price, row.example, row.at(&p.price)),
        Some(Per::SquareMeter) => {
            (blind.per_m2, blind.m2_example, blind.m2_at) = (price, row.example, row.at(&p.price));
            blind.least_m2 = row.value(&p.least_m2).unwrap_or(Decimal::ZERO);
        }
        Some(Per::TwelveInches | Per::ThreeHundredMillimeters) => {
            let query = RuleQuery::Per { expected: "each or m2" };
            findings.raise(query, row.at(&p.per), row.item.clone());
            (blind.each, blind.per_m2) = (None, None);
        }
        // An unreadable `Per` already has its check.
        None => (blind.each, blind.per_m2) = (None, None),
    }
    let days = row.value::<u32>(&p.lead_days);
    if days.is_some() && blind.lead_days.is_some() && days != blind.lead_days {
        findings.raise(RuleQuery::LeadDays, row.at(&p.lead_days), row.written(&p.lead_days));
    }
    blind.lead_days = blind.lead_days.max(days);
    true
}

fn is_wand(row: &RawRow) -> bool {
    row.item == SmallPart::Wand.word()
}

fn part_price(row: &RawRow, units: Units, findings: &mut Findings) -> PartPrice {
    let per = per(row, units);
    let is_fitting = |per: Per| if is_wand(row) { per.length().is_some() } else { per == Per::Each };
    if per.is_some_and(|per| !is_fitting(per)) {
        let expected = if is_wand(row) { "12 in or 300 mm" } else { Per::Each.word() };
        findings.raise(RuleQuery::Per { expected }, row.at(&p.per), row.item.clone());
    }
    let per = per.filter(|&per| is_fitting(per));
    PartPrice {
        item: Arc::from(row.item.as_str()),
        each: row.value(&p.price).filter(|_| per.is_some()),
        length: per.and_then(Per::length),
        pack_of: row.value(&p.pack_of).unwrap_or(1),
        example: row.example,
        at: row.at(&p.price),
    }
}
