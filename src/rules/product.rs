//! Products: each a family with its own rules.

use std::sync::Arc;

use super::columns::products::{COLUMNS, CoverRules, LouverRules, NOT_OVER, UNDER};
use super::queries::{Findings, RuleQuery, RulesError};
use super::raw::{ByItem, RawRow, by_item};
use crate::grid::Value;
use crate::length::{Length, Unit};
use crate::name::{self, ByName};
use crate::schema::choices::Kind;
use crate::schema::{Column, SIZE};
use crate::tables::{self, Datum};

/// A product that can be ordered.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Product {
    /// Its name, such as `louver-89`.
    pub name: Arc<str>,
    /// Its colors; the first is the one a blank means. Never empty.
    pub colors: Vec<Arc<str>>,
    /// The kinds of opening it suits.
    pub suits: Vec<Kind>,
    /// The rules of any blind that covers an opening.
    pub cover: CoverRules,
    /// Its family, with rules of its own.
    pub family: Family,
}

/// The product families.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Family {
    /// Vertical louvers.
    Louver(Box<LouverRules>),
    /// A family that stands in tests alone; its figures are constants.
    #[cfg(test)]
    Toy,
}

/// The rows of the run: the built-in ones under the survey's, then the survey's new ones.
pub(super) fn rows(built_in: &[RawRow], written: &[RawRow], findings: &mut Findings) -> Vec<RawRow> {
    let mut rows: Vec<RawRow> = built_in.to_vec();
    let mut places: ByName<usize> = rows.iter().map(|row| row.item.as_str()).zip(0..).collect();
    for row in written {
        if let Some(known) = places.first(&row.item).and_then(|place| rows.get_mut(*place)) {
            *known = RawRow { item: known.item.clone(), ..row.over(known) };
        } else if let Some(base) = starting_point(row, &rows, &places, findings) {
            let row = row.over(base);
            places.enter(&row.item, rows.len());
            rows.push(row);
        }
    }
    rows
}

/// The products of those rows, with the facts of the `materials` that they are cut from.
///
/// # Errors
/// If a rule is blank that must have a built-in value.
pub(super) fn products(
    rows: &[RawRow],
    materials: &[RawRow],
    bare: Unit,
    findings: &mut Findings,
) -> Result<Vec<Product>, RulesError> {
    let materials = by_item(materials);
    rows.iter().filter_map(|row| product(row, &materials, bare, findings).transpose()).collect()
}

/// The product whose values fill the blanks of a new one.
fn starting_point<'r>(
    row: &RawRow,
    known: &'r [RawRow],
    places: &ByName<usize>,
    findings: &mut Findings,
) -> Option<&'r RawRow> {
    let names = || known.iter().map(|row| row.item.as_str());
    let Some(like) = row.value::<Arc<str>>(&COLUMNS.like) else {
        let nearest = name::nearest(&row.item, names()).map(str::to_owned);
        findings.raise(RuleQuery::NoLike { nearest }, row.at, row.item.clone());
        return None;
    };
    let base = places.first(&like).and_then(|place| known.get(*place));
    if base.is_none() {
        let nearest = name::nearest(&like, names()).map(str::to_owned);
        let query = RuleQuery::Product { sheet: row.table.sheet, nearest };
        findings.raise(query, row.at(&COLUMNS.like), &*like);
    }
    base
}

/// A product, unless something in its row stops the run.
fn product(
    row: &RawRow,
    materials: &ByItem<'_>,
    bare: Unit,
    findings: &mut Findings,
) -> Result<Option<Product>, RulesError> {
    if !row.sift(findings) {
        return Ok(None);
    }
    cross_check(row, findings);
    let Some(reaches) = reaches(row, bare, findings) else { return Ok(None) };
    let louver = LouverRules::read(row, materials)?;
    Ok(Some(Product {
        name: Arc::from(row.item.as_str()),
        colors: row.needed(&COLUMNS.colors)?,
        suits: row.needed(&COLUMNS.suits)?,
        cover: CoverRules::read(row, reaches, louver.louver_width.clone())?,
        family: Family::Louver(Box::new(louver)),
    }))
}

/// One of the reaches.
static REACH: Column = Column::new((0, "reach", "Reach"), &[], SIZE, ("", ""));

/// The reaches, each read as a length of its own: rising, and each with its bracket.
fn reaches(row: &RawRow, bare: Unit, findings: &mut Findings) -> Option<Vec<Length>> {
    let (texts, items): (Vec<Arc<str>>, Vec<Arc<str>>) =
        (row.value(&COLUMNS.reaches)?, row.value(&COLUMNS.bracket_items)?);
    let at = row.at(&COLUMNS.reaches);
    let mut reaches = Vec::with_capacity(texts.len());
    for text in &texts {
        // Each is read as a column of sizes is.
        match tables::read_value(&Value::Text((&**text).into()), &REACH, None, bare) {
            Ok(Datum::Length(reach)) => reaches.push(reach),
            Ok(_) => return None,
            Err(unread) => findings.unreadable(row.table.sheet, at, &unread),
        }
    }
    if reaches.len() < texts.len() {
        return None;
    }
    if !reaches.is_sorted_by(|shorter, longer| shorter < longer) {
        let detail = format!("{}: {}", row.item, row.written(&COLUMNS.reaches));
        findings.raise(RuleQuery::ReachesDoNotRise, at, detail);
    }
    if reaches.len() != items.len() {
        let detail = format!("{}: {} reaches, {} items", row.item, reaches.len(), items.len());
        findings.raise(RuleQuery::BracketItems, row.at(&COLUMNS.bracket_items), detail);
    }
    Some(reaches)
}

/// Rules that contradict one another. A stop points at whichever of the two the survey wrote.
fn cross_check(row: &RawRow, findings: &mut Findings) {
    let length = |column| row.value::<Length>(column);
    let pair = |less: &Column, more: &Column| {
        let wrote = [less, more].iter().find_map(|column| row.cell(column)?.at());
        (wrote.or(row.at), format!("{}: {}, {}", row.item, row.written(less), row.written(more)))
    };
    for (less, more) in NOT_OVER {
        if length(less) > length(more) {
            let (at, detail) = pair(less, more);
            findings.raise(RuleQuery::Over { less: less.name, more: more.name }, at, detail);
        }
    }
    for (less, more) in UNDER {
        if length(less) >= length(more) {
            let (at, detail) = pair(less, more);
            findings.raise(RuleQuery::NotUnder { less: less.name, more: more.name }, at, detail);
        }
    }
    if length(&COLUMNS.end_cap).map(|cap| cap * 2) >= length(&COLUMNS.least_width) {
        let (at, detail) = pair(&COLUMNS.end_cap, &COLUMNS.least_width);
        findings.raise(RuleQuery::EndCaps, at, detail);
    }
}
