//! Which product and colour an opening gets.

use std::sync::Arc;

use super::queries::SizingQuery;
use crate::query::Held;
use crate::rules::{Product, Rules};
use crate::survey::Facts;
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
            .ok_or_else(|| record.stop(&SizingQuery::NothingSuits { kind: facts.kind }, None));
    };
    let named = rules.products.iter().find(|product| same_word(&product.name, &wanted.value));
    let Some(product) = named else {
        let known = rules.products.iter().map(|product| &*product.name).collect::<Vec<_>>().join(", ");
        let unknown = SizingQuery::UnknownProduct { name: wanted.value.to_string(), known };
        return Err(record.stop(&unknown, Some(wanted.at)));
    };
    if !suits(product) {
        let kind = facts.kind;
        record.check(&SizingQuery::NotSuited { name: product.name.to_string(), kind }, Some(wanted.at), "");
    }
    Ok(product)
}

/// The colour asked for, or the product's first. One that the product does not list is taken
/// as written, because it changes no size, with a check for whoever orders.
pub(super) fn colour(facts: &Facts, product: &Product, record: &mut Record<'_>) -> Arc<str> {
    let Some(wanted) = &facts.colour else {
        return product.colours.first().cloned().unwrap_or_default();
    };
    match product.colours.iter().find(|colour| same_word(colour, &wanted.value)) {
        Some(colour) => Arc::clone(colour),
        None => {
            let listed = product.colours.join(", ");
            let query = SizingQuery::UnlistedColour {
                colour: wanted.value.to_string(),
                product: product.name.to_string(),
                listed,
            };
            record.check(&query, Some(wanted.at), "");
            Arc::clone(&wanted.value)
        }
    }
}

fn same_word(one: &str, other: &str) -> bool {
    one.trim().to_lowercase() == other.trim().to_lowercase()
}
