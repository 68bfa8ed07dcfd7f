//! The rows of the cost summary and the formulas in them, laid out before anything is written: the
//! summary too shows the total, and leads to it.

use rust_decimal::Decimal;

use super::layout::fixed;
use crate::cost::{AmountFormula, CostLine, Section};
use crate::report::Report;
use crate::report::expr::{Address, Expr, Formula, Range, Term};

/// Rows above the first cost row: title, two remarks and headings.
pub(super) const FIRST_ROW: u32 = 4;

/// Columns that formulas read, as the sheet has them.
pub(super) mod column {
    pub(in crate::workbook) const QUANTITY: u16 = 3;
    pub(in crate::workbook) const RATE: u16 = 5;
    pub(in crate::workbook) const AMOUNT: u16 = 6;
    pub(in crate::workbook) const KNOWN: u16 = 7;
}

/// What a row of the sheet holds.
#[derive(Clone, Copy)]
pub(super) enum Entry<'r> {
    /// A priced line.
    Line(&'r CostLine),
    /// The lines of a section together.
    Section(Section),
    /// Everything before tax.
    Subtotal,
    /// Tax on the taxable lines.
    Tax,
    /// Subtotal and tax.
    Total,
}

/// One row: what it holds and its live cells. A figure that is not known has no formula.
pub(super) struct CostRow<'r> {
    pub entry: Entry<'r>,
    /// The base of a share or of the tax; `None` where the quantity is a plain number.
    pub base: Option<Formula>,
    /// The amount; `None` if it is unknown.
    pub amount: Option<Formula>,
    /// The known part of an unknown sum.
    pub known: Option<Formula>,
}

/// Every row, in the order of the sheet.
pub(super) struct CostRows<'r> {
    rows: Vec<CostRow<'r>>,
    /// Values of the cells that formulas read: quantity, rate and amount of each row.
    values: Vec<[Option<Decimal>; 3]>,
    decimals: u32,
    tax_percent: Decimal,
}

impl<'r> CostRows<'r> {
    /// Lays the rows out from the top; a formula reads rows above it alone.
    pub(super) fn of(report: &'r Report<'_>) -> CostRows<'r> {
        let project = &report.rules.project;
        let mut rows = CostRows {
            rows: Vec::new(),
            values: Vec::new(),
            decimals: project.currency.decimals(),
            tax_percent: project.tax,
        };
        for section in report.cost.lines.chunk_by(|line, next| line.section == next.section) {
            let first = rows.rows.len();
            for line in section {
                rows.enter_line(line);
            }
            let range = rows.amounts(first, rows.rows.len() - 1);
            rows.enter_sum(Entry::Section(section[0].section), range.into_iter().map(Term::Range).collect());
        }
        let sections = rows.section_amounts(|_| true);
        rows.enter_sum(Entry::Subtotal, sections);
        let subtotal = rows.address(rows.rows.len() - 1, column::AMOUNT);
        rows.enter_tax();
        let tax = rows.address(rows.rows.len() - 1, column::AMOUNT);
        rows.enter_sum(Entry::Total, [subtotal, tax].map(|cell| Term::One(Expr::cell(cell))).into());
        rows
    }

    /// The rows from the top.
    pub(super) fn rows(&self) -> &[CostRow<'r>] {
        &self.rows
    }

    /// The address of the total, which stands last.
    pub(super) fn total(&self) -> Address {
        self.address(self.rows.len().saturating_sub(1), column::AMOUNT)
    }

    /// The total as another sheet shows it; `None` if it is unknown.
    pub(super) fn total_on(&self, home: &str) -> Option<Formula> {
        self.formula(&Expr::cell(self.total()), home)
    }

    /// The rate of the tax: a share of its base.
    pub(super) fn tax_share(&self) -> Decimal {
        self.tax_percent / Decimal::ONE_HUNDRED
    }

    fn enter_line(&mut self, line: &'r CostLine) {
        let row = self.rows.len();
        let base = match line.formula {
            AmountFormula::ShareOf(sections) => {
                Some(Expr::sum(self.section_amounts(|section| sections.contains(&section))))
            }
            AmountFormula::Product | AmountFormula::MinutesAtHourlyRate => None,
        };
        let base = base.map(|base| self.formula(&base, fixed::COST_SUMMARY));
        let quantity = match &base {
            Some(base) => base.as_ref().map(Formula::result),
            None => line.quantity,
        };
        self.values.push([quantity, line.rate, None]);
        let (quantity, rate) = (self.address(row, column::QUANTITY), self.address(row, column::RATE));
        let amount = Expr::amount(line.formula, Expr::cell(quantity), Expr::cell(rate), self.decimals);
        let amount = self.formula(&amount, fixed::COST_SUMMARY);
        self.push(CostRow { entry: Entry::Line(line), base: base.flatten(), amount, known: None });
    }

    fn enter_sum(&mut self, entry: Entry<'r>, terms: Vec<Term>) {
        self.values.push([None, None, None]);
        let amount = self.formula(&Expr::sum(terms.clone()), fixed::COST_SUMMARY);
        let known = match amount {
            Some(_) => None,
            None => {
                self.known_part(&entry, terms).and_then(|known| self.formula(&known, fixed::COST_SUMMARY))
            }
        };
        self.push(CostRow { entry, base: None, amount, known });
    }

    fn enter_tax(&mut self) {
        let row = self.rows.len();
        let taxable = |entry: &CostRow<'_>| matches!(entry.entry, Entry::Line(line) if line.taxable);
        let places: Vec<usize> = (0..row).filter(|&place| taxable(&self.rows[place])).collect();
        let runs = places.chunk_by(|place, next| place + 1 == *next);
        let terms = runs.filter_map(|run| self.amounts(run[0], run[run.len() - 1])).map(Term::Range);
        let base = self.formula(&Expr::sum(terms.collect()), fixed::COST_SUMMARY);
        self.values.push([base.as_ref().map(Formula::result), Some(self.tax_share()), None]);
        let (quantity, rate) = (self.address(row, column::QUANTITY), self.address(row, column::RATE));
        let amount =
            Expr::amount(AmountFormula::Product, Expr::cell(quantity), Expr::cell(rate), self.decimals);
        let amount = self.formula(&amount, fixed::COST_SUMMARY);
        self.push(CostRow { entry: Entry::Tax, base, amount, known: None });
    }

    /// The known part of a sum: of a section its known lines, of a total the known parts of its
    /// sections, and the tax if that is known. `None` where nothing is known.
    fn known_part(&self, entry: &Entry<'_>, terms: Vec<Term>) -> Option<Expr> {
        if let Entry::Section(section) = *entry {
            let known = |row: &CostRow<'_>| {
                matches!(row.entry, Entry::Line(line) if line.section == section) && row.amount.is_some()
            };
            let ranges = terms.into_iter().filter_map(|term| match term {
                Term::Range(range) => Some(Term::One(Expr::known_sum(range))),
                Term::One(_) => None,
            });
            return self.rows.iter().any(known).then(|| Expr::sum(ranges.collect()));
        }
        let part = |(place, row): (usize, &CostRow<'_>)| match row.entry {
            Entry::Section(_) | Entry::Tax if row.amount.is_some() => {
                Some(self.address(place, column::AMOUNT))
            }
            Entry::Section(_) if row.known.is_some() => Some(self.address(place, column::KNOWN)),
            _ => None,
        };
        let cells: Vec<Term> =
            self.rows.iter().enumerate().filter_map(part).map(|cell| Term::One(Expr::cell(cell))).collect();
        (!cells.is_empty()).then(|| Expr::sum(cells))
    }

    fn push(&mut self, row: CostRow<'r>) {
        if let Some(values) = self.values.last_mut() {
            values[2] = row.amount.as_ref().map(Formula::result);
        }
        self.rows.push(row);
    }

    /// The amounts of the sections' own rows so far.
    fn section_amounts(&self, wanted: impl Fn(Section) -> bool) -> Vec<Term> {
        let rows = self.rows.iter().enumerate();
        let places = rows.filter_map(|(place, row)| match row.entry {
            Entry::Section(section) if wanted(section) => Some(place),
            _ => None,
        });
        places.map(|place| Term::One(Expr::cell(self.address(place, column::AMOUNT)))).collect()
    }

    fn amounts(&self, first: usize, last: usize) -> Option<Range> {
        Range::down(self.address(first, column::AMOUNT), &self.address(last, column::AMOUNT))
    }

    fn address(&self, place: usize, column: u16) -> Address {
        let row = u32::try_from(place).unwrap_or(u32::MAX).saturating_add(FIRST_ROW);
        Address { sheet: fixed::COST_SUMMARY.into(), row, column }
    }

    fn formula(&self, expr: &Expr, home: &str) -> Option<Formula> {
        Formula::new(expr, home, &|address: &Address| self.value(address))
    }

    fn value(&self, address: &Address) -> Option<Decimal> {
        let place = usize::try_from(address.row.checked_sub(FIRST_ROW)?).ok()?;
        let [quantity, rate, amount] = *self.values.get(place)?;
        match address.column {
            column::QUANTITY => quantity,
            column::RATE => rate,
            column::AMOUNT => amount,
            column::KNOWN => self.rows.get(place)?.known.as_ref().map(Formula::result),
            _ => None,
        }
    }
}
