//! Sizes held in shops. A box is what its row says: blanks mean the product's first color, a blind
//! drawn one way and worked by a wand, and wall brackets of the shortest reach.

use std::sync::Arc;

use super::columns::products;
use super::columns::stock_sizes::{COLUMNS as s, Contents, StockSize};
use super::queries::{Findings, RuleQuery};
use super::raw::{RawRow, by_item};
use super::sheets::as_known;
use crate::length::Length;
use crate::name::{self, same_name};
use crate::schema::choices::Control;

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
    let by_name = by_item(products);
    for row in rows {
        let needs = [&s.nominal_width, &s.nominal_drop];
        if !row.sift(findings) || !row.complete(&needs, findings) {
            continue;
        }
        let Some(product) = by_name.first(&row.item).copied() else {
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
    let contents =
        Contents { colors: colors(row, product, findings), brackets: brackets(row, product, findings) };
    let size = StockSize::read(row, id, Arc::from(product.item.as_str()), contents).ok()?;
    if size.control == Control::Motor {
        findings.raise(RuleQuery::StockMotor, row.at(&s.control), row.item.clone());
    }
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
    match row.value(&s.colors) {
        Some(colors) => spelled(colors, &known, |color, nearest| {
            findings.raise(RuleQuery::StockColor { nearest }, row.at(&s.colors), color);
        }),
        None => known.into_iter().take(1).collect(),
    }
}

/// How a box without brackets is written.
const NONE: &str = "none";

/// The bracket items in the box in the product's spelling; a check for one that is none of its brackets.
fn brackets(row: &RawRow, product: &RawRow, findings: &mut Findings) -> Vec<Arc<str>> {
    let p = &products::COLUMNS;
    let mut known: Vec<Arc<str>> = product.value(&p.bracket_items).unwrap_or_default();
    let Some(mut brackets) = row.value::<Vec<Arc<str>>>(&s.brackets) else {
        return known.into_iter().take(1).collect();
    };
    known.extend(product.value::<Arc<str>>(&p.inside_bracket_item));
    brackets.retain(|item| !same_name(item, NONE));
    spelled(brackets, &known, |item, nearest| {
        findings.raise(RuleQuery::StockBracket { nearest }, row.at(&s.brackets), item);
    })
}

/// Names in the spelling of the known ones; each that is not known is told, with the nearest.
fn spelled(
    mut names: Vec<Arc<str>>,
    known: &[Arc<str>],
    mut tell: impl FnMut(&str, Option<String>),
) -> Vec<Arc<str>> {
    for name in &mut names {
        let known = || known.iter().map(|known| &**known);
        if !known().any(|known| same_name(known, name)) {
            tell(name, name::nearest(name, known()).map(str::to_owned));
        }
        *name = Arc::from(as_known(name, known()));
    }
    names
}
