//! Lines of the order that are new or gone, what is still to order of each, and prices of those that
//! stayed.
//!
//! A line is the same where its number is and its blinds are: two fit-outs of which neither took up the
//! other may have one number for different blinds.

use std::collections::{BTreeMap, BTreeSet};

use rust_decimal::Decimal;

use super::memory::{Blinds, Memory, SpareLine};
use super::place::PlaceIndex;
use super::typed::BLIND;
use super::{About, Both, Cause, Change, names, openings};
use crate::schema::blinds::{BLINDS, BlindState, STATE};
use crate::schema::choices::Release;

/// What is on a line.
enum OnLine<'b, 'm> {
    Blinds(Vec<&'b Blinds<'m>>),
    Spares(&'b SpareLine),
}

/// The lines of a memory, by number.
fn lines<'b, 'm>(memory: &'b Memory<'m>) -> BTreeMap<usize, OnLine<'b, 'm>> {
    let mut lines: BTreeMap<usize, OnLine> = BTreeMap::new();
    for blinds in &memory.blinds {
        match lines.entry(blinds.line).or_insert_with(|| OnLine::Blinds(Vec::new())) {
            OnLine::Blinds(on) => on.push(blinds),
            OnLine::Spares(_) => {}
        }
    }
    for spares in &memory.spares {
        lines.entry(spares.line).or_insert(OnLine::Spares(spares));
    }
    lines
}

impl<'b, 'm> OnLine<'b, 'm> {
    fn is_like(&self, other: &OnLine<'_, '_>) -> bool {
        match (self, other) {
            (OnLine::Blinds(one), OnLine::Blinds(other)) => {
                one.first().map(|blinds| blinds.sort) == other.first().map(|blinds| blinds.sort)
            }
            (OnLine::Spares(_), OnLine::Spares(_)) => true,
            _ => false,
        }
    }

    fn blinds(&self) -> &[&'b Blinds<'m>] {
        match self {
            OnLine::Blinds(on) => on,
            OnLine::Spares(_) => &[],
        }
    }

    /// Its openings, each once, in the order of its blinds.
    fn openings(&self) -> Vec<PlaceIndex> {
        let mut openings: Vec<PlaceIndex> = self.blinds().iter().filter_map(|blinds| blinds.at).collect();
        openings.dedup();
        openings
    }

    /// The first of its blinds that nobody has ordered, or the first of all.
    fn first_open(&self) -> Option<&'b Blinds<'m>> {
        let on = self.blinds();
        on.iter().find(|blinds| blinds.ordered.is_none()).or(on.first()).copied()
    }

    fn price(&self) -> Option<Decimal> {
        self.first_open()?.price
    }

    /// `3 blinds, 1200 mm x 1500 mm, louver-89 white, outside`, `24 spare louvers`.
    fn in_words(&self, both: &Both<'_, '_>, counts: impl Fn(&Blinds<'_>) -> bool) -> String {
        match self {
            OnLine::Blinds(on) => {
                let count = on.iter().filter(|blinds| counts(blinds)).map(|blinds| blinds.count()).sum();
                on.first().map_or_else(String::new, |first| both.counted(count, first))
            }
            OnLine::Spares(spares) => format!("{} spare louvers", spares.count),
        }
    }
}

/// Lines that are gone, those that are new, and what is to order of each, by their numbers.
pub(super) fn changes(both: &Both<'_, '_>) -> Vec<Change> {
    let (then, now) = (lines(both.then), lines(both.now));
    let numbers: BTreeSet<usize> = then.keys().chain(now.keys()).copied().collect();
    let asked = openings::asked_about(both);
    let mut changes = Vec::new();
    for number in numbers {
        let (before, after) = (then.get(&number), now.get(&number));
        let stayed = before.zip(after).is_some_and(|(before, after)| before.is_like(after));
        changes.extend(before.filter(|_| !stayed).map(|line| gone(both, number, line)));
        changes.extend(after.filter(|_| !stayed).map(|line| new(both, number, line)));
        changes.extend(
            before.zip(after).filter(|_| stayed).and_then(|(had, has)| shrunk(both, number, had, has)),
        );
        changes.extend(after.and_then(|line| to_order(both, number, line, stayed, &asked)));
    }
    changes
}

fn gone(both: &Both<'_, '_>, number: usize, line: &OnLine<'_, '_>) -> Change {
    let openings = line.openings();
    let now = openings.iter().map(|&then| {
        let still = both.pairs.after.get(&then);
        still.map_or(Some(Cause::Survey), |&now| both.causes.openings[now])
    });
    Change {
        opening: names(both.then, &openings),
        before: line.in_words(both, |_| true),
        line_before: Some(number),
        cause: both.causes.of_line(now),
        cost_before: line.price(),
        to_do: "do not order it; its number is not used again".into(),
        ..Change::about(About::LineGone)
    }
}

/// A line of which fewer blinds are to order, for an opening of it got one that was ordered for another.
fn shrunk(both: &Both<'_, '_>, number: usize, had: &OnLine<'_, '_>, has: &OnLine<'_, '_>) -> Option<Change> {
    let count = |line: &OnLine<'_, '_>| line.blinds().iter().map(|blinds| blinds.count()).sum::<u64>();
    let got_one = |opening: &PlaceIndex| !both.typed.came[*opening].is_empty();
    if count(has) >= count(had) || !had.openings().iter().any(got_one) {
        return None;
    }
    Some(Change {
        opening: names(both.now, &has.openings()),
        fact: BLIND.to_owned(),
        before: had.in_words(both, |_| true),
        now: has.in_words(both, |_| true),
        line_before: Some(number),
        line_now: Some(number),
        cause: Some(Cause::Answer),
        cost_before: had.price(),
        cost_now: has.price(),
        to_do: "order no more than that: an opening of it got a blind that was ordered for another".into(),
        ..Change::about(About::Fact)
    })
}

fn new(both: &Both<'_, '_>, number: usize, line: &OnLine<'_, '_>) -> Change {
    let openings = line.openings();
    let is_remake = line.blinds().iter().any(|blinds| blinds.remake_of.is_some());
    let of_openings = openings.iter().map(|&opening| both.causes.openings[opening]);
    Change {
        opening: names(both.now, &openings),
        now: line.in_words(both, |_| true),
        line_now: Some(number),
        cause: if is_remake { Some(Cause::Answer) } else { both.causes.of_line(of_openings) },
        cost_now: line.price(),
        ..Change::about(About::LineNew)
    }
}

/// What of a line is to order; `asked` are the openings of which somebody has to say first whether they have
/// a blind.
fn to_order(
    both: &Both<'_, '_>,
    number: usize,
    line: &OnLine<'_, '_>,
    stayed: bool,
    asked: &BTreeSet<PlaceIndex>,
) -> Option<Change> {
    let is_asked = |blinds: &Blinds<'_>| blinds.at.is_some_and(|opening| asked.contains(&opening));
    let is_open = |blinds: &Blinds<'_>| blinds.ordered.is_none() && !is_asked(blinds);
    let (openings, to_do) = match line {
        OnLine::Blinds(on) => {
            let first = on.iter().find(|blinds| is_open(blinds))?;
            let mut openings: Vec<PlaceIndex> =
                on.iter().filter(|blinds| is_open(blinds)).filter_map(|blinds| blinds.at).collect();
            openings.dedup();
            (openings, if first.release == Release::Make { order() } else { not_yet() })
        }
        OnLine::Spares(spares) if spares.state.is_none() => (Vec::new(), order()),
        OnLine::Spares(_) => return None,
    };
    Some(Change {
        opening: names(both.now, &openings),
        now: line.in_words(both, is_open),
        line_before: stayed.then_some(number),
        line_now: Some(number),
        cost_now: line.price(),
        to_do: to_do.into(),
        ..Change::about(About::ToOrder)
    })
}

fn order() -> String {
    format!("order it, then enter {} under {} on {}", BlindState::Ordered.word(), STATE.name, BLINDS.sheet)
}

fn not_yet() -> String {
    "do not order it yet: its openings have checks to clear".to_owned()
}

/// Lines that stayed and cost something else, by their numbers. What is ordered costs what it cost.
pub(super) fn prices(both: &Both<'_, '_>) -> Vec<Change> {
    let (then, now) = (lines(both.then), lines(both.now));
    let rows = now.iter().filter_map(|(number, after)| {
        let (before, open) = (then.get(number)?.first_open()?, after.first_open()?);
        let [cost_before, cost_now] =
            [before.price, open.price].map(|price| price.map(|price| both.now.rounded(price)));
        if open.ordered.is_some() || before.sort != open.sort || cost_before == cost_now {
            return None;
        }
        let in_words = |price: Option<Decimal>| {
            price.map_or_else(|| "not known".to_owned(), |price| both.now.in_words(price))
        };
        Some(Change {
            opening: names(both.now, &after.openings()),
            fact: "Price each".to_owned(),
            before: in_words(cost_before),
            now: in_words(cost_now),
            line_before: Some(*number),
            line_now: Some(*number),
            cause: Some(both.causes.of_price(before, open)),
            cost_before,
            cost_now,
            to_do: "tell whoever was given the earlier price".into(),
            ..Change::about(About::Price)
        })
    });
    rows.collect()
}
