//! What it costs, and what the total does not hold.

use rust_decimal::Decimal;
use serde::Serialize;

use super::names;
use crate::cost::{AmountFormula, CostLine, NotInTotal};
use crate::exchange::amounts::{Money, Quantity, Share};
use crate::exchange::columns::{Columns, OwnFile, row};
use crate::money::Currency;
use crate::report::Report;

row! {
    /// The whole cost.
    CostRow<'a> {
        /// Currency of every amount.
        currency: &'a str,
        /// The lines, tax not among them.
        lines: OwnFile<CostLineRow<'a>>,
        /// Sum of the known amounts.
        subtotal: Money,
        /// The tax; `None` if its base is not wholly known.
        tax: Option<Money>,
        /// Subtotal + tax; `None` if any amount is unknown.
        total: Option<Money>,
        /// Held and unpriced.
        not_in_total: OwnFile<NotInTotalRow<'a>>,
    }
}

row! {
    /// One priced line.
    CostLineRow<'a> {
        /// Its section.
        section: &'static str,
        /// What it is.
        item: &'a str,
        /// What the quantity counts, such as `each` or `min`.
        unit: &'static str,
        /// How many; for overhead, profit and contingency the base.
        quantity: Option<CostFigure>,
        /// Price of one, of an hour where the unit is `min`; for overhead, profit and contingency the share.
        rate: Option<CostFigure>,
        /// The amount; `None` if quantity or rate is unknown.
        amount: Option<Money>,
    }
}

row! {
    /// Something that the total does not hold.
    NotInTotalRow<'a> {
        /// What.
        what: &'a str,
        /// Its openings.
        openings: Vec<&'a str>,
    }
}

row! {
    /// The totals alone.
    TotalsRow {
        /// Sum of the known amounts.
        subtotal: Money,
        /// The tax; `None` if its base is not wholly known.
        tax: Option<Money>,
        /// Subtotal + tax; `None` if any amount is unknown.
        total: Option<Money>,
    }
}

/// A quantity or a rate: money on one kind of line is a plain number on the other.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(untagged)]
pub enum CostFigure {
    /// A price, or the base of a share.
    Money(Money),
    /// How many.
    Quantity(Quantity),
    /// The share of a base.
    Share(Share),
}

impl Columns for CostFigure {
    fn names(key: &str, names: &mut Vec<String>) {
        Money::names(key, names);
    }
    fn cells(&self, cells: &mut Vec<String>) {
        match self {
            CostFigure::Money(money) => money.cells(cells),
            CostFigure::Quantity(quantity) => quantity.cells(cells),
            CostFigure::Share(share) => share.cells(cells),
        }
    }
}

impl<'a> CostRow<'a> {
    /// The whole cost.
    pub fn of(report: &'a Report<'_>) -> CostRow<'a> {
        let TotalsRow { subtotal, tax, total } = TotalsRow::of(report);
        CostRow {
            currency: report.rules.project.currency.code(),
            lines: OwnFile(CostLineRow::all(report).collect()),
            subtotal,
            tax,
            total,
            not_in_total: OwnFile(NotInTotalRow::all(report).collect()),
        }
    }
}

impl TotalsRow {
    /// The totals.
    pub fn of(report: &Report<'_>) -> TotalsRow {
        let currency = report.rules.project.currency;
        let amount = |amount: Decimal| Money::amount(amount, currency);
        TotalsRow {
            subtotal: amount(report.cost.subtotal),
            tax: report.cost.tax.map(amount),
            total: report.cost.total.map(amount),
        }
    }
}

impl<'a> CostLineRow<'a> {
    /// Every line, in the order of the sheet.
    pub fn all(report: &'a Report<'_>) -> impl Iterator<Item = CostLineRow<'a>> {
        let currency = report.rules.project.currency;
        report.cost.lines.iter().map(move |line| CostLineRow::of(line, currency))
    }

    fn of(line: &'a CostLine, currency: Currency) -> CostLineRow<'a> {
        let money = |amount| CostFigure::Money(Money::rate(amount, currency));
        let (quantity, rate) = match line.formula {
            AmountFormula::Product | AmountFormula::MinutesAtHourlyRate => {
                (line.quantity.map(|count| CostFigure::Quantity(count.into())), line.rate.map(money))
            }
            AmountFormula::ShareOf(_) => {
                (line.quantity.map(money), line.rate.map(|share| CostFigure::Share(share.into())))
            }
        };
        CostLineRow {
            section: line.section.word(),
            item: &line.item,
            unit: line.unit,
            quantity,
            rate,
            amount: line.amount.map(|amount| Money::amount(amount, currency)),
        }
    }
}

impl<'a> NotInTotalRow<'a> {
    /// Everything that the total does not hold.
    pub fn all(report: &'a Report<'_>) -> impl Iterator<Item = NotInTotalRow<'a>> {
        report.cost.not_in_total.iter().map(|left_out| NotInTotalRow::of(left_out, report))
    }

    fn of(left_out: &'a NotInTotal, report: &'a Report<'_>) -> NotInTotalRow<'a> {
        NotInTotalRow { what: &left_out.what, openings: names(report, &left_out.openings) }
    }
}
