//! Stock lengths of the materials, and offcuts on hand.
//!
//! The same bar twice stops the run, as any item listed twice does: which price holds?
//!
//! A material of which some bars alone have a price is planned for the fewest bars, with a check.

use std::collections::HashSet;
use std::sync::Arc;

use super::columns::bars::{Bar, COLUMNS as b};
use super::columns::materials::Material;
use super::columns::offcuts::{COLUMNS as o, Offcut};
use super::columns::products;
use super::queries::{Findings, RuleQuery};
use super::raw::RawRow;
use crate::length::Length;
use crate::name::{self, ByName};

/// The rows of bars that say a length, each spelled as `materials` spell it.
pub(super) fn complete(rows: &[RawRow], findings: &mut Findings) -> Vec<RawRow> {
    let complete = |row: &&RawRow| row.sift(findings) && row.complete(&[&b.length], findings);
    rows.iter().filter(complete).cloned().collect()
}

/// The bars of those rows, and the rows as used. A material is spelled as `materials` spell it.
pub(super) fn bars(
    rows: &[RawRow],
    materials: &[Material],
    built_in: &[RawRow],
    findings: &mut Findings,
) -> (Vec<Bar>, Vec<RawRow>) {
    let mut bars: Vec<Bar> = Vec::with_capacity(rows.len());
    let mut used: Vec<RawRow> = Vec::with_capacity(rows.len());
    let materials: ByName<&Material> = materials.iter().map(|known| (&*known.name, known)).collect();
    let mut known = HashSet::with_capacity(rows.len());
    for row in rows {
        let material = materials.first(&row.item);
        let row = row.clone().spelled(material.map_or(&row.item, |known| &known.name));
        let same_bar = built_in
            .iter()
            .find(|known| known.item == row.item && known.value::<Length>(&b.length) == row.value(&b.length));
        let row = row.with_example(same_bar);
        let Ok(bar) = Bar::read(&row) else { continue };
        if material.is_some_and(|material| bar.length <= material.trim * 2) {
            findings.raise(RuleQuery::BarWithinTrims, row.at(&b.length), row.item.clone());
        }
        if !known.insert((Arc::clone(&bar.material), bar.length)) {
            let detail = format!("{}, {}", row.item, row.written(&b.length));
            findings.raise(RuleQuery::Twice { sheet: row.table.sheet }, row.at, detail);
        }
        bars.push(bar);
        used.push(row);
    }
    (bars, used)
}

/// The offcuts on hand, of materials that have bars. A color is spelled as the products spell it.
pub(super) fn offcuts(
    rows: &[RawRow],
    bars: &[Bar],
    materials: &[Material],
    products: &[RawRow],
    findings: &mut Findings,
) -> Vec<Offcut> {
    let colors: Vec<Arc<str>> = products
        .iter()
        .filter_map(|row| row.value::<Vec<Arc<str>>>(&products::COLUMNS.colors))
        .flatten()
        .collect();
    let colors: ByName<&Arc<str>> = colors.iter().map(|color| (&**color, color)).collect();
    let in_bars: HashSet<&str> = bars.iter().map(|bar| &*bar.material).collect();
    let stocked: Vec<&Material> =
        materials.iter().filter(|material| in_bars.contains(&*material.name)).collect();
    let by_name: ByName<&Material> = stocked.iter().map(|known| (&*known.name, *known)).collect();
    let mut offcuts = Vec::with_capacity(rows.len());
    for row in rows {
        if !row.sift(findings) || !row.complete(&[&o.length], findings) {
            continue;
        }
        let Some(length) = row.value::<Length>(&o.length) else { continue };
        let Some(material) = by_name.first(&row.item).copied() else {
            let nearest =
                name::nearest(&row.item, stocked.iter().map(|known| &*known.name)).map(str::to_owned);
            findings.raise(RuleQuery::Material { nearest }, row.at(&o.material), row.item.clone());
            continue;
        };
        let color: Option<Arc<str>> = row.value(&o.color).filter(|_| material.colored);
        if material.colored && color.is_none() {
            findings.raise(RuleQuery::OffcutColor, row.at, row.item.clone());
            continue;
        }
        if length <= material.trim * 2 {
            let detail = format!("{}, {}", row.item, row.written(&o.length));
            findings.raise(RuleQuery::OffcutWithinTrims, row.at(&o.length), detail);
            continue;
        }
        let color = color.unwrap_or_else(|| Arc::from(""));
        let color = colors.first(&color).map_or(&color, |known| *known).clone();
        offcuts.extend(Offcut::read(row, Arc::clone(&material.name), color));
    }
    offcuts
}
