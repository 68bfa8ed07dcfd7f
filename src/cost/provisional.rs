//! Material of blinds that may not be made yet. They are on no cut plan, so it is costed by its
//! length: the pieces' length as a share of a bar, times the bar's price; no kerf, no trim, no waste.

use std::collections::BTreeMap;
use std::sync::Arc;

use rust_decimal::Decimal;

use super::ledger::{Entry, Ledger};
use super::parts::{bar_rate, carry_lengths, unpriced_bar};
use super::{AmountFormula, Job, Section};
use crate::length::Length;
use crate::order::OrderLine;
use crate::rules::{Bar, Family, Rules};
use crate::sizing::Release;

/// What the provisional blinds need of one material in one colour.
#[derive(Default)]
struct Need {
    longest: Length,
    /// Metres for each order line, by number.
    metres: BTreeMap<usize, Decimal>,
}

/// Enters one line for each material and colour.
pub(super) fn enter(ledger: &mut Ledger, job: Job<'_>) {
    for ((material, colour), need) in needs(job) {
        let bar = bar_for(job.rules, &material, need.longest);
        let rate = bar_rate(job.rules, &material, bar.and_then(|bar| bar.price));
        let metres: Decimal = need.metres.values().sum();
        match bar.and_then(|bar| Some((bar.price?, bar.length))) {
            Some((price, length)) => carry_lengths(ledger, job, &need.metres, price, length),
            None => {
                let lines =
                    need.metres.keys().filter_map(|number| job.order.lines.get(number.checked_sub(1)?));
                let openings = lines.flat_map(|line| line.openings.iter().copied());
                ledger.lack(Section::Parts, unpriced_bar(&material), rate.at, openings);
            }
        }
        let named = if colour.is_empty() { material.to_string() } else { format!("{material} {colour}") };
        ledger.enter(Entry {
            section: Section::Parts,
            item: format!("{named}, for provisional blinds"),
            unit: "bar",
            basis: "length of the pieces / length of a bar",
            quantity: bar.map(|bar| metres / bar.length.metres()),
            rate,
            formula: AmountFormula::Product,
        });
    }
}

fn needs(job: Job<'_>) -> BTreeMap<(Arc<str>, Arc<str>), Need> {
    let mut needs: BTreeMap<(Arc<str>, Arc<str>), Need> = BTreeMap::new();
    let made = job.order.lines.iter().filter(|line| line.key.stock.is_none());
    for line in made.filter(|line| line.key.release == Release::Provisional) {
        for (material, length, each) in pieces(line, job.rules) {
            let coloured = job.rules.bars.iter().any(|bar| bar.material == *material && bar.coloured);
            let colour = if coloured { line.key.colour.clone() } else { Arc::from("") };
            let need = needs.entry((material.clone(), colour)).or_default();
            need.longest = need.longest.max(length);
            *need.metres.entry(line.line).or_default() +=
                length.metres() * Decimal::from(each * line.quantity);
        }
    }
    needs
}

/// The pieces of one blind: material, cut length, how many.
fn pieces<'r>(line: &OrderLine, rules: &'r Rules) -> Vec<(&'r Arc<str>, Length, u64)> {
    let Some(product) = rules.product(&line.key.product) else { return Vec::new() };
    let Family::Louver(louver) = &product.family;
    let key = &line.key;
    let mut pieces = vec![
        (&louver.rail_material, line.rail_cut, 1),
        (&louver.rod_material, line.rod_cut, 1),
        (&louver.valance_material, key.valance, 1),
        (&louver.valance_material, key.return_left, 1),
        (&louver.valance_material, key.return_right, 1),
        (&louver.louver_material, key.louver_length + *louver.hem, u64::from(key.louver_count)),
    ];
    pieces.retain(|&(_, length, count)| length > Length::ZERO && count > 0);
    pieces
}

/// Of the priced bars that take the longest piece, the one that costs least for its usable length
/// (between both trims); the first of equals.
fn bar_for<'r>(rules: &'r Rules, material: &str, longest: Length) -> Option<&'r Bar> {
    let usable = |bar: &Bar| bar.length - bar.trim * 2;
    let listed = rules.bars.iter().filter(|bar| *bar.material == *material && bar.length > Length::ZERO);
    let takes_it = listed.filter(|bar| usable(bar) >= longest && usable(bar) > Length::ZERO);
    let priced = takes_it.filter_map(|bar| Some((bar.price? / usable(bar).metres(), bar)));
    priced.reduce(|best, next| if next.0 < best.0 { next } else { best }).map(|(_, bar)| bar)
}
