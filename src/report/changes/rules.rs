//! Rules that have another value, are new, or are gone. Of several of one name, the first is the first.

use std::collections::{HashMap, VecDeque};

use super::cause::Cause;
use super::memory::{Memory, RuleThen};
use super::{About, Change};
use crate::rules::columns::prices::PRICES;
use crate::rules::columns::products::PRODUCTS;
use crate::rules::columns::project::{COLUMNS, PROJECT};
use crate::rules::columns::stock_sizes::STOCK_SIZES;
use crate::rules::columns::{bars::BARS, offcuts::OFFCUTS, rates::RATES};
use crate::schema::Kind;

/// A rule that differs.
#[derive(Clone, Copy)]
pub(super) struct Differs<'m> {
    before: Option<RuleThen<'m>>,
    now: Option<RuleThen<'m>>,
}

impl<'m> RuleThen<'m> {
    /// Whether it is that rule of that sheet.
    pub fn is(&self, table: &str, rule: &str) -> bool {
        self.table == table && self.rule == rule
    }

    fn name(&self) -> [&'m str; 3] {
        [self.table, self.item, self.rule]
    }

    /// `Products: louver-89, Side clearance`, `Project: Revision`.
    fn in_words(&self) -> String {
        let [table, item, rule] = self.name();
        if item.is_empty() { format!("{table}: {rule}") } else { format!("{table}: {item}, {rule}") }
    }
}

impl Differs<'_> {
    /// One of both, where there is one.
    fn any(&self) -> Option<&RuleThen<'_>> {
        self.now.as_ref().or(self.before.as_ref())
    }

    /// Whether sizes may follow from it.
    pub fn may_size(&self) -> bool {
        self.any().is_some_and(|rule| match rule.table {
            table if [PRICES.sheet, RATES.sheet, BARS.sheet, OFFCUTS.sheet].contains(&table) => false,
            table if table == PROJECT.sheet => {
                let item = PROJECT.columns.iter().find(|column| column.name == rule.rule);
                let only_told = [COLUMNS.units.slot, COLUMNS.paper.slot];
                item.is_some_and(|item| {
                    let decides =
                        matches!(item.kind, Kind::Choice(_) | Kind::Length { .. } | Kind::LengthOr { .. });
                    decides && !only_told.contains(&item.slot)
                })
            }
            _ => true,
        })
    }

    /// Whether it says how far sizes may move to be shared.
    pub fn is_of_merging(&self) -> bool {
        self.any().is_some_and(|rule| rule.is(PROJECT.sheet, COLUMNS.merge_sizes.name))
    }

    /// Whether prices may follow from it.
    pub fn may_price(&self) -> bool {
        self.any().is_some_and(|rule| {
            [PRICES.sheet, PRODUCTS.sheet, STOCK_SIZES.sheet].contains(&rule.table)
                || rule.is(PROJECT.sheet, COLUMNS.cost_basis.name)
                || rule.is(PROJECT.sheet, COLUMNS.currency.name)
        })
    }

    /// Its row.
    pub fn change(&self) -> Change {
        let sides = [self.before, self.now];
        let built_in = sides.iter().flatten().all(|rule| rule.built_in);
        let value = |side: Option<RuleThen<'_>>| side.map_or_else(String::new, |rule| rule.value.to_owned());
        Change {
            fact: self.any().map_or_else(String::new, RuleThen::in_words),
            before: value(self.before),
            now: value(self.now),
            cause: Some(if built_in { Cause::Program } else { Cause::Survey }),
            ..Change::about(About::Rule)
        }
    }
}

/// The rules that differ: those of now in their order, then those that are gone.
pub(super) fn between<'m>(then: &Memory<'m>, now: &Memory<'m>) -> Vec<Differs<'m>> {
    // Looked up only, never walked.
    let mut known: HashMap<[&str; 3], VecDeque<usize>> = HashMap::new();
    for (index, rule) in then.rules.iter().enumerate() {
        known.entry(rule.name()).or_default().push_back(index);
    }
    let mut stayed = vec![false; then.rules.len()];
    let mut differs = Vec::new();
    for rule in &now.rules {
        let before = known.get_mut(&rule.name()).and_then(VecDeque::pop_front);
        if let Some(before) = before {
            stayed[before] = true;
        }
        let before = before.map(|before| then.rules[before]);
        if before.is_none_or(|before| before.value != rule.value) {
            differs.push(Differs { before, now: Some(*rule) });
        }
    }
    let gone = then.rules.iter().zip(stayed).filter(|(_, stayed)| !stayed);
    differs.extend(gone.map(|(rule, _)| Differs { before: Some(*rule), now: None }));
    differs
}
