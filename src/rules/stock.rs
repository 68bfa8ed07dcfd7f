//! Sizes held in shops.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::queries::{Findings, RuleQuery};
use super::raw::RawRow;
use super::sheets::as_known;
use crate::length::Length;
use crate::name::{self, same_name};
use crate::place::CellRef;
use crate::schema::rules::products as p;
use crate::schema::rules::stock_sizes as s;

/// Which of a run's stock sizes: two rows of the list may say the same.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct StockId(usize);

/// A size held in shops.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StockSize {
    /// Which it is.
    pub id: StockId,
    /// The product.
    pub product: Arc<str>,
    /// Colours it comes in; empty for every colour.
    pub colours: Vec<Arc<str>>,
    /// Nominal width.
    pub nominal_width: Length,
    /// Nominal drop.
    pub nominal_drop: Length,
    /// Actual width.
    pub width: Length,
    /// Actual drop.
    pub drop: Length,
    /// Price of one; `None` if not known.
    pub price: Option<Decimal>,
    /// Days from order to delivery.
    pub lead_days: Option<u32>,
    /// How many are on hand.
    pub on_hand: u32,
    /// Least width it may be cut down to; `None` if it may not.
    pub cut_width_to: Option<Length>,
    /// Least drop it may be cut down to; `None` if it may not.
    pub cut_drop_to: Option<Length>,
    /// Whether the price is the built-in example.
    pub example: bool,
    /// Its cell, if the survey gives it.
    pub at: Option<CellRef>,
}

/// The stock sizes, and the rows as used.
pub(super) fn stock_sizes(
    rows: &[RawRow],
    products: &[RawRow],
    built_in: &[RawRow],
    findings: &mut Findings,
) -> (Vec<StockSize>, Vec<RawRow>) {
    let mut sizes = Vec::with_capacity(rows.len());
    let mut used = Vec::with_capacity(rows.len());
    for row in rows {
        let may_be_unknown = [&s::PRICE, &s::LEAD_DAYS, &s::ON_HAND, &s::NOTE];
        let needs = [&s::NOMINAL_WIDTH, &s::NOMINAL_DROP];
        if !row.sift(&may_be_unknown, findings) || !row.complete(&needs, findings) {
            continue;
        }
        let Some(product) = products.iter().find(|product| same_name(&product.item, &row.item)) else {
            let names = products.iter().map(|product| product.item.as_str());
            let nearest = name::nearest(&row.item, names).map(str::to_owned);
            let query = RuleQuery::Product { sheet: row.table.sheet, nearest };
            findings.check(query, row.at(&s::PRODUCT), row.item.clone());
            continue;
        };
        let same_size = built_in.iter().find(|known| {
            same_name(&known.item, &row.item)
                && [&s::NOMINAL_WIDTH, &s::NOMINAL_DROP]
                    .iter()
                    .all(|column| known.value::<Length>(column) == row.value(column))
        });
        let row = row.clone().with_example(same_size);
        if let Some(size) = stock_size(StockId(sizes.len()), &row, product, findings) {
            sizes.push(size);
            used.push(row);
        }
    }
    (sizes, used)
}

fn stock_size(id: StockId, row: &RawRow, product: &RawRow, findings: &mut Findings) -> Option<StockSize> {
    let nominal_width: Length = row.value(&s::NOMINAL_WIDTH)?;
    let nominal_drop: Length = row.value(&s::NOMINAL_DROP)?;
    let on_hand = row.value(&s::ON_HAND);
    if on_hand.is_none() {
        findings.check(RuleQuery::OnHand, row.at(&s::ON_HAND), row.item.clone());
    }
    let size = StockSize {
        id,
        product: Arc::from(product.item.as_str()),
        colours: colours(row, product, findings),
        nominal_width,
        nominal_drop,
        width: row.value(&s::WIDTH).unwrap_or(nominal_width),
        drop: row.value(&s::DROP).unwrap_or(nominal_drop),
        price: row.value(&s::PRICE),
        lead_days: row.value(&s::LEAD_DAYS),
        on_hand: on_hand.unwrap_or(0),
        cut_width_to: row.value(&s::CUT_WIDTH_TO),
        cut_drop_to: row.value(&s::CUT_DROP_TO),
        example: row.example,
        at: row.at,
    };
    let cuts = [
        (size.cut_width_to, size.width, &s::CUT_WIDTH_TO, &s::WIDTH),
        (size.cut_drop_to, size.drop, &s::CUT_DROP_TO, &s::DROP),
    ];
    for (cut, whole, cut_column, whole_column) in cuts {
        if cut.is_some_and(|cut| cut > whole) {
            let query = RuleQuery::Over { less: cut_column.name, more: whole_column.name };
            findings.stop(query, row.at(cut_column), row.item.clone());
        }
    }
    Some(size)
}

/// The size's colours in the product's spelling; a check for one that the product does not have.
fn colours(row: &RawRow, product: &RawRow, findings: &mut Findings) -> Vec<Arc<str>> {
    let known: Vec<Arc<str>> = product.value(&p::COLOURS).unwrap_or_default();
    let mut colours: Vec<Arc<str>> = row.value(&s::COLOURS).unwrap_or_default();
    for colour in &mut colours {
        let names = || known.iter().map(|known| &**known);
        if !names().any(|known| same_name(known, colour)) {
            let nearest = name::nearest(colour, names()).map(str::to_owned);
            findings.check(RuleQuery::StockColour { nearest }, row.at(&s::COLOURS), &**colour);
        }
        *colour = Arc::from(as_known(colour, names()));
    }
    colours
}
