//! Material of blinds that may not be made yet. They are on no cut plan, so it is costed by its
//! length: the pieces' length as a share of a bar, times the bar's price; no kerf, no trim, no waste.
//!
//! The price is that of the cheapest bar that takes the piece.

use std::collections::BTreeMap;
use std::sync::Arc;

use rust_decimal::Decimal;

use super::ledger::{Entry, Ledger};
use super::parts::{bar_rate, bars_by_opening, in_color, unpriced_bar, unpriced_bar_rate};
use super::{AmountFormula, Job, QuantityFrom, Section};
use crate::length::Length;
use crate::rules::{Bar, Rules};
use crate::sizing::Release;

/// What the provisional blinds need of one material in one color.
#[derive(Default)]
struct Need {
    longest: Length,
    /// Meters for each order line, by number.
    meters: BTreeMap<usize, Decimal>,
}

/// Enters one line for each material and color.
pub(super) fn enter(ledger: &mut Ledger, job: Job<'_>) {
    for ((material, color), need) in needs(job) {
        let bar = bar_for(job.rules, &material, need.longest);
        let rate = bar.map_or_else(|| unpriced_bar_rate(job.rules, &material), bar_rate);
        let meters: Decimal = need.meters.values().sum();
        if rate.price.is_none() {
            let openings = job.openings_of(need.meters.keys());
            ledger.lack(Section::Parts, unpriced_bar(&material), rate.at, openings);
        }
        ledger.enter(Entry {
            section: Section::Parts,
            item: format!("{}, for provisional blinds", in_color(&material, &color)),
            unit: job.rules.stock_name(&material).word(),
            basis: "length of pieces / stock length",
            quantity: bar.map(|bar| meters / bar.length.meters()),
            quantity_from: QuantityFrom::Order,
            rate,
            formula: AmountFormula::Product,
            parts: bar.map_or_else(Vec::new, |bar| bars_by_opening(job, &need.meters, bar.length).collect()),
        });
    }
}

fn needs(job: Job<'_>) -> BTreeMap<(Arc<str>, Arc<str>), Need> {
    let mut needs: BTreeMap<(Arc<str>, Arc<str>), Need> = BTreeMap::new();
    let made = job.order.lines.iter().filter(|line| line.key.stock.is_none());
    for line in made.filter(|line| line.key.release == Release::Provisional) {
        for part in &*line.key.parts {
            let colored = job.rules.material(&part.material).is_some_and(|material| material.colored);
            let color = if colored { line.key.color.clone() } else { Arc::from("") };
            let need = needs.entry((part.material.clone(), color)).or_default();
            need.longest = need.longest.max(part.length);
            let count = Decimal::from(u64::from(part.each) * line.quantity);
            *need.meters.entry(line.line).or_default() += part.length.meters() * count;
        }
    }
    needs
}

/// Of the priced bars that take the longest piece, the one that costs least for its usable length
/// (between both trims); the first of equals.
fn bar_for<'r>(rules: &'r Rules, material: &str, longest: Length) -> Option<&'r Bar> {
    let stocked = rules.stocked(material)?;
    let usable = |bar: &Bar| stocked.material.longest_piece(bar);
    let takes_it = |bar: &&Bar| usable(bar) >= longest && usable(bar) > Length::ZERO;
    let listed = stocked.bars.iter().copied().filter(takes_it);
    let priced = listed.filter_map(|bar| Some((bar.price? / usable(bar).meters(), bar)));
    priced.reduce(|best, next| if next.0 < best.0 { next } else { best }).map(|(_, bar)| bar)
}
