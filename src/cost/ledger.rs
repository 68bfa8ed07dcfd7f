//! The cost as it grows: its lines, what each opening carries of them, and what has no price.

use std::collections::BTreeSet;

use rust_decimal::Decimal;

use super::queries::{CostQuery, Lacking};
use super::rate::Rate;
use super::{AmountFormula, CostLine, MINUTES_AN_HOUR, Section};
use crate::money::Currency;
use crate::order::Order;
use crate::place::CellRef;
use crate::query::{OpeningIndex, Query, Severity};
use crate::rules::{Project, TaxOn};

/// Direct cost being entered.
pub(super) struct Ledger {
    currency: Currency,
    tax_on: TaxOn,
    lines: Vec<CostLine>,
    carried: Vec<Decimal>,
    gaps: Vec<Gap>,
}

/// Something without a price, and the openings that need it.
pub(super) struct Gap {
    /// What is lacking.
    pub lacking: Lacking,
    /// The section in which it is.
    pub section: Section,
    /// The cell that would give it, if there is one.
    pub at: Option<CellRef>,
    /// The openings.
    pub openings: BTreeSet<OpeningIndex>,
}

/// A line before it is priced.
pub(super) struct Entry {
    pub section: Section,
    pub item: String,
    pub unit: &'static str,
    pub basis: &'static str,
    pub quantity: Option<Decimal>,
    pub rate: Rate,
    pub formula: AmountFormula,
}

impl Ledger {
    /// An empty ledger for a survey of so many openings.
    pub fn new(openings: usize, project: &Project) -> Ledger {
        Ledger {
            currency: project.currency,
            tax_on: project.tax_on,
            lines: Vec::new(),
            carried: vec![Decimal::ZERO; openings],
            gaps: Vec::new(),
        }
    }

    /// Rounds to the minor unit.
    pub fn round(&self, amount: Decimal) -> Decimal {
        self.currency.round(amount)
    }

    /// Enters a line; its amount is rounded here, once, and unknown if its quantity or rate is.
    pub fn enter(&mut self, entry: Entry) {
        let Entry { section, item, unit, basis, quantity, rate, formula } = entry;
        let amount = quantity.zip(rate.price).map(|(quantity, price)| match formula {
            AmountFormula::Product | AmountFormula::ShareOf(_) => self.round(quantity * price),
            AmountFormula::MinutesAtHourlyRate => self.round(quantity * price / MINUTES_AN_HOUR),
        });
        self.lines.push(CostLine {
            section,
            item,
            unit,
            basis,
            quantity,
            rate: rate.price,
            formula,
            amount,
            taxable: self.tax_on == TaxOn::All || section.is_material(),
            rate_from: rate.origin(),
        });
    }

    /// Notes what an opening carries of a line, unrounded, for all of its quantity.
    pub fn carry(&mut self, opening: OpeningIndex, amount: Decimal) {
        if let Some(carried) = self.carried.get_mut(opening) {
            *carried += amount;
        }
    }

    /// Notes that these openings need something that has no price.
    pub fn lack(
        &mut self,
        section: Section,
        lacking: Lacking,
        at: Option<CellRef>,
        openings: impl IntoIterator<Item = OpeningIndex>,
    ) {
        let known = self.gaps.iter().position(|gap| gap.lacking == lacking && gap.at == at);
        let place = known.unwrap_or_else(|| {
            self.gaps.push(Gap { lacking, section, at, openings: BTreeSet::new() });
            self.gaps.len() - 1
        });
        self.gaps[place].openings.extend(openings);
    }

    /// What each opening carries of the direct cost, unrounded; one place for each opening.
    pub fn carried(&self) -> &[Decimal] {
        &self.carried
    }

    /// What has no price, in the order of entry.
    pub fn gaps(&self) -> &[Gap] {
        &self.gaps
    }

    /// The direct cost as far as it is known.
    pub fn known(&self) -> Decimal {
        self.lines.iter().filter_map(|line| line.amount).sum()
    }

    /// One check for each thing without a price.
    pub fn queries(&self, order: &Order) -> Vec<Query> {
        let line_of = |openings: &BTreeSet<OpeningIndex>| {
            order
                .lines
                .iter()
                .filter(|line| line.openings.iter().any(|opening| openings.contains(opening)))
                .count()
        };
        self.gaps
            .iter()
            .map(|gap| {
                let wording = CostQuery { lacking: gap.lacking.clone(), lines: line_of(&gap.openings) };
                Query::new(Severity::Check, &wording, gap.at)
            })
            .collect()
    }

    /// The lines, section by section.
    pub fn into_lines(self) -> Vec<CostLine> {
        let mut lines = self.lines;
        lines.sort_by_key(|line| line.section);
        lines
    }
}
