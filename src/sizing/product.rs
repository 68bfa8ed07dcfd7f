//! Which product and color an opening gets.
//!
//! A color that the product does not list is ordered as written, with a check: it changes no size.

use std::sync::Arc;

use super::Sizing;
use super::queries::SizingQuery;
use crate::assumptions::{Assumption, Assumptions};
use crate::name::same_name;
use crate::query::Held;
use crate::rules::columns::products::PRODUCTS;
use crate::rules::{Product, Rules};
use crate::schema::openings::{COLOR, PRODUCT};
use crate::survey::{Facts, Survey};
use crate::worked::Record;

/// The product named, or the first that suits the kind.
pub(super) fn choose<'r>(
    facts: &Facts,
    rules: &'r Rules,
    record: &mut Record<'r>,
) -> Result<&'r Product, Held> {
    let suits = |product: &Product| product.suits.contains(&facts.kind);
    let Some(wanted) = &facts.product else {
        return rules
            .products
            .iter()
            .find(|product| suits(product))
            .ok_or_else(|| record.hold(&SizingQuery::NothingSuits { kind: facts.kind }, None, ""));
    };
    let Some(product) = rules.product(&wanted.value) else {
        let unknown = SizingQuery::UnknownProduct { name: wanted.value.to_string(), known: known(rules) };
        return Err(record.hold(&unknown, Some(wanted.at), ""));
    };
    if !suits(product) {
        let kind = facts.kind;
        record.ask(&SizingQuery::NotSuited { name: product.name.to_string(), kind }, Some(wanted.at), "");
    }
    Ok(product)
}

/// Most products that are named one by one where none is meant; many more are a list of their own.
const MOST_NAMED: usize = 8;

/// The products there are, in words.
fn known(rules: &Rules) -> String {
    match rules.products.len() {
        0..=MOST_NAMED => rules.products.iter().map(|product| &*product.name).collect::<Vec<_>>().join(", "),
        many => format!("the {many} on the sheet {}", PRODUCTS.sheet),
    }
}

/// The color asked for, or the product's first. One that the product does not list is taken
/// as written, because it changes no size, with a check for whoever orders.
pub(super) fn color(facts: &Facts, product: &Product, record: &mut Record<'_>) -> Arc<str> {
    let Some(wanted) = &facts.color else {
        debug_assert!(!product.colors.is_empty());
        return product.colors.first().cloned().unwrap_or_default();
    };
    match product.colors.iter().find(|color| same_name(color, &wanted.value)) {
        Some(color) => Arc::clone(color),
        None => {
            let listed = product.colors.join(", ");
            let query = SizingQuery::UnlistedColor {
                color: wanted.value.to_string(),
                product: product.name.to_string(),
                listed,
            };
            record.ask(&query, Some(wanted.at), "");
            Arc::clone(&wanted.value)
        }
    }
}

/// What blank products and colors were taken for, once for each opening that gets a blind.
/// `sizings` has one place for each opening of the survey.
pub fn assumed<'s, 'r: 's>(
    survey: &Survey,
    sizings: impl IntoIterator<Item = Option<&'s Sizing<'r>>>,
) -> Vec<Assumption> {
    let mut assumptions = Assumptions::default();
    for (opening, sizing) in survey.openings.iter().zip(sizings) {
        let (Some(facts), Some(sizing)) = (&opening.facts, sizing) else { continue };
        let openings = u64::from(opening.who.quantity);
        if facts.product.is_none() {
            assumptions.count(&PRODUCT, &sizing.product.name, openings);
        }
        if facts.color.is_none() {
            assumptions.count(&COLOR, &sizing.color, openings);
        }
    }
    assumptions.into_list()
}
