//! Where the direct cost lies: by phase, floor, unit and product, laid out before it is written.
//!
//! To the right of these tables stands what each place takes of each cost line's quantity, under the
//! line's live rate, so that a place's amount follows a changed rate as the total does. The last row
//! takes what is left, also of a changed quantity: which place has more of it only a new run can say.
//!
//! An amount is a `SUMPRODUCT` of what a place takes with the live rates; blank is nothing. Parts
//! are rounded to a millionth before they are priced, in code and sheet alike. Past 250,000 parts a
//! table, or where one sheet has no room, the amounts are of this run, shaded, and say so.

use rust_decimal::Decimal;

use super::cost_rows::{CostRows, FIRST_ROW, column};
use super::layout::{Limits, fixed};
use crate::cost::{AmountFormula, Breakdown, MINUTES_AN_HOUR, Place};
use crate::place::MOST_COLUMNS;
use crate::report::Report;
use crate::report::expr::{Address, Expr, Formula, Range, Term};

/// The first column of quantities; the one before it says what they are.
pub(super) const FIRST_QUANTITY: u16 = 12;

/// Most quantities of a table, blanks counted, that are worked out live: what a spreadsheet still
/// works out at once.
const MOST_QUANTITIES: usize = 250_000;

/// Rows of a section's beginning: a blank one and its name.
const SECTION_ROWS: usize = 2;

/// The tables, and the cost lines whose quantities stand beside them.
pub(super) struct CostShares<'r> {
    /// Positions of the cost lines, those charged by the minute last.
    lines: Vec<usize>,
    /// The row of the lines' rates.
    rates_row: u32,
    /// The lines' rates as they stand above.
    pub rates: Vec<Formula>,
    /// The tables in the order of the sheet.
    pub tables: Vec<Shared<'r>>,
}

/// One breakdown, its amounts live.
pub(super) struct Shared<'r> {
    pub breakdown: &'r Breakdown,
    /// The row of its first place.
    pub first_row: u32,
    /// The amount of each place.
    pub amounts: Vec<Formula>,
    /// Amount for each blind of each place; `None` for a place without.
    pub each: Vec<Option<Formula>>,
    /// What no place takes.
    pub rest: Formula,
    /// All together: the direct cost as far as it is known.
    pub total: Formula,
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
        let fits = name_row + 2 + tables <= limits.rows as usize
            && lines.len() + usize::from(FIRST_QUANTITY) <= usize::from(MOST_COLUMNS)
            && lines.len().saturating_mul(most) <= MOST_QUANTITIES;
        if !fits || lines.is_empty() {
            return None;
        }
        let rates_row = u32::try_from(name_row + 1).ok()?;
        let rate = |&line: &usize| {
            cost.formula(&Expr::cell(cost.line_cell(line, column::RATE)), fixed::COST_SUMMARY)
        };
        let rates: Vec<Formula> = lines.iter().map(rate).collect::<Option<_>>()?;
        let mut shares = CostShares { lines, rates_row, rates, tables: Vec::new() };
        let minutes = |&line: &usize| report.cost.lines[line].formula == AmountFormula::MinutesAtHourlyRate;
        let products = shares.lines.iter().position(minutes).unwrap_or(shares.lines.len());
        let decimals = report.rules.project.currency.decimals();
        let mut row = rates_row + 1;
        for breakdown in breakdowns {
            let table = shares.table(breakdown, row + 2, products, decimals, cost)?;
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

    fn table(
        &self,
        breakdown: &'r Breakdown,
        first_row: u32,
        products: usize,
        decimals: u32,
        cost: &CostRows<'_>,
    ) -> Option<Shared<'r>> {
        let mut amounts: Vec<Formula> = Vec::new();
        let mut each = Vec::new();
        for (row, place) in (first_row..).zip(&breakdown.rows) {
            let mut quantities: Vec<Option<Decimal>> = vec![None; self.lines.len()];
            for (column, quantity) in self.quantities(place) {
                quantities[usize::from(column - FIRST_QUANTITY)] = Some(quantity);
            }
            let beside = |address: &Address| {
                let place = usize::from(address.column.checked_sub(FIRST_QUANTITY)?);
                if address.row == self.rates_row {
                    self.rates.get(place)?.number()
                } else {
                    quantities.get(place).copied().flatten()
                }
            };
            let expr = self.at_rates(row, products)?.rounded(decimals);
            let amount = Formula::new(&expr, fixed::COST_SUMMARY, &beside)?;
            let of_row = |address: &Address| match address.column {
                column::AMOUNT => amount.number(),
                column::QUANTITY => Some(place.blinds.into()),
                _ => None,
            };
            let share =
                Expr::cell(cell(row, column::AMOUNT)).divided_by(Expr::cell(cell(row, column::QUANTITY)));
            each.push(Formula::new(&share.rounded(decimals), fixed::COST_SUMMARY, &of_row));
            amounts.push(amount);
        }
        let rest_row = first_row + u32::try_from(amounts.len()).ok()?;
        let down = |rows| Range::new(cell(first_row, column::AMOUNT), rows, 1).map(Term::Range);
        let places: Vec<Term> = down(rest_row - first_row).into_iter().collect();
        let rest = Expr::known_sum(cost.direct_amounts()).less(Expr::known_sum(places)).rounded(decimals);
        let amount_at = |amounts: &[Formula], address: &Address| match address.row.checked_sub(first_row) {
            Some(place) => amounts.get(place as usize).and_then(Formula::number),
            None => cost.value(address),
        };
        let rest =
            Formula::new(&rest, fixed::COST_SUMMARY, &|address: &Address| amount_at(&amounts, address))?;
        let total = Expr::known_sum(vec![down(rest_row - first_row + 1)?]);
        let total = Formula::new(&total, fixed::COST_SUMMARY, &|address: &Address| {
            if address.row == rest_row { rest.number() } else { amount_at(&amounts, address) }
        })?;
        Some(Shared { breakdown, first_row, amounts, each, rest, total })
    }

    /// The quantities of a row at the rates above them: products, and minutes by the hour.
    fn at_rates(&self, row: u32, products: usize) -> Option<Expr> {
        let of = |first: usize, count: usize| {
            let first = FIRST_QUANTITY + u16::try_from(first).ok()?;
            let count = u16::try_from(count).ok()?;
            let quantities = Range::new(cell(row, first), 1, count)?;
            Expr::sum_of_products(quantities, Range::new(cell(self.rates_row, first), 1, count)?)
        };
        let hours = of(products, self.lines.len() - products)
            .map(|minutes| minutes.divided_by(Expr::constant(MINUTES_AN_HOUR)));
        match (of(0, products), hours) {
            (Some(products), Some(hours)) => Some(products.plus(hours)),
            (products, hours) => products.or(hours),
        }
    }
}

/// Rows of a table beside its places: a blank one, headings, what is left, and all together.
const AROUND_PLACES: usize = 4;

fn cell(row: u32, column: u16) -> Address {
    Address { sheet: fixed::COST_SUMMARY.into(), row, column }
}

/// The cost lines of which any place takes something, those charged by the minute last.
fn lines_taken(report: &Report<'_>) -> Vec<usize> {
    let lines = &report.cost.lines;
    let mut taken = vec![false; lines.len()];
    let places = report.cost.breakdowns.iter().flat_map(|breakdown| &breakdown.rows);
    for &(line, _) in places.flat_map(|place| &place.parts) {
        taken[line] = true;
    }
    let mut taken: Vec<usize> = (0..lines.len()).filter(|&line| taken[line]).collect();
    taken.sort_by_key(|&line| lines[line].formula == AmountFormula::MinutesAtHourlyRate);
    taken
}
