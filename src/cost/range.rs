//! What the total may come to: what is known of it, less and more by each cause of doubt.
//!
//! Each part is what its openings may take off the known total (`low`) and put on it (`high`), with
//! overhead, profit, contingency and tax on it, rounded once. Low of the total is what is known with every
//! part's low, high with every part's high; one high that is unknown leaves that of the total unknown.
//!
//! - Held, and blinds without a price: the cheapest and the dearest priced opening of its kind, of any
//!   kind where its own has none, less what the total holds of it already; never below zero. So where
//!   something is missing, low may be above what is known so far. With nothing to go by, low is 0 and
//!   high unknown.
//! - A part, a time or a charge without a price: low 0, high unknown.
//! - Blinds not measured with a tape: each side of the size may turn out smaller or larger, within the
//!   limits of the product, by 1 in of a typical opening, 2 in off a drawing, 3 in of a rough opening. A
//!   taped door whose floor is not laid may lose 1 in of drop. Common practice, no source.
//!   Where blinds are bought, the price of one made in the smallest and the largest of these sizes
//!   stands beside today's, after the discount; one from stock may have to be made. Where they are made,
//!   materials follow the area. Time does not follow the size.
//!
//! Blinds that are ordered, or paid by another, have no part in it: their price is fixed. The discount is
//! taken as it is; a discount that is unknown is a price that is missing.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::blinds::{paid_by_another, price_each};
use super::breakdown::Burden;
use super::class::Class;
use super::ledger::Ledger;
use super::missing::{is_held, kind_of};
use super::{Job, QuantityFrom, RateFrom, Section};
use crate::length::Length;
use crate::order::{OrderLine, Seat};
use crate::query::OpeningIndex;
use crate::rules::CostBasis;
use crate::schema::choices::Release;
use crate::sizing::Size;
use crate::survey::{Kind, SizeSource};

/// What the total may come to.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct TotalRange {
    /// What is known, with the low of each part.
    pub low: Decimal,
    /// What is known, with the high of each part; `None` if one is unknown.
    pub high: Option<Decimal>,
    /// The class of the estimate, in words.
    pub class: String,
    /// The causes: held, without a price, not measured with a tape.
    pub parts: Vec<RangePart>,
}

/// One cause of doubt.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RangePart {
    /// What, such as `held openings`.
    pub what: String,
    /// What low and high are taken from.
    pub reason: &'static str,
    /// Its openings, each once a row.
    pub openings: Vec<OpeningIndex>,
    /// What it does to the known total at the lowest, rounded once: below zero it takes off.
    pub low: Decimal,
    /// The same at the highest; `None` if unknown.
    pub high: Option<Decimal>,
}

/// The range around what is known of the total.
pub(super) fn of(ledger: &Ledger, job: Job<'_>, known: Decimal) -> TotalRange {
    let known_of = Known::new(ledger, job);
    let mut parts = known_of.missing(ledger, job);
    parts.extend(known_of.unsure_sizes(ledger, job));
    let low = known + parts.iter().map(|part| part.low).sum::<Decimal>();
    let high = parts.iter().map(|part| part.high).sum::<Option<Decimal>>().map(|more| known + more);
    let (settled, all) = settled(ledger, job, &known_of.open);
    let class = Class::of(settled, all).in_words(settled, all);
    TotalRange { low, high, class, parts }
}

/// Lowest and highest of something.
type Bounds = (Decimal, Decimal);

/// What is known of each opening, one place for each.
struct Known {
    burden: Burden,
    /// Materials that it carries, after the discount, unrounded.
    materials: Vec<Decimal>,
    /// What the total holds of it, with all that comes on it, unrounded.
    whole: Vec<Decimal>,
    /// Blinds that are not ordered, and not paid by another.
    open: Vec<u64>,
    /// Whether a blind of it has no price.
    unpriced: Vec<bool>,
}

impl Known {
    fn new(ledger: &Ledger, job: Job<'_>) -> Known {
        let burden = Burden::of(&job.rules.project);
        let openings = job.survey.openings.len();
        let mut materials = vec![Decimal::ZERO; openings];
        for entered in ledger.lines().iter().filter(|entered| entered.line.section.is_material()) {
            let Some(rate) = ledger.rate_of_parts(&entered.line) else { continue };
            for &(opening, part) in &entered.parts {
                materials[opening] += entered.line.formula.of(part, rate);
            }
        }
        let both = ledger.carried().iter().zip(&materials);
        let whole = both.map(|(&direct, &materials)| burden.whole(direct, materials)).collect();
        let mut open = vec![0; openings];
        for (opening, blinds, _) in open_blinds(job) {
            open[opening] += blinds;
        }
        let mut unpriced = vec![false; openings];
        for (_, gap) in ledger.gaps().filter(|(_, gap)| gap.section == Section::Blinds) {
            gap.openings.iter().for_each(|&opening| unpriced[opening] = true);
        }
        Known { burden, materials, whole, open, unpriced }
    }

    /// Held openings first, then what has no price, as in what is not in the total.
    fn missing(&self, ledger: &Ledger, job: Job<'_>) -> Vec<RangePart> {
        let like = self.like(job);
        let mut parts = Vec::new();
        let held: Vec<OpeningIndex> =
            (0..job.survey.openings.len()).filter(|&opening| is_held(job, opening)).collect();
        if !held.is_empty() {
            parts.push(self.by_like(ledger, job, &like, "held openings".to_owned(), held));
        }
        // An opening that two prices are missing of is counted with the first.
        let mut counted = vec![false; self.whole.len()];
        for (_, gap) in ledger.gaps() {
            let (what, openings) = (gap.lacking.to_string(), gap.openings.iter().copied());
            parts.push(if gap.section == Section::Blinds {
                let new = openings.filter(|&opening| !std::mem::replace(&mut counted[opening], true));
                self.by_like(ledger, job, &like, what, new.collect())
            } else {
                let openings = openings.collect();
                RangePart { what, reason: "no price to go by", openings, low: Decimal::ZERO, high: None }
            });
        }
        parts
    }

    /// What the cheapest and the dearest priced opening come to: by kind, and of all.
    fn like(&self, job: Job<'_>) -> (BTreeMap<Kind, Bounds>, Option<Bounds>) {
        let (mut by_kind, mut of_all) = (BTreeMap::new(), None);
        for (opening, quantity, _) in job.covered().filter(|&(opening, ..)| !self.unpriced[opening]) {
            let each = self.whole[opening] / Decimal::from(quantity.max(1));
            let widened = |(low, high): Bounds| (low.min(each), high.max(each));
            of_all = Some(of_all.map_or((each, each), widened));
            if let Some(kind) = kind_of(job, opening) {
                let bounds = by_kind.get(&kind).copied().map_or((each, each), widened);
                by_kind.insert(kind, bounds);
            }
        }
        (by_kind, of_all)
    }

    fn by_like(
        &self,
        ledger: &Ledger,
        job: Job<'_>,
        (by_kind, of_all): &(BTreeMap<Kind, Bounds>, Option<Bounds>),
        what: String,
        openings: Vec<OpeningIndex>,
    ) -> RangePart {
        let more = |opening: OpeningIndex, each: Decimal| {
            (each * job.quantity(opening) - self.whole[opening]).max(Decimal::ZERO)
        };
        let (mut low, mut high) = (Decimal::ZERO, Some(Decimal::ZERO));
        for &opening in &openings {
            let of_kind = kind_of(job, opening).and_then(|kind| by_kind.get(&kind).copied());
            let bounds = of_kind.or(*of_all);
            low += bounds.map_or(Decimal::ZERO, |(cheapest, _)| more(opening, cheapest));
            high = high.zip(bounds).map(|(high, (_, dearest))| high + more(opening, dearest));
        }
        let reason = match high {
            Some(_) => "cheapest and dearest similar openings",
            None => "no similar opening to go by",
        };
        RangePart {
            what,
            reason,
            openings,
            low: ledger.round(low),
            high: high.map(|high| ledger.round(high)),
        }
    }

    /// Blinds whose size is not sure yet, by what it comes from.
    fn unsure_sizes(&self, ledger: &Ledger, job: Job<'_>) -> Vec<RangePart> {
        let mut parts: BTreeMap<Unsure, (Vec<OpeningIndex>, Decimal, Option<Decimal>)> = BTreeMap::new();
        let mut enter = |opening: OpeningIndex, unsure: Unsure, less: Decimal, more: Option<Decimal>| {
            let (openings, low, high) =
                parts.entry(unsure).or_insert_with(|| (Vec::new(), Decimal::ZERO, Some(Decimal::ZERO)));
            openings.push(opening);
            *low += self.burden.whole(less, less);
            *high = high.zip(more).map(|(high, more)| high + self.burden.whole(more, more));
        };
        match job.rules.project.cost_basis {
            CostBasis::Buy => {
                let paid = Decimal::ONE - job.rules.rates.discount.unwrap_or_default() / Decimal::ONE_HUNDRED;
                for (opening, blinds, line) in open_blinds(job) {
                    let Some((unsure, (smallest, largest))) = Unsure::of(job, opening, line.key.size) else {
                        continue;
                    };
                    let Some(now) = price_each(line, job.rules) else { continue };
                    let made = |size: Size| {
                        let price = job.rules.prices.made_blind(&line.key.product)?;
                        price.of(size.width, size.drop, job.rules.project.currency)
                    };
                    let paid = paid * Decimal::from(blinds);
                    let less = made(smallest).map_or(Decimal::ZERO, |price| (price - now).min(Decimal::ZERO));
                    let more = made(largest).map(|price| (price - now).max(Decimal::ZERO) * paid);
                    enter(opening, unsure, less * paid, more);
                }
            }
            CostBasis::Make => {
                for (opening, quantity, blind) in job.covered() {
                    let size = blind.sourced.size;
                    let Some((unsure, (smallest, largest))) =
                        Unsure::of(job, opening, size).filter(|_| self.open[opening] > 0)
                    else {
                        continue;
                    };
                    let area = |size: Size| size.width.meters() * size.drop.meters();
                    let of_open = Decimal::from(self.open[opening]) / Decimal::from(quantity.max(1));
                    let materials = self.materials[opening] * of_open;
                    let by = |other: Size| materials * (area(other) / area(size) - Decimal::ONE);
                    enter(opening, unsure, by(smallest), Some(by(largest)));
                }
            }
        }
        let part =
            |(unsure, (mut openings, low, high)): (Unsure, (Vec<OpeningIndex>, Decimal, Option<_>))| {
                openings.sort_unstable();
                openings.dedup();
                let high = high.map(|high| ledger.round(high));
                RangePart {
                    what: unsure.what().to_owned(),
                    reason: unsure.reason(),
                    openings,
                    low: ledger.round(low),
                    high,
                }
            };
        parts.into_iter().map(part).collect()
    }
}

/// Blinds that are still to order and that we pay: opening, how many, line.
fn open_blinds<'a>(job: Job<'a>) -> impl Iterator<Item = (OpeningIndex, u64, &'a OrderLine)> {
    let lines = job.order.lines.iter().filter(move |line| paid_by_another(line, job.frozen).is_none());
    lines.flat_map(|line| {
        let is_open = |seat: &Seat| seat.state.is_none();
        line.of_openings(is_open).map(move |(opening, blinds)| (opening, blinds, line))
    })
}

/// Why a size is not sure yet.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Unsure {
    Typical,
    Drawing,
    Rough,
    Floor,
}

impl Unsure {
    /// Why, with the smallest and the largest size within the product's limits; `None` for a size that
    /// is sure.
    fn of(job: Job<'_>, opening: OpeningIndex, size: Size) -> Option<(Unsure, (Size, Size))> {
        let facts = job.survey.openings.get(opening)?.facts.as_ref()?;
        let sizing = &job.blinds.get(opening)?.as_ref()?.sizing;
        let unsure = match facts.source {
            SizeSource::Typical => Unsure::Typical,
            SizeSource::Drawing => Unsure::Drawing,
            SizeSource::Rough => Unsure::Rough,
            SizeSource::Tape if sizing.release == Release::Provisional => Unsure::Floor,
            SizeSource::Tape => return None,
        };
        let by = match unsure {
            Unsure::Typical | Unsure::Floor => Length::inches(1),
            Unsure::Drawing => Length::inches(2),
            Unsure::Rough => Length::inches(3),
        };
        let cover = &sizing.product.cover;
        let less = |from: Length, minimum: Length| (from - by).max(minimum).min(from);
        let more = |from: Length, maximum: Length| (from + by).min(maximum).max(from);
        let lower = less(size.drop, *cover.least_drop);
        if unsure == Unsure::Floor {
            return Some((unsure, (Size { drop: lower, ..size }, size)));
        }
        let smallest = Size { width: less(size.width, *cover.least_width), drop: lower };
        let largest =
            Size { width: more(size.width, *cover.most_width), drop: more(size.drop, *cover.most_drop) };
        Some((unsure, (smallest, largest)))
    }

    const fn what(self) -> &'static str {
        match self {
            Unsure::Typical => "sizes of a typical opening",
            Unsure::Drawing => "sizes from a drawing",
            Unsure::Rough => "sizes of the rough opening",
            Unsure::Floor => "floor not laid, thickness not known",
        }
    }

    const fn reason(self) -> &'static str {
        match self {
            Unsure::Typical => "width and drop up to 1 in (25.4 mm) smaller or larger",
            Unsure::Drawing => "width and drop up to 2 in (50.8 mm) smaller or larger",
            Unsure::Rough => "width and drop up to 3 in (76.2 mm) smaller or larger",
            Unsure::Floor => "drop up to 1 in (25.4 mm) smaller",
        }
    }
}

/// Openings, by quantity, that are settled, and all of them.
fn settled(ledger: &Ledger, job: Job<'_>, open: &[u64]) -> (u64, u64) {
    let mut priced = vec![true; job.survey.openings.len()];
    for (_, gap) in ledger.gaps() {
        gap.openings.iter().for_each(|&opening| priced[opening] = false);
    }
    let is_main = |section, from| section == Section::Blinds || from == QuantityFrom::CutList;
    for entered in ledger.lines() {
        let line = &entered.line;
        if line.rate_from == RateFrom::Example && is_main(line.section, line.quantity_from) {
            entered.parts.iter().for_each(|&(opening, _)| priced[opening] = false);
        }
    }
    let (mut settled, mut all) = (0, 0);
    for (opening, surveyed) in job.survey.openings.iter().enumerate() {
        let quantity = u64::from(surveyed.who.quantity);
        all += quantity;
        let Some(blind) = job.blinds.get(opening).and_then(Option::as_ref) else { continue };
        let is_taped = surveyed.facts.as_ref().is_some_and(|facts| facts.source == SizeSource::Tape);
        let is_sure = open[opening] == 0 || is_taped && blind.sizing.release == Release::Make;
        if priced[opening] && is_sure {
            settled += quantity;
        }
    }
    (settled, all)
}
