//! Sizes held in shops.

use std::sync::Arc;

use super::columns::products;
use super::columns::stock_sizes::{COLUMNS as s, StockSize};
use super::queries::{Findings, RuleQuery};
use super::raw::RawRow;
use super::sheets::as_known;
use crate::length::Length;
use crate::name::{self, same_name};

/// Which of a run's stock sizes: two rows of the list may say the same.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct StockId(usize);

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
        let needs = [&s.nominal_width, &s.nominal_drop];
        if !row.sift(findings) || !row.complete(&needs, findings) {
            continue;
        }
        let Some(product) = products.iter().find(|product| same_name(&product.item, &row.item)) else {
            let names = products.iter().map(|product| product.item.as_str());
            let nearest = name::nearest(&row.item, names).map(str::to_owned);
            let query = RuleQuery::Product { sheet: row.table.sheet, nearest };
            findings.raise(query, row.at(&s.product), row.item.clone());
            continue;
        };
        let same_size = built_in.iter().find(|known| {
            same_name(&known.item, &row.item)
                && [&s.nominal_width, &s.nominal_drop]
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
    if row.value::<u32>(&s.on_hand).is_none() {
        findings.raise(RuleQuery::OnHand, row.at(&s.on_hand), row.item.clone());
    }
    let colors = colors(row, product, findings);
    let size = StockSize::read(row, id, Arc::from(product.item.as_str()), colors).ok()?;
    let cuts = [
        (size.cut_width_to, size.width, &s.cut_width_to, &s.width),
        (size.cut_drop_to, size.drop, &s.cut_drop_to, &s.drop),
    ];
    for (cut, whole, cut_column, whole_column) in cuts {
        if cut.is_some_and(|cut| cut > whole) {
            let query = RuleQuery::Over { less: cut_column.name, more: whole_column.name };
            findings.raise(query, row.at(cut_column), row.item.clone());
        }
    }
    Some(size)
}

/// The size's colors in the product's spelling; a check for one that the product does not have.
fn colors(row: &RawRow, product: &RawRow, findings: &mut Findings) -> Vec<Arc<str>> {
    let known: Vec<Arc<str>> = product.value(&products::COLUMNS.colors).unwrap_or_default();
    let mut colors: Vec<Arc<str>> = row.value(&s.colors).unwrap_or_default();
    for color in &mut colors {
        let names = || known.iter().map(|known| &**known);
        if !names().any(|known| same_name(known, color)) {
            let nearest = name::nearest(color, names()).map(str::to_owned);
            findings.raise(RuleQuery::StockColor { nearest }, row.at(&s.colors), &**color);
        }
        *color = Arc::from(as_known(color, names()));
    }
    colors
}
