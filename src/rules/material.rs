//! Materials that parts are cut from, and offcuts on hand.
//!
//! The same bar twice stops the run, as any item listed twice does: which price holds?
//!
//! A material of which some bars alone have a price is planned for the fewest bars, with a check.

use std::sync::Arc;

use super::columns::bars::{Bar, COLUMNS as b};
use super::columns::offcuts::{COLUMNS as o, Offcut};
use super::columns::products::{self, MATERIALS};
use super::queries::{Findings, RuleQuery};
use super::raw::RawRow;
use super::sheets::as_known;
use crate::length::Length;
use crate::name::{self, same_name};

impl Bar {
    /// The longest piece that a new bar of this length gives: it less the trims of both raw ends.
    pub fn longest_piece(&self) -> Length {
        self.length - self.trim * 2
    }
}

/// The bars, each with its blanks filled, and the rows as used. A material is spelled as the products
/// spell it.
pub(super) fn bars(
    rows: &[RawRow],
    blanks: &RawRow,
    products: &[RawRow],
    built_in: &[RawRow],
    findings: &mut Findings,
) -> (Vec<Bar>, Vec<RawRow>) {
    let mut bars: Vec<Bar> = Vec::with_capacity(rows.len());
    let mut used: Vec<RawRow> = Vec::with_capacity(rows.len());
    for row in rows {
        if !row.sift(findings) || !row.complete(&[&b.length], findings) {
            continue;
        }
        let item = as_known(&row.item, materials(products, built_in));
        let row = row.over(&blanks_of(&row.item, built_in, blanks)).spelled(item);
        let same_bar = built_in
            .iter()
            .find(|known| known.item == row.item && known.value::<Length>(&b.length) == row.value(&b.length));
        let row = row.with_example(same_bar);
        let Ok(bar) = Bar::read(&row) else { continue };
        if bar.length <= bar.trim * 2 {
            findings.raise(RuleQuery::BarWithinTrims, row.at(&b.length), row.item.clone());
        }
        if bars.iter().any(|known| known.material == bar.material && known.length == bar.length) {
            let detail = format!("{}, {}", row.item, row.written(&b.length));
            findings.raise(RuleQuery::Twice { sheet: row.table.sheet }, row.at, detail);
        }
        if let Some((first, known)) =
            bars.iter().zip(&used).find(|(known, _)| *known.material == *bar.material)
        {
            check_alike(&bar, &row, first, known, findings);
        }
        bars.push(bar);
        used.push(row);
    }
    check_prices(&bars, &used, findings);
    (bars, used)
}

/// A material of which some bars alone have a price cannot be planned for the least cost.
fn check_prices(bars: &[Bar], rows: &[RawRow], findings: &mut Findings) {
    let priced = |material: &str| bars.iter().any(|bar| *bar.material == *material && bar.price.is_some());
    for (bar, row) in bars.iter().zip(rows) {
        if bar.price.is_none() && priced(&bar.material) {
            let detail = format!("{}, {}", row.item, row.written(&b.length));
            findings.raise(RuleQuery::PricedInPart, row.at(&b.price).or(row.at), detail);
        }
    }
}

/// What the blanks of a bar mean: how a built-in bar of its material is sawn, else `blanks`.
fn blanks_of(material: &str, built_in: &[RawRow], blanks: &RawRow) -> RawRow {
    let Some(known) = built_in.iter().find(|known| same_name(&known.item, material)) else {
        return blanks.clone();
    };
    let mut sawn = known.over(blanks);
    for column in [&b.length, &b.price, &b.note] {
        sawn.forget(column);
    }
    sawn
}

/// One material is sawn by one saw: its bars may differ in length and price alone.
fn check_alike(bar: &Bar, row: &RawRow, first: &Bar, first_row: &RawRow, findings: &mut Findings) {
    let pairs = [
        (&b.kerf, bar.kerf == first.kerf),
        (&b.trim, bar.trim == first.trim),
        (&b.least_useful, bar.least_useful == first.least_useful),
        (&b.colored, bar.colored == first.colored),
    ];
    for (column, _) in pairs.iter().filter(|(_, same)| !same) {
        for row in [first_row, row] {
            let detail = format!("{}: {}", row.item, row.written(column));
            findings.raise(RuleQuery::BarsDiffer { rule: column.name }, row.at(column), detail);
        }
    }
}

/// The offcuts on hand, of materials that `bars` knows. A color is spelled as the products spell it.
pub(super) fn offcuts(
    rows: &[RawRow],
    bars: &[Bar],
    products: &[RawRow],
    findings: &mut Findings,
) -> Vec<Offcut> {
    let colors: Vec<Arc<str>> = products
        .iter()
        .filter_map(|row| row.value::<Vec<Arc<str>>>(&products::COLUMNS.colors))
        .flatten()
        .collect();
    let mut offcuts = Vec::with_capacity(rows.len());
    for row in rows {
        if !row.sift(findings) || !row.complete(&[&o.length], findings) {
            continue;
        }
        let Some(length) = row.value::<Length>(&o.length) else { continue };
        let Some(bar) = bars.iter().find(|bar| same_name(&bar.material, &row.item)) else {
            let materials = bars.iter().map(|bar| &*bar.material);
            let nearest = name::nearest(&row.item, materials).map(str::to_owned);
            findings.raise(RuleQuery::Material { nearest }, row.at(&o.material), row.item.clone());
            continue;
        };
        let color: Option<Arc<str>> = row.value(&o.color).filter(|_| bar.colored);
        if bar.colored && color.is_none() {
            findings.raise(RuleQuery::OffcutColor, row.at, row.item.clone());
            continue;
        }
        if length <= bar.trim * 2 {
            let detail = format!("{}, {}", row.item, row.written(&o.length));
            findings.raise(RuleQuery::OffcutWithinTrims, row.at(&o.length), detail);
            continue;
        }
        let color = color.unwrap_or_else(|| Arc::from(""));
        let color = Arc::from(as_known(&color, colors.iter().map(|known| &**known)));
        offcuts.extend(Offcut::read(row, Arc::clone(&bar.material), color));
    }
    offcuts
}

/// A product cut from a material without a bar, and a bar that no product is cut from, are likely slips.
pub(super) fn check_materials(
    products: &[RawRow],
    bars: &[RawRow],
    built_in: &[RawRow],
    findings: &mut Findings,
) {
    let wanted = materials(products, built_in);
    for row in bars.iter().filter(|row| row.at.is_some()) {
        if !wanted.iter().any(|material| same_name(material, &row.item)) {
            let nearest = name::nearest(&row.item, wanted.iter().copied()).map(str::to_owned);
            findings.raise(RuleQuery::UnusedMaterial { nearest }, row.at(&b.material), row.item.clone());
        }
    }
    for product in products {
        for column in MATERIALS {
            let material = product.written(column);
            if !bars.iter().any(|row| same_name(&row.item, material)) {
                let names = bars.iter().map(|row| row.item.as_str());
                let nearest = name::nearest(material, names).map(str::to_owned);
                let detail = format!("{}: {material}", product.item);
                findings.raise(RuleQuery::Material { nearest }, product.at(column), detail);
            }
        }
    }
}

/// Every material that a product is cut from, and those built in for another choice of louvers.
fn materials<'r>(products: &'r [RawRow], built_in: &'r [RawRow]) -> Vec<&'r str> {
    let of_a_product = |row: &'r RawRow| MATERIALS.map(|column| row.written(column));
    let of_products = products.iter().flat_map(of_a_product);
    of_products.chain(built_in.iter().map(|row| row.item.as_str())).collect()
}
