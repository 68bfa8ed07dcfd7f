//! Which openings an order line goes to, numbered as its labels are, and totals by color.

use std::collections::{BTreeMap, BTreeSet};

use super::Report;
use crate::earlier::KeptBlind;
use crate::order::{OrderLine, Seat};
use crate::query::OpeningIndex;
use crate::schema::choices::Origin;
use crate::sizing::Release;

/// The labels of one opening's blinds: `3 to 5 of 12` of its line, both ends included.
#[derive(Clone, Copy, Debug)]
pub struct Labels<'r> {
    /// Number of its first blind within the line, from 1.
    pub first: u64,
    /// Number of its last.
    pub last: u64,
    /// Up to which number the line's labels count.
    pub of: u64,
    /// The opening; `None` if the survey has it no more.
    pub opening: Option<OpeningIndex>,
    /// The row of an ordered blind, of which a label is made and of nothing else.
    pub ordered: Option<&'r KeptBlind>,
}

impl Labels<'_> {
    /// `1 of 3`, or `2 to 3 of 3`.
    pub fn words(&self) -> String {
        let Labels { first, last, of, .. } = self;
        if first == last { format!("{first} of {of}") } else { format!("{first} to {last} of {of}") }
    }
}

impl Report<'_> {
    /// Lines of earlier runs that nothing is on any more, by number.
    pub fn lines_gone(&self) -> Vec<usize> {
        let Some(earlier) = self.frozen.earlier else { return Vec::new() };
        let order = &self.order;
        let lines = order.lines.iter().chain(&order.ended).map(|line| line.line);
        let here: BTreeSet<usize> = lines.chain(self.spares.iter().map(|spare| spare.line)).collect();
        let before = earlier.blinds.iter().map(|blind| blind.number.line);
        let before = before.chain(earlier.spares.iter().map(|spares| spares.line));
        let gone: BTreeSet<usize> =
            before.chain(earlier.lines_gone.iter().copied()).filter(|line| !here.contains(line)).collect();
        gone.into_iter().collect()
    }

    /// The labels of a line's openings, by their numbers; cancelled blinds have none.
    pub fn labels<'a>(&'a self, line: &'a OrderLine) -> impl Iterator<Item = Labels<'a>> + Clone + 'a {
        let ordered = |seat: &Seat| seat.state.and(seat.kept).map(|kept| &self.frozen.blinds()[kept]);
        let from = move |seat: &Seat| ordered(seat).map(|kept| (&kept.opening, &kept.survey, &kept.revision));
        let is_alike = move |one: &Seat, next: &Seat| {
            one.counts() == next.counts()
                && one.opening == next.opening
                && from(one) == from(next)
                && one.last + 1 == next.first
        };
        let runs = line.seats.chunk_by(is_alike).filter(|run| run[0].counts());
        runs.map(move |run| Labels {
            first: run[0].first,
            last: run[run.len() - 1].last,
            of: line.of,
            opening: run[0].opening,
            ordered: ordered(&run[0]),
        })
    }
}

/// What is ordered of one product in one color.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ColorTotal<'r> {
    /// The product.
    pub product: &'r str,
    /// The color.
    pub color: &'r str,
    /// Blinds to make now.
    pub to_make: u64,
    /// Blinds to take from stock now.
    pub from_stock: u64,
    /// Blinds that are provisional.
    pub provisional: u64,
    /// Louvers of all of these.
    pub louvers: u64,
}

impl ColorTotal<'_> {
    /// Every blind of these.
    pub fn blinds(&self) -> u64 {
        self.to_make + self.from_stock + self.provisional
    }
}

impl Report<'_> {
    /// Blinds and louvers by product and color, in their alphabetical order.
    pub fn color_totals(&self) -> Vec<ColorTotal<'_>> {
        let mut totals: BTreeMap<(&str, &str), ColorTotal<'_>> = BTreeMap::new();
        for line in &self.order.lines {
            let (product, color): (&str, &str) = (&line.key.product, &line.key.color);
            let total = totals.entry((product, color)).or_insert(ColorTotal {
                product,
                color,
                to_make: 0,
                from_stock: 0,
                provisional: 0,
                louvers: 0,
            });
            match (line.key.release, line.key.origin) {
                (Release::Provisional, _) => total.provisional += line.quantity,
                (Release::Make, Origin::Stock) => total.from_stock += line.quantity,
                (Release::Make, Origin::Made) => total.to_make += line.quantity,
            }
            total.louvers += line.quantity * line.louvers.map_or(0, |louvers| u64::from(louvers.count));
        }
        totals.into_values().collect()
    }

    /// The same of the whole order, under the name `all`.
    pub fn order_total(&self) -> ColorTotal<'_> {
        let none =
            ColorTotal { product: "all", color: "", to_make: 0, from_stock: 0, provisional: 0, louvers: 0 };
        self.color_totals().into_iter().fold(none, |sum, total| ColorTotal {
            to_make: sum.to_make + total.to_make,
            from_stock: sum.from_stock + total.from_stock,
            provisional: sum.provisional + total.provisional,
            louvers: sum.louvers + total.louvers,
            ..sum
        })
    }
}
