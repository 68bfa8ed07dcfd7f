//! What the total does not hold, and an allowance for it from like openings.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::ledger::{Gap, Ledger};
use super::{Job, NotInTotal, Section};
use crate::query::OpeningIndex;
use crate::survey::Kind;

/// Held openings first, then what has no price, in the order of the cost's lines. Held openings and
/// unpriced blinds have an allowance; a part or a time without a price is too small a part of an
/// opening for its median to say anything.
pub(super) fn not_in_total(ledger: &Ledger, job: Job<'_>) -> Vec<NotInTotal> {
    let unpriced_blinds = |gap: &&Gap| gap.section == Section::Blinds;
    let medians = Medians::new(ledger, job);
    let held: Vec<OpeningIndex> =
        (0..job.survey.openings.len()).filter(|&opening| is_held(job, opening)).collect();
    let mut entries = Vec::new();
    if !held.is_empty() {
        let allowance = medians.allowance(ledger, job, &held);
        entries.push(NotInTotal {
            what: "held openings".to_owned(),
            openings: held,
            lines: Vec::new(),
            allowance,
        });
    }
    for (place, gap) in ledger.gaps() {
        let openings: Vec<OpeningIndex> = gap.openings.iter().copied().collect();
        let allowance =
            Some(gap).filter(unpriced_blinds).and_then(|_| medians.allowance(ledger, job, &openings));
        let lines = ledger.lines_lacking(place);
        entries.push(NotInTotal { what: gap.lacking.to_string(), openings, lines, allowance });
    }
    entries
}

pub(super) fn is_held(job: Job<'_>, opening: OpeningIndex) -> bool {
    job.blinds.get(opening).is_none_or(Option::is_none)
}

pub(super) fn kind_of(job: Job<'_>, opening: OpeningIndex) -> Option<Kind> {
    job.survey.openings.get(opening)?.facts.as_ref().map(|facts| facts.kind)
}

/// Median known direct cost of one opening whose blind has a price: by kind, and of all.
struct Medians {
    by_kind: BTreeMap<Kind, Decimal>,
    of_all: Option<Decimal>,
}

impl Medians {
    fn new(ledger: &Ledger, job: Job<'_>) -> Medians {
        let mut unpriced = vec![false; job.survey.openings.len()];
        for (_, gap) in ledger.gaps().filter(|(_, gap)| gap.section == Section::Blinds) {
            for &opening in &gap.openings {
                unpriced[opening] = true;
            }
        }
        let mut costs: BTreeMap<Kind, Vec<(Decimal, u64)>> = BTreeMap::new();
        let mut all = Vec::new();
        for (opening, quantity, _) in job.covered().filter(|&(opening, ..)| !unpriced[opening]) {
            let cost = (ledger.carried()[opening] / Decimal::from(quantity.max(1)), u64::from(quantity));
            all.push(cost);
            if let Some(kind) = kind_of(job, opening) {
                costs.entry(kind).or_default().push(cost);
            }
        }
        let by_kind = costs.into_iter().filter_map(|(kind, costs)| Some((kind, median(costs)?))).collect();
        Medians { by_kind, of_all: median(all) }
    }

    /// The median of its kind for each opening, of all openings where its kind has none, less what
    /// the total holds of it already; rounded once.
    fn allowance(&self, ledger: &Ledger, job: Job<'_>, openings: &[OpeningIndex]) -> Option<Decimal> {
        let mut allowance = Decimal::ZERO;
        for &opening in openings {
            let of_kind = kind_of(job, opening).and_then(|kind| self.by_kind.get(&kind).copied());
            let expected = of_kind.or(self.of_all)? * job.quantity(opening);
            allowance += (expected - ledger.carried().get(opening)?).max(Decimal::ZERO);
        }
        Some(ledger.round(allowance))
    }
}

/// The middle of values that each stand for a number of openings; the mean of both middles if that
/// number is even.
fn median(mut values: Vec<(Decimal, u64)>) -> Option<Decimal> {
    values.sort_unstable();
    let count: u64 = values.iter().map(|(_, count)| count).sum();
    let at = |place: u64| {
        let mut passed = 0;
        values.iter().find(|(_, count)| {
            passed += count;
            place < passed
        })
    };
    let (lower, _) = at(count.checked_sub(1)? / 2)?;
    let (upper, _) = at(count / 2)?;
    Some((lower + upper) / Decimal::TWO)
}
