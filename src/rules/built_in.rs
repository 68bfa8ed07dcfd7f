//! The built-in rules: TOML files that ship inside the program, each value as the trade writes it
//! and with its reason. Their values go through the same reader as a survey's cells.
//!
//! A new product names under `Like` the product it starts from.

use std::collections::BTreeMap;
use std::sync::Arc;

use serde::Deserialize;
use serde::de::DeserializeOwned;

use super::columns::project::PROJECT;
use super::columns::{bars, fixings, materials, offcuts, prices, products, rates, stock_sizes};
use super::queries::RulesError;
use super::raw::{NOTE, Origin, RawCell, RawRow, is_price};
use crate::grid::Value;
use crate::length::Units;
use crate::schema::{Column, Table};
use crate::tables;

/// A file that ships inside the program.
struct Template {
    file: &'static str,
    text: &'static str,
}

macro_rules! template {
    ($file:literal) => {
        Template { file: $file, text: include_str!(concat!("../../templates/", $file)) }
    };
}

/// Products, in the order in which a blank `Product` tries them. A product comes after the one it is like.
const PRODUCTS: [Template; 2] = [template!("products/louver-89.toml"), template!("products/louver-127.toml")];
const PROJECT_FILE: Template = template!("project.toml");
const STOCK_SIZES: Template = template!("stock-sizes.toml");
const MATERIALS: Template = template!("materials.toml");
const BARS: Template = template!("bars.toml");
const OFFCUTS: Template = template!("offcuts.toml");
const FIXINGS: Template = template!("fixings.toml");
const PRICES: Template = template!("prices.toml");
const RATES: Template = template!("rates.toml");

/// Every built-in rule as raw rows.
#[derive(Debug)]
pub(super) struct BuiltIn {
    pub(super) project: RawRow,
    pub(super) products: Vec<RawRow>,
    pub(super) stock_sizes: Vec<RawRow>,
    pub(super) materials: Vec<RawRow>,
    /// What the blanks of a new material mean.
    pub(super) material_blanks: RawRow,
    pub(super) bars: Vec<RawRow>,
    pub(super) offcuts: Vec<RawRow>,
    pub(super) fixings: Vec<RawRow>,
    pub(super) prices: Vec<RawRow>,
    pub(super) rates: Vec<RawRow>,
}

/// What a list's key ends with that holds the value for a survey in millimeters, if it is another.
const IN_MM: &str = "_in_mm";

/// A value and its reason.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Reasoned {
    value: String,
    /// The value for a survey in millimeters, if it is another.
    value_in_mm: Option<String>,
    why: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ProductFile {
    name: String,
    like: Option<String>,
    rules: BTreeMap<String, Reasoned>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ListFile {
    /// The reason for every value but a price, whose note is its reason.
    why: String,
    #[serde(default)]
    blank: BTreeMap<String, Reasoned>,
    row: Vec<ListRow>,
}

#[derive(Deserialize)]
struct ListRow {
    /// The row's own reason, in place of the file's.
    why: Option<String>,
    #[serde(flatten)]
    values: BTreeMap<String, String>,
}

impl BuiltIn {
    /// Reads the files; `units` decide only what stands under `value_in_mm`.
    ///
    /// # Errors
    /// If a file holds a key that the schema does not know, or a value that its column refuses.
    pub(super) fn read(units: Units) -> Result<BuiltIn, RulesError> {
        let project: BTreeMap<String, Reasoned> = PROJECT_FILE.parse()?;
        let (materials, material_blanks) = MATERIALS.list(&materials::MATERIALS, units)?;
        let mut products = Vec::with_capacity(PRODUCTS.len());
        for template in &PRODUCTS {
            products.push(template.product(&products, units)?);
        }
        Ok(BuiltIn {
            project: PROJECT_FILE.reasoned_row(RawRow::empty(&PROJECT, ""), &project, units)?,
            products,
            stock_sizes: STOCK_SIZES.list(&stock_sizes::STOCK_SIZES, units)?.0,
            materials,
            material_blanks,
            bars: BARS.list(&bars::BARS, units)?.0,
            offcuts: OFFCUTS.list(&offcuts::OFFCUTS, units)?.0,
            fixings: FIXINGS.list(&fixings::FIXINGS, units)?.0,
            prices: PRICES.list(&prices::PRICES, units)?.0,
            rates: RATES.list(&rates::RATES, units)?.0,
        })
    }

    /// Each rule sheet with its rows, in the order of the schema's sheets.
    fn sheets(self) -> [(&'static Table, Vec<RawRow>); 8] {
        [
            (&products::PRODUCTS, self.products),
            (&stock_sizes::STOCK_SIZES, self.stock_sizes),
            (&materials::MATERIALS, self.materials),
            (&bars::BARS, self.bars),
            (&offcuts::OFFCUTS, self.offcuts),
            (&fixings::FIXINGS, self.fixings),
            (&prices::PRICES, self.prices),
            (&rates::RATES, self.rates),
        ]
    }
}

/// One rule sheet as the built-in files write it.
#[derive(Clone, Debug)]
pub struct BuiltInSheet {
    /// Its columns.
    pub table: &'static Table,
    /// One text for each column of each row; empty where there is no value.
    pub rows: Vec<Vec<String>>,
}

/// Every rule sheet filled with the built-in rules, as a blank workbook shows them; `units` decide
/// the rounding step alone.
///
/// # Errors
/// If a built-in file is wrong; the tests keep this from happening.
pub fn built_in_sheets(units: Units) -> Result<Vec<BuiltInSheet>, RulesError> {
    let sheets = BuiltIn::read(units)?.sheets().map(|(table, rows)| {
        let texts =
            |row: &RawRow| table.columns.iter().map(|column| row.written(column).to_owned()).collect();
        BuiltInSheet { table, rows: rows.iter().map(texts).collect() }
    });
    Ok(Vec::from(sheets))
}

impl Template {
    fn parse<T: DeserializeOwned>(&self) -> Result<T, RulesError> {
        toml::from_str(self.text).map_err(|error| self.wrong(error.to_string()))
    }

    fn wrong(&self, message: String) -> RulesError {
        RulesError::BuiltIn { file: self.file, message }
    }

    /// A product: its own rules over those of the one that it is like.
    fn product(&self, above: &[RawRow], units: Units) -> Result<RawRow, RulesError> {
        let file: ProductFile = self.parse()?;
        let mut row = RawRow::empty(&products::PRODUCTS, &file.name);
        self.enter(&mut row, "name", &file.name, "the name used on the sheet Openings", units)?;
        let row = self.reasoned_row(row, &file.rules, units)?;
        let Some(like) = file.like else { return Ok(row) };
        let base = above.iter().find(|base| base.item == like);
        base.map(|base| row.over(base)).ok_or_else(|| self.wrong(format!("{like} is no product above")))
    }

    /// The rows of a list, and what the blanks of a survey's rows mean.
    fn list(&self, table: &'static Table, units: Units) -> Result<(Vec<RawRow>, RawRow), RulesError> {
        let file: ListFile = self.parse()?;
        let blank = self.reasoned_row(RawRow::empty(table, ""), &file.blank, units)?;
        let rows = file.row.iter().map(|ListRow { why, values }| {
            let item = table.columns.first().and_then(|column| values.get(column.key));
            let mut row = RawRow::empty(table, item.map_or("", String::as_str));
            let why = why.as_ref().unwrap_or(&file.why);
            let note = values.get(NOTE).unwrap_or(why);
            for (key, value) in values.iter().filter(|(key, _)| !key.ends_with(IN_MM)) {
                let in_mm = values.get(&format!("{key}{IN_MM}"));
                let value = match units {
                    Units::Millimeters => in_mm.unwrap_or(value),
                    Units::Inches => value,
                };
                let priced = table.columns.iter().any(|column| column.key == key && is_price(column));
                self.enter(&mut row, key, value, if priced { note } else { why }, units)?;
            }
            Ok(row)
        });
        Ok((rows.collect::<Result<_, RulesError>>()?, blank))
    }

    fn reasoned_row(
        &self,
        mut row: RawRow,
        rules: &BTreeMap<String, Reasoned>,
        units: Units,
    ) -> Result<RawRow, RulesError> {
        for (key, rule) in rules {
            let value = match units {
                Units::Millimeters => rule.value_in_mm.as_ref().unwrap_or(&rule.value),
                Units::Inches => &rule.value,
            };
            self.enter(&mut row, key, value, &rule.why, units)?;
        }
        Ok(row)
    }

    /// Enters one value under the column of that key.
    fn enter(
        &self,
        row: &mut RawRow,
        key: &str,
        written: &str,
        why: &str,
        units: Units,
    ) -> Result<(), RulesError> {
        let column: &Column = row
            .table
            .columns
            .iter()
            .find(|column| column.key == key)
            .ok_or_else(|| self.wrong(format!("{} has no rule {key}", row.table.sheet)))?;
        let datum = tables::read_value(&Value::Text(written.into()), column, None, units.unit())
            .map_err(|unread| self.wrong(format!("{key}: {}", unread.message)))?;
        if let Some(cell) = row.cells.get_mut(column.slot) {
            *cell = Some(RawCell {
                datum: Ok(datum),
                written: written.to_owned(),
                from: Origin::BuiltIn(Arc::from(why)),
            });
        }
        Ok(())
    }
}
