//! Where the cost lies: by phase, floor, unit and product, laid out before it is written.
//!
//! To the right of these tables stands what each place takes of each cost line's quantity, in pieces,
//! meters or minutes, under the line's live rate, so that a place's direct cost follows a changed rate as
//! the total does. Overhead, profit, contingency and tax come on it at their live shares. The last row
//! but one takes what is left, also of a changed quantity: which place has more of it only a new run can
//! say. How each is rounded stands in [`cost`](crate::cost).
//!
//! Direct cost is a `SUMPRODUCT` of what a place takes with the live rates; blank is nothing. Past
//! 250,000 parts a table, or where one sheet has no room, the amounts are of this run, shaded, and say
//! so.

use rust_decimal::Decimal;

use super::cost_rows::{CostRows, Entry, FIRST_ROW, column};
use super::layout::{Limits, fixed};
use crate::cost::{AmountFormula, Breakdown, CostLine, MINUTES_AN_HOUR, Place, Section};
use crate::place::MOST_COLUMNS;
use crate::report::Report;
use crate::report::expr::{Address, Expr, Formula, Range, Term};
use crate::rules::TaxOn;

/// The first column of quantities; the one before it says what they are.
pub(super) const FIRST_QUANTITY: u16 = 12;

/// The columns of what a place bears, and after them all of it.
pub(super) const DIRECT: u16 = column::AMOUNT;
const OVERHEADS: u16 = DIRECT + 1;
const TAX: u16 = OVERHEADS + 1;
pub(super) const WHOLE: u16 = TAX + 1;
const BLINDS: u16 = column::QUANTITY;

/// Most quantities of a table, blanks counted, that are worked out live: what a spreadsheet still
/// works out at once.
const MOST_QUANTITIES: usize = 250_000;

/// Rows of a section's beginning: a blank one and its name.
const SECTION_ROWS: usize = 2;
/// Rows of what stands over the quantities: which line, what it is counted in, its rate.
const OVER_QUANTITIES: usize = 3;

/// The tables, and the cost lines whose quantities stand beside them.
pub(super) struct CostShares<'r> {
    /// Positions of the cost lines: materials, what else has a price each, minutes.
    lines: Vec<usize>,
    /// How many of these are materials, and how many are no minutes.
    materials: usize,
    products: usize,
    /// The row of the lines' rates.
    rates_row: u32,
    /// What one of the measure costs in which each line is shared.
    pub rates: Vec<Formula>,
    /// The tables in the order of the sheet.
    pub tables: Vec<Shared<'r>>,
    decimals: u32,
    tax_on: TaxOn,
}

/// What one row bears: direct cost, what comes on it, tax, and all of these.
pub(super) type Bears = [Formula; 4];

/// One breakdown, its amounts live.
pub(super) struct Shared<'r> {
    pub breakdown: &'r Breakdown,
    /// The row of its first place.
    pub first_row: u32,
    /// What each place bears, then what no place takes, then all together.
    pub rows: Vec<Bears>,
    /// All of it for each blind of each place; `None` for a place without.
    pub each: Vec<Option<Formula>>,
}

impl Shared<'_> {
    /// The number in a column of what its rows bear.
    pub(super) fn value(&self, address: &Address) -> Option<Decimal> {
        let row = usize::try_from(address.row.checked_sub(self.first_row)?).ok()?;
        let column = usize::from(address.column.checked_sub(DIRECT)?);
        self.rows.get(row)?.get(column)?.number()
    }
}

impl<'r> CostShares<'r> {
    /// Lays the tables out below the cost rows and what is not in the total. `None` where they cannot
    /// be live: the sheet has no room, or a table is too large.
    pub(super) fn of(report: &'r Report<'_>, cost: &CostRows<'_>, limits: Limits) -> Option<CostShares<'r>> {
        let breakdowns = &report.cost.breakdowns;
        let lines = lines_taken(report);
        let missing = match report.cost.not_in_total.len() {
            0 => 0,
            rows => SECTION_ROWS + 1 + rows,
        };
        let name_row = FIRST_ROW as usize + cost.rows().len() + missing + SECTION_ROWS;
        let tables: usize = breakdowns.iter().map(|breakdown| breakdown.rows.len() + AROUND_PLACES).sum();
        let most = breakdowns.iter().map(|breakdown| breakdown.rows.len()).max()?;
        let fits = name_row + OVER_QUANTITIES + tables <= limits.rows as usize
            && lines.len() + usize::from(FIRST_QUANTITY) <= usize::from(MOST_COLUMNS)
            && lines.len().saturating_mul(most) <= MOST_QUANTITIES;
        if !fits || lines.is_empty() {
            return None;
        }
        let line = |&line: &usize| &report.cost.lines[line];
        let count = |wanted: fn(&CostLine) -> bool| lines.iter().filter(|at| wanted(line(at))).count();
        let mut shares = CostShares {
            materials: count(|line| line.section.is_material()),
            products: count(|line| line.formula != AmountFormula::MinutesAtHourlyRate),
            rates: rates_of_parts(report, cost, &lines)?,
            lines,
            rates_row: u32::try_from(name_row + OVER_QUANTITIES - 1).ok()?,
            tables: Vec::new(),
            decimals: report.rules.project.currency.decimals(),
            tax_on: report.rules.project.tax_on,
        };
        let mut row = shares.rates_row + 1;
        for breakdown in breakdowns {
            let table = shares.table(breakdown, row + 2, cost)?;
            row += u32::try_from(breakdown.rows.len() + AROUND_PLACES).ok()?;
            shares.tables.push(table);
        }
        Some(shares)
    }

    /// The cost lines that have a column, with their columns.
    pub(super) fn columns(&self) -> impl Iterator<Item = (u16, usize)> + '_ {
        (FIRST_QUANTITY..).zip(self.lines.iter().copied())
    }

    /// What a place takes of the lines that have a column, with their columns.
    pub(super) fn quantities<'s>(&'s self, place: &'s Place) -> impl Iterator<Item = (u16, Decimal)> + 's {
        self.columns().filter_map(|(column, line)| {
            let found = place.parts.binary_search_by_key(&line, |&(line, _)| line).ok()?;
            Some((column, place.parts[found].1))
        })
    }

    fn table(&self, breakdown: &'r Breakdown, first_row: u32, cost: &CostRows<'_>) -> Option<Shared<'r>> {
        let mut table = Shared { breakdown, first_row, rows: Vec::new(), each: Vec::new() };
        for (row, place) in (first_row..).zip(&breakdown.rows) {
            let mut quantities: Vec<Option<Decimal>> = vec![None; self.lines.len()];
            for (column, quantity) in self.quantities(place) {
                quantities[usize::from(column - FIRST_QUANTITY)] = Some(quantity);
            }
            let beside = |address: &Address| match address.column.checked_sub(FIRST_QUANTITY).map(usize::from)
            {
                Some(place) if address.row == self.rates_row => self.rates.get(place)?.number(),
                Some(place) => quantities.get(place).copied().flatten(),
                None => cost.value(address),
            };
            let bears = self.bears(row, cost, &beside)?;
            let of_row = |address: &Address| match address.column {
                WHOLE => bears[3].number(),
                BLINDS => Some(place.blinds.into()),
                _ => None,
            };
            let each = Expr::cell(cell(row, WHOLE)).divided_by(Expr::cell(cell(row, BLINDS)));
            table.each.push(Formula::new(&each.rounded(self.decimals), fixed::COST_SUMMARY, &of_row));
            table.rows.push(bears);
        }
        let rest_row = first_row + u32::try_from(breakdown.rows.len()).ok()?;
        let direct = cost.line_amounts(|line| line.section < Section::Overhead);
        let overheads = cost.line_amounts(|line| line.section >= Section::Overhead);
        let tax = cost.amount_of(|entry| matches!(entry, Entry::Tax)).map(Term::Cell);
        let rest = self.sums(&table, rest_row, cost, |column| {
            let all = match column {
                DIRECT => direct.clone(),
                OVERHEADS => overheads.clone(),
                _ => tax.clone().into_iter().collect(),
            };
            Expr::known_sum(all).less(down(first_row, rest_row, column)).rounded(self.decimals)
        })?;
        table.rows.push(rest);
        let all = self.sums(&table, rest_row + 1, cost, |column| down(first_row, rest_row + 1, column))?;
        table.rows.push(all);
        Some(table)
    }

    /// What the place of a row bears; `beside` are the cells that its quantities and rates are in.
    fn bears(
        &self,
        row: u32,
        cost: &CostRows<'_>,
        beside: &impl Fn(&Address) -> Option<Decimal>,
    ) -> Option<Bears> {
        let direct = self.at_rates(row)?.rounded(self.decimals);
        let direct = Formula::new(&direct, fixed::COST_SUMMARY, beside)?;
        let comes_on = Expr::cell(cell(row, DIRECT)).times(on_direct(cost)?).rounded(self.decimals);
        let with = |known: &[(u16, Option<Decimal>)], address: &Address| {
            let own = known.iter().find(|(column, _)| address == &cell(row, *column));
            own.map_or_else(|| beside(address), |(_, number)| *number)
        };
        let known = [(DIRECT, direct.number())];
        let overheads = Formula::new(&comes_on, fixed::COST_SUMMARY, &|at: &Address| with(&known, at))?;
        let taxed = match self.tax_on {
            TaxOn::All => Expr::cell(cell(row, DIRECT)).plus(Expr::cell(cell(row, OVERHEADS))),
            TaxOn::Materials => {
                self.products_of(row, 0, self.materials).unwrap_or_else(|| Expr::constant(Decimal::ZERO))
            }
        };
        let tax = taxed.times(Expr::cell(cost.tax_rate()?)).rounded(self.decimals);
        let known = [(DIRECT, direct.number()), (OVERHEADS, overheads.number())];
        let tax = Formula::new(&tax, fixed::COST_SUMMARY, &|at: &Address| with(&known, at))?;
        let known = [known[0], known[1], (TAX, tax.number())];
        let whole = Formula::new(&whole(row)?, fixed::COST_SUMMARY, &|at: &Address| with(&known, at))?;
        Some([direct, overheads, tax, whole])
    }

    /// A row of sums; `sum` gives that of a column.
    fn sums(
        &self,
        table: &Shared<'_>,
        row: u32,
        cost: &CostRows<'_>,
        sum: impl Fn(u16) -> Expr,
    ) -> Option<Bears> {
        let above = |address: &Address| {
            if address.row < table.first_row { cost.value(address) } else { table.value(address) }
        };
        let of = |column| Formula::new(&sum(column), fixed::COST_SUMMARY, &above);
        let (direct, overheads, tax) = (of(DIRECT)?, of(OVERHEADS)?, of(TAX)?);
        let whole =
            Formula::new(&whole(row)?, fixed::COST_SUMMARY, &|address: &Address| match address.column {
                DIRECT => direct.number(),
                OVERHEADS => overheads.number(),
                _ => tax.number(),
            })?;
        Some([direct, overheads, tax, whole])
    }

    /// The quantities of a row at the rates above them: products, and minutes by the hour.
    fn at_rates(&self, row: u32) -> Option<Expr> {
        let hours = self
            .products_of(row, self.products, self.lines.len() - self.products)
            .map(|minutes| minutes.divided_by(Expr::constant(MINUTES_AN_HOUR)));
        match (self.products_of(row, 0, self.products), hours) {
            (Some(products), Some(hours)) => Some(products.plus(hours)),
            (products, hours) => products.or(hours),
        }
    }

    /// So many of the quantities of a row times the rates above them; `None` for none.
    fn products_of(&self, row: u32, first: usize, count: usize) -> Option<Expr> {
        let first = FIRST_QUANTITY + u16::try_from(first).ok()?;
        let count = u16::try_from(count).ok()?;
        let quantities = Range::new(cell(row, first), 1, count)?;
        Expr::sum_of_products(quantities, Range::new(cell(self.rates_row, first), 1, count)?)
    }
}

/// Rows of a table beside its places: a blank one, headings, what is left, and all together.
const AROUND_PLACES: usize = 4;

fn cell(row: u32, column: u16) -> Address {
    Address { sheet: fixed::COST_SUMMARY.into(), row, column }
}

/// The sum of a column from one row down to before another.
fn down(first: u32, end: u32, column: u16) -> Expr {
    let range = Range::new(cell(first, column), end - first, 1);
    Expr::known_sum(range.map(Term::Range).into_iter().collect())
}

/// All that a row bears.
fn whole(row: u32) -> Option<Expr> {
    Some(Expr::known_sum(vec![Term::Range(Range::new(cell(row, DIRECT), 1, WHOLE - DIRECT)?)]))
}

/// What comes on each 1 of direct cost, from the rates of overhead, profit and contingency.
fn on_direct(cost: &CostRows<'_>) -> Option<Expr> {
    let one = || Expr::constant(Decimal::ONE);
    let mut all: Option<Expr> = None;
    for (place, row) in (FIRST_ROW..).zip(cost.rows()) {
        if matches!(row.entry, Entry::Line(line) if line.section >= Section::Overhead) {
            let share = one().plus(Expr::cell(cell(place, column::RATE)));
            all = Some(all.map_or_else(|| share.clone(), |before| before.times(share.clone())));
        }
    }
    Some(all?.less(one()))
}

/// What one of the measure costs in which each line is shared: of a blind, what the discount leaves of it.
fn rates_of_parts(report: &Report<'_>, cost: &CostRows<'_>, shared: &[usize]) -> Option<Vec<Formula>> {
    let lines = &report.cost.lines;
    let discount = lines.iter().position(|line| line.section == Section::Discount);
    let rate_of = |&place: &usize| {
        let line = &lines[place];
        let rate = cost.line_cell(place, column::RATE);
        let mut each = Expr::cell(rate.clone());
        if line.shared_in.in_one != Decimal::ONE {
            each = each.divided_by(Expr::constant(line.shared_in.in_one));
        }
        if let Some(discount) = discount.filter(|_| line.section == Section::Blinds) {
            // A sum passes over a discount that is not known.
            let less = Expr::known_sum(vec![Term::Cell(cost.line_cell(discount, column::RATE))]);
            each = each.times(Expr::constant(Decimal::ONE).plus(less));
        }
        cost.formula(&each.if_numbers(vec![Term::Cell(rate)]), fixed::COST_SUMMARY)
    };
    shared.iter().map(rate_of).collect()
}

/// The cost lines of which any place takes something: materials, other products, minutes.
fn lines_taken(report: &Report<'_>) -> Vec<usize> {
    let lines = &report.cost.lines;
    let mut taken = vec![false; lines.len()];
    let places = report.cost.breakdowns.iter().flat_map(|breakdown| &breakdown.rows);
    for &(line, _) in places.flat_map(|place| &place.parts) {
        taken[line] = true;
    }
    let mut taken: Vec<usize> = (0..lines.len()).filter(|&line| taken[line]).collect();
    taken.sort_by_key(|&line| {
        let line = &lines[line];
        (line.formula == AmountFormula::MinutesAtHourlyRate, !line.section.is_material())
    });
    taken
}
