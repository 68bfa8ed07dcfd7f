//! The cost as it grows: its lines, what each opening carries of them, and what has no price.

use std::collections::BTreeSet;

use rust_decimal::Decimal;

use super::queries::Lacking;
use super::rate::Rate;
use super::{AmountFormula, CostLine, QuantityFrom, Section};
use crate::money::Currency;
use crate::order::Order;
use crate::place::CellRef;
use crate::query::{OpeningIndex, Query};
use crate::rules::{Project, TaxOn};

/// Direct cost being entered.
pub(super) struct Ledger {
    currency: Currency,
    tax_on: TaxOn,
    lines: Vec<(CostLine, Parts)>,
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

/// What openings take of a line's quantity, unrounded, each for all of its own quantity. What no
/// opening takes is the project's.
pub(super) type Parts = Vec<(OpeningIndex, Decimal)>;

/// A line before it is priced.
pub(super) struct Entry {
    pub section: Section,
    pub item: String,
    pub unit: &'static str,
    pub basis: &'static str,
    pub quantity: Option<Decimal>,
    pub quantity_from: QuantityFrom,
    pub rate: Rate,
    pub formula: AmountFormula,
    pub parts: Parts,
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
        let Entry { section, item, unit, basis, quantity, quantity_from, rate, formula, parts } = entry;
        let amount =
            quantity.zip(rate.price).map(|(quantity, price)| self.round(formula.of(quantity, price)));
        if let Some(price) = rate.price {
            for &(opening, part) in &parts {
                if let Some(carried) = self.carried.get_mut(opening) {
                    *carried += formula.of(part, price);
                }
            }
        }
        let line = CostLine {
            section,
            item,
            unit,
            basis,
            quantity,
            quantity_from,
            rate: rate.price,
            formula,
            amount,
            taxable: self.tax_on == TaxOn::All || section.is_material(),
            rate_from: rate.origin(),
        };
        self.lines.push((line, parts));
    }

    /// Puts the lines in the order of their sections.
    pub fn sort_by_section(&mut self) {
        self.lines.sort_by_key(|(line, _)| line.section);
    }

    /// The lines, each with what openings take of it.
    pub fn lines(&self) -> &[(CostLine, Parts)] {
        &self.lines
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

    /// What each opening carries of the direct cost whose rates are known, unrounded; one place for
    /// each opening.
    pub fn carried(&self) -> &[Decimal] {
        &self.carried
    }

    /// What has no price, in the order of entry.
    pub fn gaps(&self) -> &[Gap] {
        &self.gaps
    }

    /// The direct cost as far as it is known.
    pub fn known(&self) -> Decimal {
        self.lines.iter().filter_map(|(line, _)| line.amount).sum()
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
                let query = Query::new(&gap.lacking, gap.at);
                let lines = line_of(&gap.openings);
                let plural = if lines == 1 { "" } else { "s" };
                Query {
                    message: format!("{} (needed by {lines} order line{plural})", query.message),
                    ..query
                }
            })
            .collect()
    }

    /// The lines alone.
    pub fn into_lines(self) -> Vec<CostLine> {
        self.lines.into_iter().map(|(line, _)| line).collect()
    }
}
