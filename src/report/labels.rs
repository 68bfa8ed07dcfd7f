//! Which openings an order line goes to, numbered as its labels are, and totals by color.

use std::collections::BTreeMap;

use super::Report;
use crate::order::OrderLine;
use crate::query::OpeningIndex;
use crate::sizing::Release;

/// The labels of one opening's blinds: `3 to 5 of 12` of its line, both ends included.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Labels {
    /// The order line.
    pub line: usize,
    /// The opening.
    pub opening: OpeningIndex,
    /// Number of its first blind within the line, from 1.
    pub first: u64,
    /// Number of its last.
    pub last: u64,
    /// Blinds of the line.
    pub of: u64,
}

impl Labels {
    /// `1 of 3`, or `2 to 3 of 3`.
    pub fn words(&self) -> String {
        let Labels { first, last, of, .. } = self;
        if first == last { format!("{first} of {of}") } else { format!("{first} to {last} of {of}") }
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
    /// The labels of a line's openings, in survey order.
    pub fn labels<'a>(&'a self, line: &'a OrderLine) -> impl Iterator<Item = Labels> + Clone + 'a {
        line.openings.iter().scan(0, |done, &opening| {
            let first = *done + 1;
            *done += u64::from(self.survey.openings[opening].who.quantity);
            Some(Labels { line: line.line, opening, first, last: *done, of: line.quantity })
        })
    }

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
            match (line.key.release, line.key.stock) {
                (Release::Provisional, _) => total.provisional += line.quantity,
                (Release::Make, Some(_)) => total.from_stock += line.quantity,
                (Release::Make, None) => total.to_make += line.quantity,
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
