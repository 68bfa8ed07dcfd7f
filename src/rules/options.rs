//! The survey's sheet `Options`: what each choice has in place of the survey's own.

use super::columns::options::{NOTE, OF_OPENINGS, OPTION, OPTIONS, of_project};
use super::columns::project::PROJECT;
use super::left_out::filled;
use super::product::Product;
use super::queries::{Findings, RuleQuery, RulesError};
use super::raw::{RawCell, RawRow};
use super::sheets;
use crate::grid::Grid;
use crate::length::Unit;
use crate::name::{nearest, same_name};
use crate::query::{Checked, Query};
use crate::schema::Column;
use crate::schema::openings::{COLOR, PRODUCT};
use crate::tables::{Datum, Entry};

/// What the survey itself is called among its choices.
pub const AS_IT_STANDS: &str = "As surveyed";

/// Most choices of a survey: each is a run of its own, and they stand beside each other on one sheet.
pub const MOST_OPTIONS: usize = 40;

/// One choice, as written.
#[derive(Clone, Debug)]
pub struct OptionRow {
    /// Its name, which no other has.
    pub name: String,
    /// What is said of it.
    pub note: String,
    /// What it has of its own, by the heading: `("Cost basis", "make")`.
    pub says: Vec<(&'static str, String)>,
    /// Its items of `Project`.
    project: RawRow,
    /// What every opening has, by column.
    openings: Vec<(&'static Column, Entry)>,
}

impl OptionRow {
    /// What every opening has in place of its own cell, by column.
    pub fn of_openings(&self) -> &[(&'static Column, Entry)] {
        &self.openings
    }

    /// The project's items with those of the choice in place of them.
    pub(super) fn over(&self, items: &RawRow) -> RawRow {
        RawRow { at: items.at, ..self.project.over(items) }
    }

    fn of(row: &RawRow) -> OptionRow {
        let columns = row.table.columns;
        let own =
            |column: &Column| columns.iter().find(|own| own.key == column.key).and_then(|own| row.cell(own));
        let mut project = RawRow::empty(&PROJECT, "");
        for column in of_project() {
            if let Some(cell) = own(column) {
                project.put(column, cell.clone());
            }
        }
        let entry = |cell: &RawCell| Some(Entry { at: cell.at()?, datum: cell.datum.clone() });
        let openings = OF_OPENINGS.into_iter().filter_map(|column| Some((column, entry(own(column)?)?)));
        let says = columns.iter().filter(|column| ![OPTION.slot, NOTE.slot].contains(&column.slot));
        let says = says.filter_map(|column| Some((column.name, row.cell(column)?.written.clone())));
        OptionRow {
            name: row.item.clone(),
            note: row.written(&NOTE).to_owned(),
            says: says.collect(),
            project,
            openings: openings.collect(),
        }
    }
}

/// Whether any survey has the sheet, with something on it.
pub fn has_options(grids: &[Grid]) -> bool {
    grids.iter().any(|grid| filled(grid, &OPTIONS).is_some())
}

/// The choices of the surveys, in their order; none without the sheet. A length that names no unit is in
/// `bare`.
///
/// # Errors
/// If a cell of the sheet cannot be read, two rows have one name, or two surveys list other choices.
pub fn options(grids: &[Grid], bare: Unit) -> Result<Checked<Vec<OptionRow>>, RulesError> {
    let mut findings = Findings::default();
    let rows = sheets::whole_list(grids, &OPTIONS, bare, &mut findings).unwrap_or_default();
    let rows = sheets::without_repeats(rows, &mut findings);
    if let Some(first) = rows.get(MOST_OPTIONS) {
        findings.raise(RuleQuery::TooManyOptions, first.at, format!("{} rows", rows.len()));
    }
    for row in &rows {
        row.sift(&mut findings);
        if same_name(&row.item, AS_IT_STANDS) {
            findings.raise(RuleQuery::OptionNameTaken, row.at, row.item.clone());
        }
    }
    if findings.any_stop() {
        return Err(RulesError::Sheets(findings.queries));
    }
    Ok(Checked { value: rows.iter().map(OptionRow::of).collect(), queries: findings.queries })
}

/// Asks about products and colors of choices that are not listed.
///
/// # Errors
/// If there is no such product: the choice would have no blinds, and look cheap.
pub fn unlisted(rows: &[OptionRow], products: &[Product]) -> Result<Vec<Query>, RulesError> {
    let mut findings = Findings::default();
    let names = || products.iter().map(|product| &*product.name);
    let colors = || products.iter().flat_map(|product| &product.colors).map(|color| &**color);
    for (column, entry) in rows.iter().flat_map(OptionRow::of_openings) {
        let Ok(Datum::Text(text)) = &entry.datum else { continue };
        if column.slot == PRODUCT.slot && !names().any(|name| same_name(name, text)) {
            let nearest = nearest(text, names()).map(str::to_owned);
            findings.raise(RuleQuery::OptionProduct { nearest }, Some(entry.at), &**text);
        } else if column.slot == COLOR.slot && !colors().any(|color| same_name(color, text)) {
            let nearest = nearest(text, colors()).map(str::to_owned);
            findings.raise(RuleQuery::OptionColor { nearest }, Some(entry.at), &**text);
        }
    }
    if findings.any_stop() { Err(RulesError::Sheets(findings.queries)) } else { Ok(findings.queries) }
}
