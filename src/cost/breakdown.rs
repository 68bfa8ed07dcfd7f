//! The direct cost again, shared out by phase, floor, unit and product.
//!
//! A row is the sum of what its openings carry, rounded once. What no opening carries (delivery,
//! the waste of whole bars and packs, spares) stands in a last row of its own together with what the
//! rounding leaves, so that the rows add up to the direct cost to the minor unit.

use std::collections::{BTreeMap, BTreeSet, HashMap};

use rust_decimal::Decimal;

use super::ledger::Ledger;
use super::{Breakdown, Job};
use crate::query::OpeningIndex;
use crate::survey::{Identity, Survey};

/// The row of what no opening carries.
pub const WHOLE_PROJECT: &str = "whole project";

/// Shares the known direct cost out four times.
pub(super) fn by_every_property(ledger: &Ledger, job: Job<'_>) -> Vec<Breakdown> {
    let who = |opening: OpeningIndex| job.survey.openings.get(opening).map(|opening| &opening.who);
    let floors = Named::new(job.survey, |who| &who.floor);
    let units = Named::new(job.survey, |who| &who.unit);
    vec![
        by("Phase", ledger, job, |opening| Some(named_or(&who(opening)?.phase, "No phase").to_owned())),
        by("Floor", ledger, job, |opening| {
            let who = who(opening)?;
            Some(floors.show(&who.building, &who.floor, named_or(&who.floor, "No floor")))
        }),
        by("Unit", ledger, job, |opening| {
            let who = who(opening)?;
            Some(units.show(&who.building, &who.unit, who.shown_unit()))
        }),
        // A held opening has no product: what was spent on it is the project's.
        by("Product", ledger, job, |opening| {
            Some(job.blinds.get(opening)?.as_ref()?.sizing.product.name.to_string())
        }),
    ]
}

fn by(
    property: &'static str,
    ledger: &Ledger,
    job: Job<'_>,
    name_of: impl Fn(OpeningIndex) -> Option<String>,
) -> Breakdown {
    let mut rows: Vec<(String, u64, Decimal)> = Vec::new();
    // Looked up only, never walked: the rows keep the survey's order.
    let mut known: HashMap<String, usize> = HashMap::new();
    for (opening, carried) in ledger.carried().iter().enumerate() {
        let Some(name) = name_of(opening) else { continue };
        let place = *known.entry(name).or_insert_with_key(|name| {
            rows.push((name.clone(), 0, Decimal::ZERO));
            rows.len() - 1
        });
        let covered = job.blinds.get(opening).is_some_and(Option::is_some);
        let quantity =
            job.survey.openings.get(opening).filter(|_| covered).map(|opening| opening.who.quantity);
        rows[place].1 += u64::from(quantity.unwrap_or(0));
        rows[place].2 += carried;
    }
    for row in &mut rows {
        row.2 = ledger.round(row.2);
    }
    let rest = ledger.known() - rows.iter().map(|row| row.2).sum::<Decimal>();
    if !rest.is_zero() {
        rows.push((WHOLE_PROJECT.to_owned(), 0, rest));
    }
    Breakdown { by: property, rows }
}

fn named_or<'a>(name: &'a str, blank: &'a str) -> &'a str {
    if name.is_empty() { blank } else { name }
}

/// How many buildings have a floor or a unit of each name.
struct Named<'s> {
    buildings: BTreeMap<&'s str, BTreeSet<&'s str>>,
}

impl<'s> Named<'s> {
    fn new(survey: &'s Survey, name_of: impl Fn(&'s Identity) -> &'s str) -> Named<'s> {
        let mut buildings: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
        for opening in &survey.openings {
            buildings.entry(name_of(&opening.who)).or_default().insert(&opening.who.building);
        }
        Named { buildings }
    }

    /// The name alone if one building has it, else `building/name`.
    fn show(&self, building: &str, name: &str, shown: &str) -> String {
        match self.buildings.get(name) {
            Some(buildings) if buildings.len() > 1 => format!("{building}/{shown}"),
            _ => shown.to_owned(),
        }
    }
}
