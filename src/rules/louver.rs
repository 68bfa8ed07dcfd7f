//! The rules of a product checked against one another, and the reaches of its brackets.

use std::sync::Arc;

use super::columns::products as p;
use super::queries::{Findings, RuleQuery};
use super::raw::RawRow;
use crate::grid::Value;
use crate::length::{Length, Units};
use crate::schema::{Column, SIZE};
use crate::tables::{self, Datum};

/// One of the reaches.
static REACH: Column = Column::new((0, "reach", "Reach"), &[], SIZE, ("", ""));

/// The reaches, each read as a length of its own: rising, and each with its bracket.
pub(super) fn reaches(row: &RawRow, units: Units, findings: &mut Findings) -> Option<Vec<Length>> {
    let (texts, items): (Vec<Arc<str>>, Vec<Arc<str>>) =
        (row.value(&p::COLUMNS.reaches)?, row.value(&p::COLUMNS.bracket_items)?);
    let at = row.at(&p::COLUMNS.reaches);
    let mut reaches = Vec::with_capacity(texts.len());
    for text in &texts {
        // Each is read as a column of sizes is.
        match tables::read_value(&Value::Text((&**text).into()), &REACH, None, units) {
            Ok(Datum::Length(reach)) => reaches.push(reach),
            Ok(_) => return None,
            Err(unread) => findings.unreadable(row.table.sheet, at, &unread),
        }
    }
    if reaches.len() < texts.len() {
        return None;
    }
    if !reaches.is_sorted_by(|shorter, longer| shorter < longer) {
        let detail = format!("{}: {}", row.item, row.written(&p::COLUMNS.reaches));
        findings.raise(RuleQuery::ReachesDoNotRise, at, detail);
    }
    if reaches.len() != items.len() {
        let detail = format!("{}: {} reaches, {} items", row.item, reaches.len(), items.len());
        findings.raise(RuleQuery::BracketItems, row.at(&p::COLUMNS.bracket_items), detail);
    }
    Some(reaches)
}

/// Rules that contradict one another. A stop points at whichever of the two the survey wrote.
pub(super) fn cross_check(row: &RawRow, findings: &mut Findings) {
    let length = |column| row.value::<Length>(column);
    let pair = |less: &Column, more: &Column| {
        let wrote = [less, more].iter().find_map(|column| row.cell(column)?.at());
        (wrote.or(row.at), format!("{}: {}, {}", row.item, row.written(less), row.written(more)))
    };
    for (less, more) in p::NOT_OVER {
        if length(less) > length(more) {
            let (at, detail) = pair(less, more);
            findings.raise(RuleQuery::Over { less: less.name, more: more.name }, at, detail);
        }
    }
    for (less, more) in p::UNDER {
        if length(less) >= length(more) {
            let (at, detail) = pair(less, more);
            findings.raise(RuleQuery::NotUnder { less: less.name, more: more.name }, at, detail);
        }
    }
    if length(&p::COLUMNS.end_cap).map(|cap| cap * 2) >= length(&p::COLUMNS.least_width) {
        let (at, detail) = pair(&p::COLUMNS.end_cap, &p::COLUMNS.least_width);
        findings.raise(RuleQuery::EndCaps, at, detail);
    }
}
