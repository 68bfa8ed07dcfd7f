//! Products: each a family with its own rules.

use std::sync::Arc;

use super::columns::products::{COLUMNS, CoverRules, LouverRules};
use super::louver;
use super::queries::{Findings, RuleQuery};
use super::raw::{Missing, RawRow};
use crate::length::Units;
use crate::name::{self, same_name};
use crate::schema::choices::Kind;

/// A product that can be ordered.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Product {
    /// Its name, such as `louver-89`.
    pub name: Arc<str>,
    /// Its colours; the first is the one a blank means. Never empty.
    pub colours: Vec<Arc<str>>,
    /// The kinds of opening it suits.
    pub suits: Vec<Kind>,
    /// Its family's rules.
    pub family: Family,
}

/// The product families.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Family {
    /// Vertical louvers.
    Louver(Box<LouverRules>),
}

/// The products of the run: the built-in ones under the survey's rows, then the survey's new ones.
pub(super) fn products(
    built_in: &[RawRow],
    written: &[RawRow],
    units: Units,
    findings: &mut Findings,
) -> (Vec<Product>, Vec<RawRow>) {
    let mut rows: Vec<RawRow> = built_in.to_vec();
    for row in written {
        if let Some(known) = rows.iter_mut().find(|known| same_name(&known.item, &row.item)) {
            *known = RawRow { item: known.item.clone(), ..row.over(known) };
        } else if let Some(base) = starting_point(row, &rows, findings) {
            rows.push(row.over(base));
        }
    }
    let products = rows.iter().filter_map(|row| product(row, units, findings)).collect();
    (products, rows)
}

/// The product whose values fill the blanks of a new one.
fn starting_point<'r>(row: &RawRow, known: &'r [RawRow], findings: &mut Findings) -> Option<&'r RawRow> {
    let names = || known.iter().map(|row| row.item.as_str());
    let Some(like) = row.value::<Arc<str>>(&COLUMNS.like) else {
        let nearest = name::nearest(&row.item, names()).map(str::to_owned);
        findings.raise(RuleQuery::NoLike { nearest }, row.at, row.item.clone());
        return None;
    };
    let base = known.iter().find(|base| same_name(&base.item, &like));
    if base.is_none() {
        let nearest = name::nearest(&like, names()).map(str::to_owned);
        let query = RuleQuery::Product { sheet: row.table.sheet, nearest };
        findings.raise(query, row.at(&COLUMNS.like), &*like);
    }
    base
}

/// A product, unless something in its row stops the run.
fn product(row: &RawRow, units: Units, findings: &mut Findings) -> Option<Product> {
    if !row.sift(findings) {
        return None;
    }
    louver::cross_check(row, findings);
    let reaches = louver::reaches(row, units, findings)?;
    let read = || -> Result<Product, Missing> {
        let cover = CoverRules::read(row, reaches)?;
        Ok(Product {
            name: Arc::from(row.item.as_str()),
            colours: row.needed(&COLUMNS.colours)?,
            suits: row.needed(&COLUMNS.suits)?,
            family: Family::Louver(Box::new(LouverRules::read(row, cover)?)),
        })
    };
    read()
        .inspect_err(|Missing(column)| {
            let query = RuleQuery::NoValue { sheet: row.table.sheet, rule: column.name };
            findings.raise(query, row.at, row.item.clone());
        })
        .ok()
}
