//! The rules that an earlier run used.

use crate::grid::Grid;
use crate::length::Unit;
use crate::rules::columns::project::PROJECT;
use crate::schema::Column;
use crate::schema::rules_used::{BUILT_IN, ITEM, RULE, RULES_USED, SOURCE, TABLE, VALUE};
use crate::tables::{self, Datum, TableRow};

use super::is_or_continues;

/// One rule of an earlier run.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeptRule {
    /// The sheet it belongs to.
    pub table: String,
    /// The item; empty for the project's items.
    pub item: String,
    /// The column's heading.
    pub rule: String,
    /// The value as written.
    pub value: String,
    /// Where it came from; empty if it is built in.
    pub source: String,
}

/// Every rule of the sheets `Rules used`, in their order.
pub(super) fn read(grid: &Grid) -> Vec<KeptRule> {
    let sheets = grid.sheets.iter().filter(|sheet| is_or_continues(&sheet.name, RULES_USED.sheet));
    let rows = sheets.flat_map(|sheet| tables::read(sheet, &RULES_USED, Unit::Millimeter).rows);
    let text = |row: &TableRow, column: &Column| match row.entry(column).map(|entry| &entry.datum) {
        Some(Ok(Datum::Text(text))) => text.to_string(),
        Some(Err(unread)) => unread.written.clone(),
        _ => String::new(),
    };
    let rule = |row: TableRow| KeptRule {
        table: text(&row, &TABLE),
        item: text(&row, &ITEM),
        rule: text(&row, &RULE),
        value: text(&row, &VALUE),
        source: Some(text(&row, &SOURCE)).filter(|source| source != BUILT_IN).unwrap_or_default(),
    };
    rows.map(rule).filter(|rule| !rule.table.is_empty() && !rule.rule.is_empty()).collect()
}

/// An item of `Project` among these rules; empty if they do not say.
pub(super) fn item_of_project<'r>(rules: &'r [KeptRule], item: &Column) -> &'r str {
    let is_it =
        |rule: &&KeptRule| rule.table == PROJECT.sheet && rule.item.is_empty() && rule.rule == item.name;
    rules.iter().find(is_it).map_or("", |rule| &rule.value)
}
