//! The rows of the cost summary and the formulas in them, laid out before anything is written: the
//! summary too shows the total, and leads to it.
//!
//! On top stand the inputs, each once: a price or a rate that several lines use. A line's formula gives a
//! number where every cell that it needs holds one, else the word `unknown`, stored as such; what is not
//! known is a blank cell to fill in. A sum is of what is known, and its name says so until nothing is
//! unknown. Formulas read only cells above them, but for the places.

use rust_decimal::Decimal;

use super::layout::fixed;
use crate::cost::{AmountFormula, CostLine, Input, MINUTES_AN_HOUR, RateOf, Section};
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
    /// Of a line that is charged by the hour.
    pub(in crate::workbook) const MINUTES: u16 = 6;
}

/// Most runs of cells that a formula asks about: it would grow past what a cell holds.
pub(super) const MOST_RUNS: usize = 200;

/// What a sum is called where all of it is known, and where not.
pub(super) const TOTAL: [&str; 2] = ["TOTAL", "KNOWN SO FAR"];
const SUBTOTAL: [&str; 2] = ["SUBTOTAL before tax", "KNOWN SO FAR before tax"];
const TAX: [&str; 2] = ["tax", "tax on what is known"];

/// What a row of the sheet holds.
#[derive(Clone, Copy)]
pub(super) enum Entry<'r> {
    /// What rates are made of.
    Input(&'r Input),
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
    /// What a sum is called.
    pub name: Option<Formula>,
    /// The base of a share or of the tax, or the hours of minutes; `None` where the quantity is a plain
    /// number.
    pub quantity: Option<Formula>,
    /// The rate; `None` where it is a plain number.
    pub rate: Option<Formula>,
    /// The amount.
    pub amount: Option<Formula>,
}

/// The numbers in the cells of a row that formulas read.
#[derive(Clone, Copy, Default)]
struct Values {
    quantity: Option<Decimal>,
    rate: Option<Decimal>,
    amount: Option<Decimal>,
    minutes: Option<Decimal>,
}

/// Every row, in the order of the sheet.
pub(super) struct CostRows<'r> {
    rows: Vec<CostRow<'r>>,
    values: Vec<Values>,
    /// The row of each cost line.
    places: Vec<usize>,
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
            places: Vec::new(),
            decimals: project.currency.decimals(),
            tax_percent: project.tax,
        };
        for input in &report.cost.inputs {
            rows.push(Entry::Input(input), Values { rate: input.value, ..Values::default() });
        }
        for section in report.cost.lines.chunk_by(|line, next| line.section == next.section) {
            let first = rows.rows.len();
            for line in section {
                rows.enter_line(line);
            }
            let lines = rows.run(first, rows.rows.len() - 1, column::AMOUNT);
            let word = section[0].section.word();
            let names = [format!("total {word}"), format!("{word} known so far")];
            rows.enter_sum(Entry::Section(section[0].section), names, lines.clone(), lines);
        }
        let sections = rows.section_cells(|_| true);
        let lines = rows.line_amounts(|_| true);
        rows.enter_sum(Entry::Subtotal, SUBTOTAL.map(str::to_owned), lines.clone(), sections);
        rows.enter_tax();
        let last = rows.rows.len() - 1;
        let both = [last - 1, last].map(|place| Term::Cell(rows.address(place, column::AMOUNT)));
        rows.enter_sum(Entry::Total, TOTAL.map(str::to_owned), lines, both.into());
        rows
    }

    /// The rows from the top.
    pub(super) fn rows(&self) -> &[CostRow<'r>] {
        &self.rows
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

    /// The rate of the tax.
    pub(super) fn tax_rate(&self) -> Option<Address> {
        let amount = self.amount_of(|entry| matches!(entry, Entry::Tax))?;
        Some(Address { column: column::RATE, ..amount })
    }

    /// A column of the lines of a section that are charged by the hour: minutes may be blank, hours not.
    pub(super) fn timed(&self, section: Section, column: u16) -> Vec<Term> {
        self.runs(column, |line| {
            line.section == section && line.formula == AmountFormula::MinutesAtHourlyRate
        })
    }

    /// The amounts of the lines wanted.
    pub(super) fn line_amounts(&self, wanted: impl Fn(&CostLine) -> bool) -> Vec<Term> {
        self.runs(column::AMOUNT, wanted)
    }

    /// The amounts of the cost lines at these positions, in rising order.
    pub(super) fn amounts_of(&self, lines: &[usize]) -> Vec<Term> {
        let runs = lines.chunk_by(|line, next| self.places[*line] + 1 == self.places[*next]);
        runs.flat_map(|run| self.run(self.places[run[0]], self.places[run[run.len() - 1]], column::AMOUNT))
            .collect()
    }

    /// The rate of the tax: a share of its base.
    pub(super) fn tax_share(&self) -> Decimal {
        self.tax_percent / Decimal::ONE_HUNDRED
    }

    /// A formula as it is while some of these lines have no amount, and as it is once all have one; where
    /// that takes more than a cell holds, it stays as it is.
    pub(super) fn once_known(
        &self,
        lines: &[usize],
        all: Expr,
        lacking: Expr,
        home: &str,
    ) -> Option<Formula> {
        let amounts = self.amounts_of(lines);
        if amounts.is_empty() || amounts.len() > MOST_RUNS {
            return self.formula(&lacking, home);
        }
        self.formula(&all.if_numbers_else(amounts, lacking), home)
    }

    /// A formula of a sheet that reads cells of these rows alone.
    pub(super) fn formula(&self, expr: &Expr, home: &str) -> Option<Formula> {
        Formula::new(expr, home, &|address: &Address| self.value(address))
    }

    /// The number that a cell of these rows shows.
    pub(super) fn value(&self, address: &Address) -> Option<Decimal> {
        let place = usize::try_from(address.row.checked_sub(FIRST_ROW)?).ok()?;
        let values = self.values.get(place)?;
        match address.column {
            column::QUANTITY => values.quantity,
            column::RATE => values.rate,
            column::AMOUNT => values.amount,
            column::MINUTES => values.minutes,
            _ => None,
        }
    }

    fn enter_line(&mut self, line: &'r CostLine) {
        let place = self.rows.len();
        self.places.push(place);
        self.push(Entry::Line(line), Values::default());
        let quantity_at = match line.formula {
            AmountFormula::ShareOf(sections) => {
                let base = Expr::known_sum(self.section_cells(|section| sections.contains(&section)));
                self.enter_quantity(&base);
                column::QUANTITY
            }
            AmountFormula::MinutesAtHourlyRate => {
                self.values[place].minutes = line.quantity;
                let minutes = Term::Cell(self.address(place, column::MINUTES));
                let hours = Expr::cell(self.address(place, column::MINUTES))
                    .divided_by(Expr::constant(MINUTES_AN_HOUR));
                self.enter_quantity(&hours.if_numbers(vec![minutes]));
                column::MINUTES
            }
            AmountFormula::Product => {
                self.values[place].quantity = line.quantity;
                column::QUANTITY
            }
        };
        match self.rate(line.rate_of) {
            None => self.values[place].rate = line.rate,
            Some(rate) => {
                let rate = self.formula(&rate, fixed::COST_SUMMARY);
                self.values[place].rate = rate.as_ref().and_then(Formula::number);
                self.rows[place].rate = rate;
            }
        }
        self.enter_product(line.formula, quantity_at);
    }

    /// What a rate is made of; `None` where it stands for itself.
    fn rate(&self, of: RateOf) -> Option<Expr> {
        // The inputs are the first rows.
        let at = |input: usize| self.address(input, column::RATE);
        let cells = |inputs: &[usize]| inputs.iter().map(|&input| Term::Cell(at(input))).collect();
        Some(match of {
            RateOf::Itself | RateOf::AsOrdered => return None,
            RateOf::Input(input) => Expr::known_cell(at(input)),
            RateOf::Times(input, times) => {
                let once = Expr::cell(at(input));
                let of_all = if times == Decimal::ONE { once } else { once.times(Expr::constant(times)) };
                of_all.rounded(self.decimals).if_numbers(cells(&[input]))
            }
            RateOf::Area { each, per_m2, m2 } => Expr::cell(at(each))
                .plus(Expr::cell(at(per_m2)).times(Expr::constant(m2)))
                .rounded(self.decimals)
                .if_numbers(cells(&[each, per_m2])),
            RateOf::Less(input) => {
                Expr::constant(Decimal::ZERO).less(Expr::cell(at(input))).if_numbers(cells(&[input]))
            }
        })
    }

    fn enter_tax(&mut self) {
        let taxable = self.line_amounts(|line| line.taxable);
        let base = Expr::known_sum(taxable.clone());
        self.push(Entry::Tax, Values { rate: Some(self.tax_share()), ..Values::default() });
        self.enter_name(TAX.map(str::to_owned), taxable);
        self.enter_quantity(&base);
        self.enter_product(AmountFormula::Product, column::QUANTITY);
    }

    fn enter_sum(&mut self, entry: Entry<'r>, names: [String; 2], lines: Vec<Term>, amounts: Vec<Term>) {
        self.push(entry, Values::default());
        self.enter_name(names, lines);
        self.enter_amount(&Expr::known_sum(amounts));
    }

    /// Names the last row after whether all of its lines have an amount.
    fn enter_name(&mut self, [all, known]: [String; 2], lines: Vec<Term>) {
        let name = match lines.is_empty() {
            true => Expr::word(all),
            false => Expr::word(all).if_numbers_else(lines, Expr::word(known)),
        };
        let name = self.formula(&name, fixed::COST_SUMMARY);
        if let Some(row) = self.rows.last_mut() {
            row.name = name;
        }
    }

    fn enter_quantity(&mut self, quantity: &Expr) {
        let quantity = self.formula(quantity, fixed::COST_SUMMARY);
        if let (Some(row), Some(values)) = (self.rows.last_mut(), self.values.last_mut()) {
            values.quantity = quantity.as_ref().and_then(Formula::number);
            row.quantity = quantity;
        }
    }

    /// The amount of the last row: its quantity, in the column where that is, times its rate.
    fn enter_product(&mut self, formula: AmountFormula, quantity_at: u16) {
        let last = self.rows.len() - 1;
        let (quantity, rate) = (self.address(last, quantity_at), self.address(last, column::RATE));
        self.enter_amount(&Expr::amount(formula, quantity, rate, self.decimals));
    }

    fn enter_amount(&mut self, amount: &Expr) {
        let amount = self.formula(amount, fixed::COST_SUMMARY);
        if let (Some(row), Some(values)) = (self.rows.last_mut(), self.values.last_mut()) {
            values.amount = amount.as_ref().and_then(Formula::number);
            row.amount = amount;
        }
    }

    fn push(&mut self, entry: Entry<'r>, values: Values) {
        self.values.push(values);
        self.rows.push(CostRow { entry, name: None, quantity: None, rate: None, amount: None });
    }

    /// Amounts of the sections' own rows so far.
    fn section_cells(&self, wanted: impl Fn(Section) -> bool) -> Vec<Term> {
        let rows = self.rows.iter().enumerate();
        let places = rows.filter_map(|(place, row)| match row.entry {
            Entry::Section(section) if wanted(section) => Some(place),
            _ => None,
        });
        places.map(|place| Term::Cell(self.address(place, column::AMOUNT))).collect()
    }

    /// The cells of a column in the rows of the lines wanted, as few rectangles.
    fn runs(&self, column: u16, wanted: impl Fn(&CostLine) -> bool) -> Vec<Term> {
        let is_wanted = |place: &usize| matches!(self.rows[*place].entry, Entry::Line(line) if wanted(line));
        let places: Vec<usize> = (0..self.rows.len()).filter(is_wanted).collect();
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
