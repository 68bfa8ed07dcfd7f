//! Why two runs of one survey differ: opening by opening, in blinds of which something is another, and in
//! what holds openings.

use std::collections::{BTreeMap, BTreeSet};

use super::figures::Figures;
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
        let more =
            |was: u64, is: u64, more: &str, fewer: &str, causes: &mut Vec<String>| match is.abs_diff(was) {
                0 => {}
                count if is > was => causes.push(format!("{count} {more}")),
                count => causes.push(format!("{count} {fewer}")),
            };
        more(own.held, others.held, "more openings held", "fewer openings held", &mut causes);
        let held = other.stops.iter().map(|(what, count)| {
            (count.saturating_sub(self.stops.get(what).copied().unwrap_or_default()), what)
        });
        let mut held: Vec<(u64, &String)> = held.filter(|(count, _)| *count > 0).collect();
        held.sort_by(|(one, a), (another, b)| another.cmp(one).then(a.cmp(b)));
        causes.extend(held.into_iter().take(MOST_STOPS).map(|(count, what)| format!("{count} held: {what}")));
        more(own.provisional, others.provisional, "more provisional", "fewer provisional", &mut causes);

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
        more(own.sizes, others.sizes, "sizes more", "sizes fewer", &mut causes);
        if let (Some(was), Some(is)) = (own.lead_days, others.lead_days) {
            more(was.into(), is.into(), "days later", "days sooner", &mut causes);
        }
        causes
    }
}
