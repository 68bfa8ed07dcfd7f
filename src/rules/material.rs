//! Materials that parts are cut from, and offcuts on hand.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::queries::{Findings, RuleQuery};
use super::raw::{Missing, RawRow, Word};
use super::sheets::as_known;
use crate::length::Length;
use crate::name::{self, same_name};
use crate::place::CellRef;
use crate::schema::Column;
use crate::schema::rules::{bars as b, offcuts as o, products as p};

/// A stock length of a material. A material may have several, of different lengths.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bar {
    /// The material, such as `rail` or `fabric-89`.
    pub material: Arc<str>,
    /// Length of the bar or roll.
    pub length: Length,
    /// Price of one; `None` if not known.
    pub price: Option<Decimal>,
    /// What the saw takes between two pieces.
    pub kerf: Length,
    /// What comes off each raw end, its own cut included.
    pub trim: Length,
    /// Offcuts of at least this length are kept.
    pub least_useful: Length,
    /// Whether it comes in the blind's colours; a tilt rod does not.
    pub coloured: bool,
    /// Whether the price is the built-in example.
    pub example: bool,
    /// Cell of the price, if the survey gives it.
    pub at: Option<CellRef>,
}

/// Offcuts on hand.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Offcut {
    /// The material.
    pub material: Arc<str>,
    /// Its colour; empty for a material without.
    pub colour: Arc<str>,
    /// Length, raw.
    pub length: Length,
    /// How many.
    pub quantity: u32,
}

impl Bar {
    /// The longest piece that a new bar of this length gives: it less the trims of both raw ends.
    pub fn longest_piece(&self) -> Length {
        self.length - self.trim * 2
    }
}

/// The bars, each with its blanks filled, and the rows as used. A material is spelt as the products
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
        if !row.sift(&[&b::PRICE, &b::NOTE], findings) || !row.complete(&[&b::LENGTH_OF_BAR], findings) {
            continue;
        }
        let item = as_known(&row.item, materials(products, built_in)).to_owned();
        let row = RawRow { item, ..row.over(&blanks_of(&row.item, built_in, blanks)) };
        let same_bar = built_in.iter().find(|known| {
            known.item == row.item && known.value::<Length>(&b::LENGTH_OF_BAR) == row.value(&b::LENGTH_OF_BAR)
        });
        let row = row.with_example(same_bar);
        let Ok(bar) = bar(&row) else { continue };
        if bar.length <= bar.trim * 2 {
            findings.stop(RuleQuery::BarWithinTrims, row.at(&b::LENGTH_OF_BAR), row.item.clone());
        }
        if bars.iter().any(|known| known.material == bar.material && known.length == bar.length) {
            let detail = format!("{}, {}", row.item, row.written(&b::LENGTH_OF_BAR));
            findings.stop(RuleQuery::Twice { sheet: row.table.sheet }, row.at, detail);
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
            let detail = format!("{}, {}", row.item, row.written(&b::LENGTH_OF_BAR));
            findings.check(RuleQuery::PricedInPart, row.at(&b::PRICE).or(row.at), detail);
        }
    }
}

/// What the blanks of a bar mean: how a built-in bar of its material is sawn, else `blanks`.
fn blanks_of(material: &str, built_in: &[RawRow], blanks: &RawRow) -> RawRow {
    let Some(known) = built_in.iter().find(|known| same_name(&known.item, material)) else {
        return blanks.clone();
    };
    let mut sawn = known.over(blanks);
    for column in [&b::LENGTH_OF_BAR, &b::PRICE, &b::NOTE] {
        sawn.forget(column);
    }
    sawn
}

fn bar(row: &RawRow) -> Result<Bar, Missing> {
    Ok(Bar {
        material: Arc::from(row.item.as_str()),
        length: row.needed(&b::LENGTH_OF_BAR)?,
        price: row.value(&b::PRICE),
        kerf: row.needed(&b::KERF)?,
        trim: row.needed(&b::TRIM)?,
        least_useful: row.needed(&b::LEAST_USEFUL)?,
        coloured: row.needed::<Word>(&b::COLOURED)? == Word(0),
        example: row.example,
        at: row.at(&b::PRICE),
    })
}

/// One material is sawn by one saw: its bars may differ in length and price alone.
fn check_alike(bar: &Bar, row: &RawRow, first: &Bar, first_row: &RawRow, findings: &mut Findings) {
    let pairs = [
        (&b::KERF, bar.kerf == first.kerf),
        (&b::TRIM, bar.trim == first.trim),
        (&b::LEAST_USEFUL, bar.least_useful == first.least_useful),
        (&b::COLOURED, bar.coloured == first.coloured),
    ];
    for (column, _) in pairs.iter().filter(|(_, same)| !same) {
        for row in [first_row, row] {
            let detail = format!("{}: {}", row.item, row.written(column));
            findings.stop(RuleQuery::BarsDiffer { rule: column.name }, row.at(column), detail);
        }
    }
}

/// The offcuts on hand, of materials that `bars` knows. A colour is spelt as the products spell it.
pub(super) fn offcuts(
    rows: &[RawRow],
    bars: &[Bar],
    products: &[RawRow],
    findings: &mut Findings,
) -> Vec<Offcut> {
    let colours: Vec<Arc<str>> =
        products.iter().filter_map(|row| row.value::<Vec<Arc<str>>>(&p::COLOURS)).flatten().collect();
    let mut offcuts = Vec::with_capacity(rows.len());
    for row in rows {
        if !row.sift(&[&o::NOTE], findings) || !row.complete(&[&o::LENGTH_OF_OFFCUT], findings) {
            continue;
        }
        let Some(length) = row.value(&o::LENGTH_OF_OFFCUT) else { continue };
        let Some(bar) = bars.iter().find(|bar| same_name(&bar.material, &row.item)) else {
            let materials = bars.iter().map(|bar| &*bar.material);
            let nearest = name::nearest(&row.item, materials).map(str::to_owned);
            findings.check(RuleQuery::Material { nearest }, row.at(&o::MATERIAL), row.item.clone());
            continue;
        };
        let colour: Option<Arc<str>> = row.value(&o::COLOUR).filter(|_| bar.coloured);
        if bar.coloured && colour.is_none() {
            findings.check(RuleQuery::OffcutColour, row.at, row.item.clone());
            continue;
        }
        if length <= bar.trim * 2 {
            let detail = format!("{}, {}", row.item, row.written(&o::LENGTH_OF_OFFCUT));
            findings.check(RuleQuery::OffcutWithinTrims, row.at(&o::LENGTH_OF_OFFCUT), detail);
            continue;
        }
        let colour = colour.unwrap_or_else(|| Arc::from(""));
        offcuts.push(Offcut {
            material: Arc::clone(&bar.material),
            colour: Arc::from(as_known(&colour, colours.iter().map(|known| &**known))),
            length,
            quantity: row.value(&o::QUANTITY).unwrap_or(1),
        });
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
            findings.check(RuleQuery::UnusedMaterial { nearest }, row.at(&b::MATERIAL), row.item.clone());
        }
    }
    for product in products {
        for column in MATERIALS_OF_A_PRODUCT {
            let material = product.written(column);
            if !bars.iter().any(|row| same_name(&row.item, material)) {
                let names = bars.iter().map(|row| row.item.as_str());
                let nearest = name::nearest(material, names).map(str::to_owned);
                let detail = format!("{}: {material}", product.item);
                findings.check(RuleQuery::Material { nearest }, product.at(column), detail);
            }
        }
    }
}

/// The columns of a product that name a material.
const MATERIALS_OF_A_PRODUCT: [&Column; 4] =
    [&p::RAIL_MATERIAL, &p::ROD_MATERIAL, &p::VALANCE_MATERIAL, &p::LOUVER_MATERIAL];

/// Every material that a product is cut from, and those built in for another choice of louvers.
fn materials<'r>(products: &'r [RawRow], built_in: &'r [RawRow]) -> Vec<&'r str> {
    let of_a_product = |row: &'r RawRow| MATERIALS_OF_A_PRODUCT.map(|column| row.written(column));
    let of_products = products.iter().flat_map(of_a_product);
    of_products.chain(built_in.iter().map(|row| row.item.as_str())).collect()
}
