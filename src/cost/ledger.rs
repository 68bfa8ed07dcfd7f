//! The cost as it grows: its lines, what each opening carries of them, and what has no price.

use std::borrow::Cow;
use std::collections::{BTreeSet, HashSet};

use rust_decimal::Decimal;

use super::queries::Lacking;
use super::rate::Rate;
use super::typed::Typed;
use super::{AmountFormula, Commitment, CostLine, Input, Measure, QuantityFrom, RateOf, Section};
use crate::money::Currency;
use crate::order::Order;
use crate::place::CellRef;
use crate::query::{OpeningIndex, Query};
use crate::rules::{Rules, SHARE, TaxOn, known_as};

/// Direct cost being entered.
pub(super) struct Ledger {
    currency: Currency,
    tax_on: TaxOn,
    lines: Vec<Entered>,
    /// Lasting names of the lines. Looked up only.
    names: HashSet<String>,
    inputs: Vec<Input>,
    /// What comes off the section of blinds, as far as it is known: 0.05 for 5 %.
    discount: Decimal,
    carried: Vec<Decimal>,
    gaps: Vec<Gap>,
    asked: Vec<Query>,
    typed: Typed,
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

/// A line that was entered.
pub(super) struct Entered {
    /// The line.
    pub line: CostLine,
    /// What openings take of it.
    pub parts: Parts,
    /// The gap that leaves it without an amount, by position.
    gap: Option<usize>,
}

/// What openings take of a line's quantity in the line's own measure, unrounded, each for all of its
/// own quantity. What no opening takes is the project's.
pub(super) type Parts = Vec<(OpeningIndex, Decimal)>;

/// A line before it is priced.
pub(super) struct Entry {
    pub section: Section,
    pub item: String,
    pub unit: &'static str,
    pub basis: Cow<'static, str>,
    pub quantity: Option<Decimal>,
    pub quantity_from: QuantityFrom,
    pub rate: Rate,
    pub formula: AmountFormula,
    pub shared_in: Measure,
    pub parts: Parts,
    /// Whether it is ordered, still open, or made again.
    pub commitment: Commitment,
    /// What leaves it without an amount.
    pub gap: Option<GapId>,
}

/// A gap that was noted.
#[derive(Clone, Copy)]
pub(super) struct GapId(usize);

impl Ledger {
    /// An empty ledger for a survey of so many openings.
    pub fn new(openings: usize, rules: &Rules) -> Ledger {
        Ledger {
            currency: rules.project.currency,
            tax_on: rules.project.tax_on,
            lines: Vec::new(),
            names: HashSet::new(),
            inputs: Vec::new(),
            discount: rules.rates.discount.unwrap_or_default() / Decimal::ONE_HUNDRED,
            carried: vec![Decimal::ZERO; openings],
            gaps: Vec::new(),
            asked: Vec::new(),
            typed: Typed::new(rules),
        }
    }

    /// Rounds to the minor unit.
    pub fn round(&self, amount: Decimal) -> Decimal {
        self.currency.round(amount)
    }

    /// The place of an input, entered once under its name.
    pub fn input(&mut self, name: String, unit: &'static str, rate: &Rate) -> usize {
        let known = self.inputs.iter().position(|input| input.name == name && input.unit == unit);
        known.unwrap_or_else(|| {
            let printed = self.typed.printed_rate(&known_as(&name, unit), rate.price);
            let (value, from) = (rate.price, rate.origin());
            self.inputs.push(Input { name, unit: unit.into(), value, printed, from });
            self.inputs.len() - 1
        })
    }

    /// Enters a line, with what was typed for it; its amount is rounded here, once, and unknown if its
    /// quantity or rate is.
    pub fn enter(&mut self, entry: Entry) {
        let Entry { section, item, unit, basis, quantity: counted, quantity_from, rate: listed, .. } = entry;
        let Entry { formula, shared_in, parts, commitment, gap, .. } = entry;
        let known_as = self.name_of(&item, unit, formula);
        let rate = self.typed.rate(&known_as, listed);
        let quantity = match formula {
            AmountFormula::ShareOf(_) => counted,
            AmountFormula::Product | AmountFormula::MinutesAtHourlyRate => {
                self.typed.quantity(&known_as, counted)
            }
        };
        let amount =
            quantity.zip(rate.price).map(|(quantity, price)| self.round(formula.of(quantity, price)));
        let line = CostLine {
            section,
            item,
            unit,
            basis,
            printed_quantity: counted,
            quantity,
            quantity_from,
            rate: rate.price,
            printed_rate: self.typed.printed_rate(&known_as, listed.price),
            known_as,
            rate_of: rate.of,
            shared_in,
            formula,
            amount,
            commitment,
            taxable: self.tax_on == TaxOn::All || section.is_material(),
            rate_from: rate.origin(),
        };
        if let Some(price) = self.rate_of_parts(&line) {
            for &(opening, part) in &parts {
                if let Some(carried) = self.carried.get_mut(opening) {
                    *carried += formula.of(part, price);
                }
            }
        }
        // What was typed may fill a gap.
        let gap = gap.filter(|_| line.amount.is_none());
        self.lines.push(Entered { line, parts, gap: gap.map(|GapId(gap)| gap) });
    }

    /// The lasting name of a line. The minutes that a time is reckoned with may change, and do not stand
    /// in it; of lines of one name the later ones are numbered.
    fn name_of(&mut self, item: &str, unit: &str, formula: AmountFormula) -> String {
        let name = match formula {
            AmountFormula::Product => known_as(item, unit),
            AmountFormula::MinutesAtHourlyRate => known_as(item.split(", ").next().unwrap_or(item), unit),
            AmountFormula::ShareOf(_) => known_as(item, SHARE),
        };
        let numbered = (2..).map(|number| format!("{number}: {name}"));
        let mut names = std::iter::once(name.clone()).chain(numbered);
        let name = names.find(|name| !self.names.contains(name)).unwrap_or(name);
        self.names.insert(name.clone());
        name
    }

    /// What one of the measure costs in which openings take a line's parts, unrounded: of blinds, what
    /// the discount leaves of it; of minutes, an hour.
    pub fn rate_of_parts(&self, line: &CostLine) -> Option<Decimal> {
        let each = line.rate? / line.shared_in.in_one;
        Some(if line.section == Section::Blinds { each * (Decimal::ONE - self.discount) } else { each })
    }

    /// Puts the lines in the order of their sections.
    pub fn sort_by_section(&mut self) {
        self.lines.sort_by_key(|entered| entered.line.section);
    }

    /// The lines, each with what openings take of it.
    pub fn lines(&self) -> &[Entered] {
        &self.lines
    }

    /// The lines without an amount for want of a gap's price, by position.
    pub fn lines_lacking(&self, gap: usize) -> Vec<usize> {
        let lines = self.lines.iter().enumerate();
        lines.filter(|(_, entered)| entered.gap == Some(gap)).map(|(place, _)| place).collect()
    }

    /// Notes that these openings need something that has no price.
    pub fn lack(
        &mut self,
        section: Section,
        lacking: Lacking,
        at: Option<CellRef>,
        openings: impl IntoIterator<Item = OpeningIndex>,
    ) -> GapId {
        let known = self.gaps.iter().position(|gap| gap.lacking == lacking && gap.at == at);
        let place = known.unwrap_or_else(|| {
            self.gaps.push(Gap { lacking, section, at, openings: BTreeSet::new() });
            self.gaps.len() - 1
        });
        self.gaps[place].openings.extend(openings);
        GapId(place)
    }

    /// Asks something else than a price.
    pub fn ask(&mut self, query: Query) {
        self.asked.push(query);
    }

    /// What each opening carries of the direct cost whose rates are known, unrounded; one place for
    /// each opening.
    pub fn carried(&self) -> &[Decimal] {
        &self.carried
    }

    /// What has no price, by position, in the order of entry.
    pub fn gaps(&self) -> impl Iterator<Item = (usize, &Gap)> {
        let lacked = |place: usize| self.lines.iter().any(|entered| entered.gap == Some(place));
        self.gaps.iter().enumerate().filter(move |(place, _)| lacked(*place))
    }

    /// What became of what was typed for lines. What is typed for no line any more is asked about, but a
    /// price that the rules have goes on as an input.
    pub fn of_typed(&mut self) -> Vec<Query> {
        let lines = self.lines.iter().map(|entered| &entered.line);
        let own = lines.filter(|line| line.rate_of == RateOf::Itself).map(|line| line.known_as.clone());
        let shown: BTreeSet<String> = own.chain(self.inputs.iter().map(Input::known_as)).collect();
        self.inputs.extend(self.typed.inputs_beside(&shown));
        self.typed.queries()
    }

    /// One check for each thing without a price, then what else was asked.
    pub fn queries(&self, order: &Order) -> Vec<Query> {
        let line_of = |openings: &BTreeSet<OpeningIndex>| {
            order
                .lines
                .iter()
                .filter(|line| line.openings().iter().any(|opening| openings.contains(opening)))
                .count()
        };
        self.gaps()
            .map(|(_, gap)| {
                let query = Query::new(&gap.lacking, gap.at);
                let lines = line_of(&gap.openings);
                let plural = if lines == 1 { "" } else { "s" };
                Query {
                    message: format!("{} (needed by {lines} order line{plural})", query.message),
                    ..query
                }
            })
            .chain(self.asked.iter().cloned())
            .collect()
    }

    /// The lines and the inputs.
    pub fn into_parts(self) -> (Vec<CostLine>, Vec<Input>) {
        (self.lines.into_iter().map(|entered| entered.line).collect(), self.inputs)
    }
}
