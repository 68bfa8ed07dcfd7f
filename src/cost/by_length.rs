//! Material of blinds that are on no cut plan: those that may not be made yet, and those that are made
//! already. It is costed by its length: the pieces' length as a share of a bar, times the bar's price; no
//! kerf, no trim, no waste.
//!
//! The price is that of the cheapest bar that takes the piece.

use std::collections::BTreeMap;
use std::sync::Arc;

use rust_decimal::Decimal;

use super::ledger::{Entry, Ledger};
use super::parts::{bar_rate, in_color, meters_by_opening, meters_of, unpriced_bar};
use super::{AmountFormula, Commitment, Job, QuantityFrom, Section};
use crate::length::Length;
use crate::order::{OrderLine, Seat};
use crate::rules::{Bar, Rules};
use crate::schema::choices::Origin;
use crate::sizing::Release;

/// Blinds that are on no cut plan.
#[derive(Clone, Copy)]
enum Uncut {
    /// They may not be made yet.
    Provisional,
    /// They are made.
    Made,
}

impl Uncut {
    const fn words(self) -> &'static str {
        match self {
            Uncut::Provisional => "for provisional blinds",
            Uncut::Made => "for blinds that are made",
        }
    }

    const fn commitment(self) -> Commitment {
        match self {
            Uncut::Provisional => Commitment::Open,
            Uncut::Made => Commitment::Committed,
        }
    }

    fn counts(self, line: &OrderLine, seat: &Seat) -> bool {
        match self {
            Uncut::Provisional => line.key.release == Release::Provisional && !seat.is_cut(),
            Uncut::Made => seat.is_cut(),
        }
    }
}

/// What such blinds need of one material in one color.
#[derive(Default)]
struct Need {
    longest: Length,
    /// Meters for each order line, by number.
    meters: BTreeMap<usize, Decimal>,
}

/// Enters one line for each material and color.
pub(super) fn enter(ledger: &mut Ledger, job: Job<'_>) {
    enter_for(ledger, job, Uncut::Provisional);
    enter_for(ledger, job, Uncut::Made);
}

fn enter_for(ledger: &mut Ledger, job: Job<'_>, uncut: Uncut) {
    for ((material, color), need) in needs(job, uncut) {
        let Some(bar) = bar_for(job.rules, &material, need.longest) else { continue };
        let rate = bar_rate(ledger, bar, job.rules);
        let meters: Decimal = need.meters.values().sum();
        let gap = rate.price.is_none().then(|| {
            let openings = job.openings_of(need.meters.keys());
            ledger.lack(Section::Parts, unpriced_bar(&material, bar.length, job.rules), rate.at, openings)
        });
        ledger.enter(Entry {
            section: Section::Parts,
            item: format!(
                "{}, {} long, {}",
                in_color(&material, &color),
                bar.length.as_bought(job.rules.project.units),
                uncut.words(),
            ),
            unit: job.rules.stock_name(&material).word(),
            basis: format!("{} m of pieces / {} m", meters.normalize(), bar.length.meters().normalize())
                .into(),
            quantity: Some(meters / bar.length.meters()),
            quantity_from: QuantityFrom::Order,
            rate,
            formula: AmountFormula::Product,
            shared_in: meters_of(bar.length),
            parts: meters_by_opening(job, &need.meters, move |line, seat| uncut.counts(line, seat)).collect(),
            commitment: uncut.commitment(),
            gap,
        });
    }
}

fn needs(job: Job<'_>, uncut: Uncut) -> BTreeMap<(Arc<str>, Arc<str>), Need> {
    let mut needs: BTreeMap<(Arc<str>, Arc<str>), Need> = BTreeMap::new();
    for line in job.order.lines.iter().filter(|line| line.key.origin == Origin::Made) {
        let blinds = line.count(|seat| uncut.counts(line, seat));
        for part in line.key.parts.iter().filter(|_| blinds > 0) {
            let colored = job.rules.material(&part.material).is_some_and(|material| material.colored);
            let color = if colored { line.key.color.clone() } else { Arc::from("") };
            let need = needs.entry((part.material.clone(), color)).or_default();
            need.longest = need.longest.max(part.length);
            let count = Decimal::from(u64::from(part.each) * blinds);
            *need.meters.entry(line.line).or_default() += part.length.meters() * count;
        }
    }
    needs
}

/// Of the priced bars that take the longest piece, the one that costs least for its usable length
/// (between both trims), the first of equals; where none has a price, the first that takes it. A piece
/// that no bar takes has stopped its opening.
fn bar_for<'r>(rules: &'r Rules, material: &str, longest: Length) -> Option<&'r Bar> {
    let stocked = rules.stocked(material)?;
    let usable = |bar: &Bar| stocked.material.longest_piece(bar);
    let takes_it = |bar: &&Bar| usable(bar) >= longest && usable(bar) > Length::ZERO;
    let listed = || stocked.bars.iter().copied().filter(takes_it);
    let priced = listed().filter_map(|bar| Some((bar.price? / usable(bar).meters(), bar)));
    let cheapest = priced.reduce(|best, next| if next.0 < best.0 { next } else { best });
    cheapest.map(|(_, bar)| bar).or_else(|| listed().next())
}
