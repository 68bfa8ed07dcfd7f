//! Why two runs of one survey differ: opening by opening, in blinds of which something is another, and in
//! what holds openings.

use std::collections::{BTreeMap, BTreeSet};

use rust_decimal::Decimal;

use super::figures::Figures;
use crate::cost::Section;
use crate::query::{GatheredQuery, OpeningIndex, Severity};
use crate::report::Report;
use crate::schema::choices::Origin;
use crate::sizing::{Mount, Release, Size};
use crate::survey::Control;

/// What became of each opening, in short.
#[derive(Debug)]
pub(super) struct Outcome {
    /// One place for each opening; `None` where it is held.
    blinds: Vec<Option<Made>>,
    /// How many each is.
    quantities: Vec<u32>,
    /// Stops by what they say, with the openings that each holds.
    stops: BTreeMap<String, u64>,
}

/// A blind, by what tells a choice from another.
#[derive(Debug, PartialEq, Eq)]
struct Made {
    product: String,
    color: String,
    mount: Mount,
    control: Control,
    origin: Origin,
    size: Size,
    release: Release,
}

/// Stops that are named as causes.
const MOST_STOPS: usize = 3;

impl Outcome {
    /// What became of each opening of a run.
    pub fn of(report: &Report<'_>) -> Outcome {
        let made = report.blinds.iter().map(|blind| {
            blind.as_ref().map(|blind| Made {
                product: blind.sizing.product.name.to_string(),
                color: blind.sizing.color.to_string(),
                mount: blind.sizing.hung.mount(),
                control: blind.sizing.operation.control,
                origin: blind.sourced.supply.origin(),
                size: blind.sourced.size,
                release: blind.sizing.release,
            })
        });
        let quantity = |opening: &OpeningIndex| u64::from(report.survey.openings[*opening].who.quantity);
        let held = |query: &GatheredQuery| -> u64 {
            let openings: BTreeSet<OpeningIndex> =
                query.places.iter().filter_map(|place| place.opening).collect();
            openings.iter().map(quantity).sum()
        };
        let stops = report.queries.iter().filter(|query| query.severity == Severity::Stop);
        Outcome {
            blinds: made.collect(),
            quantities: report.survey.openings.iter().map(|opening| opening.who.quantity).collect(),
            stops: stops.map(|query| (query.message.clone(), held(query))).collect(),
        }
    }

    /// Why another run of the survey is not as this one.
    pub fn why(&self, other: &Outcome, own: &Figures, others: &Figures) -> Vec<String> {
        let mut causes = Vec::new();
        causes.extend(told(own.held, others.held, |count, more| {
            format!("{count} {} {} held", if more { "more" } else { "fewer" }, plural(count, "opening"))
        }));
        let held = other.stops.iter().map(|(what, count)| {
            (count.saturating_sub(self.stops.get(what).copied().unwrap_or_default()), what)
        });
        let mut held: Vec<(u64, &String)> = held.filter(|(count, _)| *count > 0).collect();
        held.sort_by(|(one, a), (another, b)| another.cmp(one).then(a.cmp(b)));
        causes.extend(held.into_iter().take(MOST_STOPS).map(|(count, what)| format!("{count} held: {what}")));
        causes.extend(told(own.provisional, others.provisional, |count, more| {
            format!("{count} {} provisional", if more { "more" } else { "fewer" })
        }));

        let pairs = || {
            let blinds = self.blinds.iter().zip(&other.blinds).zip(&self.quantities);
            blinds
                .filter_map(|((was, is), &quantity)| Some((was.as_ref()?, is.as_ref()?, u64::from(quantity))))
        };
        let count = |differs: &dyn Fn(&Made, &Made) -> bool| -> u64 {
            pairs().filter(|(was, is, _)| differs(was, is)).map(|(_, _, quantity)| quantity).sum()
        };
        let mut blinds = |count: u64, what: &str| match count {
            0 => {}
            1 => causes.push(format!("1 blind {what}")),
            count => causes.push(format!("{count} blinds {what}")),
        };
        blinds(count(&|was, is| was.product != is.product), "of another product");
        blinds(count(&|was, is| was.color != is.color), "of another color");
        for mount in super::figures::MOUNTS {
            let there = count(&|was, is| is.mount == mount && was.mount != mount);
            let word = match mount {
                Mount::Inside => "inside, not before",
                Mount::Outside => "outside, not before",
                Mount::Ceiling => "from the ceiling, not before",
            };
            blinds(there, word);
        }
        blinds(count(&|was, is| was.control != is.control), "operated another way");
        for (origin, what) in
            [(Origin::Stock, "from stock, not made"), (Origin::Made, "made, not from stock")]
        {
            blinds(count(&|was, is| is.origin == origin && was.origin != origin), what);
        }
        // What is of another product, mount or source has another size for that.
        let resized = |was: &Made, is: &Made| {
            was.size != is.size && (&was.product, was.mount, was.origin) == (&is.product, is.mount, is.origin)
        };
        blinds(count(&resized), "of another size");
        causes.extend(told(own.sizes, others.sizes, |count, more| {
            format!("{count} {} {}", plural(count, "size"), if more { "more" } else { "fewer" })
        }));
        if own.total.is_some() && others.total.is_none() {
            causes.push("its total is unknown: prices are missing".to_owned());
        }
        if let (Some(was), Some(is)) = (own.arrives, others.arrives)
            && own.lead_days == others.lead_days
        {
            causes.extend(told(0, is.days_since(was).unsigned_abs().into(), |count, _| {
                let when = if is > was { "later" } else { "sooner" };
                format!("arrives {count} {} {when}", plural(count, "day"))
            }));
        }
        if let (Some(was), Some(is)) = (own.lead_days, others.lead_days) {
            causes.extend(told(was.into(), is.into(), |count, more| {
                format!("{count} {} {}", plural(count, "day"), if more { "later" } else { "sooner" })
            }));
        }
        causes.extend(told(own.fitting_days, others.fitting_days, |count, more| {
            format!("{count} fitting {} {}", plural(count, "day"), if more { "more" } else { "fewer" })
        }));
        if self.blinds == other.blinds {
            causes.extend(priced_anew(own, others));
        }
        causes
    }
}

/// What costs another amount for the same blinds; `None` if nothing does.
fn priced_anew(own: &Figures, others: &Figures) -> Option<String> {
    let amount = |figures: &Figures, section: Section| -> Option<Option<Decimal>> {
        figures.sections.iter().find(|of| of.section == section).map(|of| of.amount)
    };
    let all: BTreeSet<Section> = own.sections.iter().chain(&others.sections).map(|of| of.section).collect();
    let differs = all.into_iter().filter(|&section| amount(own, section) != amount(others, section));
    let mut parts: Vec<&str> = differs.map(Section::word).collect();
    if own.tax != others.tax {
        parts.push("tax");
    }
    (!parts.is_empty()).then(|| format!("the same blinds, other costs: {}", parts.join(", ")))
}

/// By how much a count is another, in words; `None` if it is the same.
fn told(was: u64, is: u64, words: impl Fn(u64, bool) -> String) -> Option<String> {
    let count = is.abs_diff(was);
    (count > 0).then(|| words(count, is > was))
}

fn plural(count: u64, one: &str) -> String {
    if count == 1 { one.to_owned() } else { format!("{one}s") }
}
