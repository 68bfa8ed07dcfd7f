//! Rules that have another value, are new, or are gone. Of several of one name, the first is the first.

use std::collections::{HashMap, HashSet, VecDeque};

use super::cause::Cause;
use super::memory::{GivenBy, Memory, RuleThen};
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
    /// Where it comes from.
    pub cause: Cause,
}

impl<'m> RuleThen<'m> {
    /// Whether it is that rule of that sheet.
    pub fn is(&self, table: &str, rule: &str) -> bool {
        self.table == table && self.rule == rule
    }

    fn name(&self) -> [&'m str; 3] {
        [self.table, self.item, self.rule]
    }

    /// Whether sizes or built-in rules follow from an item of `Project`.
    fn decides(&self) -> bool {
        let item = PROJECT.columns.iter().find(|column| column.name == self.rule);
        item.is_some_and(|item| {
            let decides = matches!(item.kind, Kind::Choice(_) | Kind::Length { .. } | Kind::LengthOr { .. });
            decides && item.slot != COLUMNS.paper.slot
        })
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
            table if table == PROJECT.sheet => rule.decides() && !rule.is(table, COLUMNS.units.name),
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
        let value = |side: Option<RuleThen<'_>>| side.map_or_else(String::new, |rule| rule.value.to_owned());
        Change {
            fact: self.any().map_or_else(String::new, RuleThen::in_words),
            before: value(self.before),
            now: value(self.now),
            cause: Some(self.cause),
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
    let mut differs: Vec<Sides<'m>> = Vec::new();
    for rule in &now.rules {
        let before = known.get_mut(&rule.name()).and_then(VecDeque::pop_front);
        if let Some(before) = before {
            stayed[before] = true;
        }
        let before = before.map(|before| then.rules[before]);
        if before.is_none_or(|before| before.value != rule.value) {
            differs.push([before, Some(*rule)]);
        }
    }
    let gone = then.rules.iter().zip(stayed).filter(|(_, stayed)| !stayed);
    differs.extend(gone.map(|(rule, _)| [Some(*rule), None]));
    let surveyed = Surveyed::of(&differs, then.units != now.units);
    let with_cause = |sides| {
        let [before, now] = sides;
        Differs { before, now, cause: surveyed.cause(sides) }
    };
    differs.into_iter().map(with_cause).collect()
}

/// A rule as it was and as it is.
type Sides<'m> = [Option<RuleThen<'m>>; 2];

/// What the survey says otherwise, as far as built-in rules may come or go with it.
struct Surveyed<'m> {
    /// Sheets of which it gives, or gave, a rule that differs. Looked up only, never walked.
    sheets: HashSet<&'m str>,
    /// Whether an item of `Project` differs from which built-in rules follow, or the unit of the survey, which
    /// its headings may say too.
    project: bool,
}

impl<'m> Surveyed<'m> {
    fn of(differs: &[Sides<'m>], are_units_other: bool) -> Surveyed<'m> {
        let is_unit = |rule: &RuleThen<'_>| rule.is(PROJECT.sheet, COLUMNS.units.name);
        let is_any_unit = differs.iter().flatten().flatten().any(is_unit);
        let given = differs
            .iter()
            .filter_map(|sides| sides.iter().flatten().find(|rule| rule.given_by == GivenBy::Survey));
        let (of_project, of_sheets): (Vec<&RuleThen<'m>>, Vec<_>) =
            given.partition(|rule| rule.table == PROJECT.sheet);
        Surveyed {
            sheets: of_sheets.into_iter().map(|rule| rule.table).collect(),
            project: are_units_other || is_any_unit || of_project.into_iter().any(RuleThen::decides),
        }
    }

    /// Where a rule that differs comes from.
    fn cause(&self, [before, now]: Sides<'_>) -> Cause {
        let given_by = [before, now].map(|side| side.map(|rule| rule.given_by));
        match given_by {
            [_, Some(GivenBy::Typed)] | [Some(GivenBy::Typed), None | Some(GivenBy::Nobody)] => Cause::Answer,
            [Some(GivenBy::Survey), _] | [_, Some(GivenBy::Survey)] => Cause::Survey,
            _ => {
                let mut sides = [before, now].into_iter().flatten();
                let comes_with_survey = sides.any(|rule| self.sheets.contains(rule.table));
                if self.project || comes_with_survey { Cause::Survey } else { Cause::Program }
            }
        }
    }
}
