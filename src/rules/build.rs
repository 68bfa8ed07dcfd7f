//! One builder checks the raw rules, built in or written, into the rules of the run.

use std::sync::Arc;

use super::built_in::BuiltIn;
use super::columns::{
    bars::BARS, fixings::FIXINGS, materials::MATERIALS, offcuts::OFFCUTS, phases::PHASES, prices::PRICES,
    products::PRODUCTS, project::PROJECT, rates::RATES, stock_sizes::STOCK_SIZES,
};
use super::material::Sources;
use super::queries::{Findings, RulesError};
use super::raw::{RawRow, by_item};
use super::safety::Safety;
use super::{
    OptionRow, Product, Rules, TypedFigures, bars, fixing, left_out, material, moved, phases, price, product,
    project, rates, sheets, stock,
};
use crate::grid::Grid;
use crate::length::Unit;
use crate::query::Checked;

/// The rules of a run: the built-in ones, overridden by the surveys' own sheets. A length
/// that names no unit is in `bare`.
///
/// # Errors
/// If a sheet says something that cannot be used, or two surveys say different things. Every such
/// cell of every sheet is named, not the first alone.
pub fn build(grids: &[Grid], bare: Unit) -> Result<Checked<Rules>, RulesError> {
    build_as(None, grids, bare)
}

/// The same with what one choice has in place of the surveys' own.
///
/// # Errors
/// As [`build`].
pub fn build_as(
    option: Option<&OptionRow>,
    grids: &[Grid],
    bare: Unit,
) -> Result<Checked<Rules>, RulesError> {
    let units = bare.shown_in();
    let built_in = BuiltIn::read(units)?;
    let safety = Safety::read()?;
    let mut findings = Findings::default();

    sheets::without_project(grids, &mut findings);
    left_out::ask(grids, &mut findings);
    let items = sheets::by_field(grids, &PROJECT, bare, &mut findings);
    let items = items.first().map_or_else(|| built_in.project.clone(), |row| row.over(&built_in.project));
    let items = option.map_or_else(|| items.clone(), |option| option.over(&items));
    let project = project::project(&items, units, &mut findings)?;

    let written = sheets::by_field(grids, &PRODUCTS, bare, &mut findings);
    let mut product_rows = product::rows(&built_in.products, &written, &mut findings);
    let (mut said, printed) = moved::from_products(&written, &mut product_rows, &mut findings);
    let listed = sheets::whole_list(grids, &BARS, bare, &mut findings);
    let mut bar_rows = bars::complete(listed.as_ref().unwrap_or(&built_in.bars), &mut findings);
    said.extend(moved::from_bars(&mut bar_rows, &mut findings));
    let written = sheets::by_field(grids, &MATERIALS, bare, &mut findings);
    let sources = Sources {
        built_in: &built_in.materials,
        blanks: &built_in.material_blanks,
        written: &written,
        said: said.iter().map(|said| (said.material.as_str(), said)).collect(),
        products: &product_rows,
        bars: &bar_rows,
        of: material::OfItem {
            built_in: by_item(&built_in.materials),
            written: by_item(&written),
            bars: by_item(&bar_rows),
            uses: material::uses(&product_rows),
        },
    };
    let (materials, material_rows) = material::materials(&sources, &mut findings)?;
    moved::name_not_taken(&printed, &material_rows, &mut findings);
    material::check_use(&sources, &mut findings);
    let (bars, bar_rows) = bars::bars(&bar_rows, &materials, &built_in.bars, &mut findings);
    material::spell(&mut product_rows, &materials);
    let products = product::products(&product_rows, &material_rows, bare, &mut findings)?;

    let listed = sheets::whole_list(grids, &STOCK_SIZES, bare, &mut findings);
    let (stock_sizes, stock_rows) = stock::stock_sizes(
        listed.as_ref().unwrap_or(&built_in.stock_sizes),
        &product_rows,
        &built_in.stock_sizes,
        &mut findings,
    );

    let listed = sheets::whole_list(grids, &OFFCUTS, bare, &mut findings);
    let offcut_rows = listed.unwrap_or(built_in.offcuts);
    let offcuts = bars::offcuts(&offcut_rows, &bars, &materials, &product_rows, &mut findings);

    let listed = sheets::whole_list(grids, &FIXINGS, bare, &mut findings);
    let (fixings, fixing_rows) =
        fixing::fixings(listed.as_ref().unwrap_or(&built_in.fixings), &built_in.fixings, &mut findings);

    let listed = sheets::whole_list(grids, &PRICES, bare, &mut findings);
    let (prices, price_rows) = price::prices(
        listed.as_ref().unwrap_or(&built_in.prices),
        &product_rows,
        &brackets(&products),
        &built_in.prices,
        units,
        &mut findings,
    );

    let written = sheets::by_field(grids, &RATES, bare, &mut findings);
    let (rates, rate_rows) = rates::rates(&built_in.rates, &written, &mut findings);

    let written = sheets::by_field(grids, &PHASES, bare, &mut findings);
    let (phases, phase_rows) = phases::phases(written, &mut findings)?;

    let (Some(project), false) = (project, findings.any_stop()) else {
        return Err(RulesError::Sheets(findings.queries));
    };
    let rows: [&[RawRow]; 10] = [
        std::slice::from_ref(&items),
        &product_rows,
        &stock_rows,
        &material_rows,
        &bar_rows,
        &offcut_rows,
        &fixing_rows,
        &price_rows,
        &rate_rows,
        &phase_rows,
    ];
    let used = rows.into_iter().flatten().flat_map(RawRow::used);
    let used = used.chain(safety.used(project.jurisdiction)).collect();
    let assumptions = project::assumptions(&items);
    let value = Rules {
        project,
        products,
        stock_sizes,
        materials,
        bars,
        offcuts,
        fixings,
        prices,
        rates,
        phases,
        safety,
        used,
        assumptions,
        typed: TypedFigures::default(),
    };
    Ok(Checked { value, queries: findings.queries })
}

/// The items of every product's brackets, each once.
fn brackets(products: &[Product]) -> Vec<Arc<str>> {
    let mut items: Vec<Arc<str>> = Vec::new();
    for Product { cover, .. } in products {
        for item in cover.bracket_items.iter().chain([&cover.inside_bracket_item]) {
            if !items.contains(item) {
                items.push(Arc::clone(item));
            }
        }
    }
    items
}
