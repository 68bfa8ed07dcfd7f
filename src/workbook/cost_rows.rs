//! The rows of the cost summary and the formulas in them, laid out before anything is written: the
//! summary too shows the total, and leads to it.
//!
//! A formula gives a number where every cell that it needs is one, else the word `unknown`, stored
//! as such; so a price typed in reaches every total, and a figure wiped out is never 0. Formulas
//! read only cells above them, but for the places.

use rust_decimal::Decimal;

use super::layout::fixed;
use crate::cost::{AmountFormula, CostLine, Section};
use crate::report::Report;
use crate::report::expr::{Address, Expr, Formula, Range, Term};

/// Rows above the first cost row: title, two remarks and headings.
pub(super) const FIRST_ROW: u32 = 4;

/// Columns that formulas read, as the sheet has them.
pub(super) mod column {
    pub(in crate::workbook) const ITEM: u16 = 1;
    pub(in crate::workbook) const QUANTITY: u16 = 2;
    pub(in crate::workbook) const RATE: u16 = 4;
    pub(in crate::workbook) const AMOUNT: u16 = 5;
    /// Only where something is unknown.
    pub(in crate::workbook) const KNOWN: u16 = 6;
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

/// One row: what it holds and its live cells.
pub(super) struct CostRow<'r> {
    pub entry: Entry<'r>,
    /// The base of a share or of the tax; `None` where the quantity is a plain number.
    pub base: Option<Formula>,
    /// The amount.
    pub amount: Option<Formula>,
    /// The known part of a sum, where anything is unknown.
    pub known: Option<Formula>,
}

/// Every row, in the order of the sheet.
pub(super) struct CostRows<'r> {
    rows: Vec<CostRow<'r>>,
    /// Values of the cells that formulas read: quantity, rate and amount of each row.
    values: Vec<[Option<Decimal>; 3]>,
    /// The row of each cost line.
    places: Vec<usize>,
    decimals: u32,
    tax_percent: Decimal,
    known_column: bool,
}

impl<'r> CostRows<'r> {
    /// Lays the rows out from the top; a formula reads rows above it alone.
    pub(super) fn of(report: &'r Report<'_>) -> CostRows<'r> {
        let project = &report.rules.project;
        let mut rows = CostRows {
            rows: Vec::new(),
            values: Vec::new(),
            places: Vec::new(),
            decimals: project.currency.decimals(),
            tax_percent: project.tax,
            known_column: report.cost.total.is_none(),
        };
        for section in report.cost.lines.chunk_by(|line, next| line.section == next.section) {
            let first = rows.rows.len();
            for line in section {
                rows.enter_line(line);
            }
            let lines = rows.run(first, rows.rows.len() - 1, column::AMOUNT);
            rows.enter_sum(Entry::Section(section[0].section), lines.clone(), lines);
        }
        let sections = rows.section_cells(column::AMOUNT, |_| true);
        let known = rows.section_cells(column::KNOWN, |_| true);
        rows.enter_sum(Entry::Subtotal, sections, known);
        rows.enter_tax();
        let both = |column| {
            let last = rows.rows.len() - 1;
            [last - 1, last].map(|place| Term::Cell(rows.address(place, column))).into()
        };
        let (amounts, known) = (both(column::AMOUNT), both(column::KNOWN));
        rows.enter_sum(Entry::Total, amounts, known);
        rows
    }

    /// The rows from the top.
    pub(super) fn rows(&self) -> &[CostRow<'r>] {
        &self.rows
    }

    /// Whether the sums have their known parts beside them.
    pub(super) fn shows_known_parts(&self) -> bool {
        self.known_column
    }

    /// A cell of the row of the cost line at this position.
    pub(super) fn line_cell(&self, line: usize, column: u16) -> Address {
        self.address(self.places[line], column)
    }

    /// The amount of a row that is no line: of the last of its kind.
    pub(super) fn amount_of(&self, wanted: impl Fn(Entry<'_>) -> bool) -> Option<Address> {
        let place = self.rows.iter().rposition(|row| wanted(row.entry))?;
        Some(self.address(place, column::AMOUNT))
    }

    /// What of the subtotal is known.
    pub(super) fn known_subtotal(&self) -> Option<Address> {
        let amount = self.amount_of(|entry| matches!(entry, Entry::Subtotal))?;
        Some(if self.known_column { Address { column: column::KNOWN, ..amount } } else { amount })
    }

    /// The quantities of the lines of a section that are charged by the minute.
    pub(super) fn minutes_of(&self, section: Section) -> Vec<Term> {
        let by_the_minute = |row: &CostRow<'_>| {
            matches!(row.entry, Entry::Line(line)
                if line.section == section && line.formula == AmountFormula::MinutesAtHourlyRate)
        };
        self.runs(column::QUANTITY, by_the_minute)
    }

    /// The amounts of the lines of direct cost.
    pub(super) fn direct_amounts(&self) -> Vec<Term> {
        let direct = |row: &CostRow<'_>| matches!(row.entry, Entry::Line(line) if !matches!(line.formula, AmountFormula::ShareOf(_)));
        self.runs(column::AMOUNT, direct)
    }

    /// The rate of the tax: a share of its base.
    pub(super) fn tax_share(&self) -> Decimal {
        self.tax_percent / Decimal::ONE_HUNDRED
    }

    /// A formula of a sheet that reads cells of these rows alone.
    pub(super) fn formula(&self, expr: &Expr, home: &str) -> Option<Formula> {
        Formula::new(expr, home, &|address: &Address| self.value(address))
    }

    /// The number that a cell of these rows shows.
    pub(super) fn value(&self, address: &Address) -> Option<Decimal> {
        let place = usize::try_from(address.row.checked_sub(FIRST_ROW)?).ok()?;
        let [quantity, rate, amount] = *self.values.get(place)?;
        match address.column {
            column::QUANTITY => quantity,
            column::RATE => rate,
            column::AMOUNT => amount,
            column::KNOWN => self.rows.get(place)?.known.as_ref().and_then(Formula::number),
            _ => None,
        }
    }

    fn enter_line(&mut self, line: &'r CostLine) {
        self.places.push(self.rows.len());
        let base = match line.formula {
            AmountFormula::ShareOf(sections) => {
                let sections = self.section_cells(column::AMOUNT, |section| sections.contains(&section));
                self.formula(&Expr::sum(sections), fixed::COST_SUMMARY)
            }
            AmountFormula::Product | AmountFormula::MinutesAtHourlyRate => None,
        };
        let quantity = match line.formula {
            AmountFormula::ShareOf(_) => base.as_ref().and_then(Formula::number),
            AmountFormula::Product | AmountFormula::MinutesAtHourlyRate => line.quantity,
        };
        self.enter_product(Entry::Line(line), line.formula, base, [quantity, line.rate]);
    }

    fn enter_tax(&mut self) {
        let taxable = |row: &CostRow<'_>| matches!(row.entry, Entry::Line(line) if line.taxable);
        let base = Expr::sum(self.runs(column::AMOUNT, taxable));
        let base = self.formula(&base, fixed::COST_SUMMARY);
        let values = [base.as_ref().and_then(Formula::number), Some(self.tax_share())];
        self.enter_product(Entry::Tax, AmountFormula::Product, base, values);
    }

    /// Enters a row whose amount is its quantity times its rate.
    fn enter_product(
        &mut self,
        entry: Entry<'r>,
        formula: AmountFormula,
        base: Option<Formula>,
        [quantity, rate]: [Option<Decimal>; 2],
    ) {
        let row = self.rows.len();
        self.values.push([quantity, rate, None]);
        let (quantity, rate) = (self.address(row, column::QUANTITY), self.address(row, column::RATE));
        let amount = Expr::amount(formula, quantity, rate, self.decimals);
        let known = match entry {
            Entry::Tax => vec![Term::Cell(self.address(row, column::AMOUNT))],
            _ => Vec::new(),
        };
        self.push(entry, base, &amount, known);
    }

    fn enter_sum(&mut self, entry: Entry<'r>, amounts: Vec<Term>, known: Vec<Term>) {
        self.values.push([None, None, None]);
        self.push(entry, None, &Expr::sum(amounts), known);
    }

    /// `known` are the cells that its known part adds up; none for a line.
    fn push(&mut self, entry: Entry<'r>, base: Option<Formula>, amount: &Expr, known: Vec<Term>) {
        let amount = self.formula(amount, fixed::COST_SUMMARY);
        if let Some(values) = self.values.last_mut() {
            values[2] = amount.as_ref().and_then(Formula::number);
        }
        let has_known_part = self.known_column && !known.is_empty();
        let known = has_known_part.then(|| self.formula(&Expr::known_sum(known), fixed::COST_SUMMARY));
        self.rows.push(CostRow { entry, base, amount, known: known.flatten() });
    }

    /// Cells of the sections' own rows so far.
    fn section_cells(&self, column: u16, wanted: impl Fn(Section) -> bool) -> Vec<Term> {
        let rows = self.rows.iter().enumerate();
        let places = rows.filter_map(|(place, row)| match row.entry {
            Entry::Section(section) if wanted(section) => Some(place),
            _ => None,
        });
        places.map(|place| Term::Cell(self.address(place, column))).collect()
    }

    /// The cells of a column in the rows wanted, as few rectangles.
    fn runs(&self, column: u16, wanted: impl Fn(&CostRow<'_>) -> bool) -> Vec<Term> {
        let places: Vec<usize> = (0..self.rows.len()).filter(|&place| wanted(&self.rows[place])).collect();
        let runs = places.chunk_by(|place, next| place + 1 == *next);
        runs.flat_map(|run| self.run(run[0], run[run.len() - 1], column)).collect()
    }

    fn run(&self, first: usize, last: usize, column: u16) -> Vec<Term> {
        let range = Range::down(self.address(first, column), &self.address(last, column));
        range.into_iter().map(Term::Range).collect()
    }

    fn address(&self, place: usize, column: u16) -> Address {
        let row = u32::try_from(place).unwrap_or(u32::MAX).saturating_add(FIRST_ROW);
        Address { sheet: fixed::COST_SUMMARY.into(), row, column }
    }
}
