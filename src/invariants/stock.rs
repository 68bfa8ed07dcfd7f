//! Boxes that are taken against those on hand.

use std::collections::BTreeMap;

use super::{Fault, Invariant};
use crate::report::Report;
use crate::rules::StockId;
use crate::schema::blinds::BlindState;
use crate::schema::choices::Origin;

pub(super) const INVARIANTS: &[Invariant] =
    &[Invariant::of_whole("no more boxes are taken than are on hand and not ordered before", suffices)];

fn suffices(report: &Report<'_>) -> Result<(), Fault> {
    let rules = report.rules;
    let mut taken: BTreeMap<StockId, u64> = BTreeMap::new();
    for (opening, (surveyed, blind)) in report.survey.openings.iter().zip(&report.blinds).enumerate() {
        if let Some(stock) = blind.as_ref().and_then(|blind| blind.sourced.supply.stock()) {
            let ordered = report.frozen.serving(opening).len() as u64;
            *taken.entry(stock.id).or_default() += u64::from(surveyed.who.quantity).saturating_sub(ordered);
        }
    }
    let mut ordered: BTreeMap<StockId, u64> = BTreeMap::new();
    let took_a_box = |state| !matches!(state, None | Some(BlindState::Cancelled));
    let from_stock = report.frozen.blinds().iter().filter(|blind| blind.source == Origin::Stock);
    for blind in from_stock.filter(|blind| took_a_box(blind.typed.state)) {
        if let Some(stock) = blind.stock.and_then(|nominal| rules.stock_of(&blind.product, nominal)) {
            *ordered.entry(stock.id).or_default() += 1;
        }
    }
    for (id, taken) in taken.into_iter().filter(|(_, taken)| *taken > 0) {
        let listed = rules.stock_sizes.iter().find(|stock| stock.id == id);
        let on_hand =
            listed.filter(|_| rules.project.stock_sizes).map_or(0, |stock| u64::from(stock.on_hand));
        let left = on_hand.saturating_sub(ordered.get(&id).copied().unwrap_or_default());
        if taken > left {
            let name = listed.map_or_else(String::new, |stock| stock.name(rules.project.units));
            return Err(Fault::at(name, format!("is used {taken} times, {left} are left")));
        }
    }
    Ok(())
}
