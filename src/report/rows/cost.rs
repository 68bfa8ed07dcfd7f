//! What it costs, and what the total does not hold.

use rust_decimal::Decimal;

use super::names;
use crate::cost::{AmountFormula, CostLine, NotInTotal, Section};
use crate::money::Currency;
use crate::report::Report;
use crate::report::figure::{Figure, Kind, Money, Quantity, Rows, Share, Value, row};

/// An ISO 4217 code.
pub(super) const CURRENCY: &str = "^[A-Z]{3}$";

/// An amount to pay, to the currency's minor unit.
pub(super) fn amount(exact: Decimal, report: &Report<'_>) -> Money {
    Money(report.rules.project.currency.round(exact))
}

/// A price of one: exact, for an amount is checked against it.
fn rate(exact: Decimal, currency: Currency) -> Money {
    let rounded = currency.round(exact);
    Money(if rounded == exact { rounded } else { exact })
}

/// The whole cost.
#[derive(Clone, Copy)]
pub struct CostRow<'r>(&'r Report<'r>);

row! {
    /// What the job costs.
    CostRow<'r>: row {
        /// ISO 4217 code of every amount.
        currency: &'r str = row.0.rules.project.currency.code() => like(CURRENCY);
        /// Every line, including overhead, profit and contingency, but not tax.
        lines: Rows<'r, CostLineRow<'r>> = Rows::new(move || CostLineRow::all(row.0));
        /// Sum of the known amounts.
        subtotal: Money = TotalsRow(row.0).subtotal();
        /// The tax; null if any taxable amount is unknown.
        tax: Option<Money> = TotalsRow(row.0).tax();
        /// Subtotal and tax; null if any amount is unknown.
        total: Option<Money> = TotalsRow(row.0).total();
        /// What is not in the total.
        not_in_total: Rows<'r, NotInTotalRow<'r>> = Rows::new(move || NotInTotalRow::all(row.0));
    }
}

impl<'r> CostRow<'r> {
    /// The whole cost.
    pub fn of(report: &'r Report<'r>) -> CostRow<'r> {
        CostRow(report)
    }
}

/// The totals alone.
#[derive(Clone, Copy)]
pub struct TotalsRow<'r>(&'r Report<'r>);

row! {
    /// The totals alone.
    TotalsRow<'r>: row {
        /// Sum of the known amounts.
        subtotal: Money = amount(row.0.cost.subtotal, row.0);
        /// The tax; null if any taxable amount is unknown.
        tax: Option<Money> = row.0.cost.tax.map(|tax| amount(tax, row.0));
        /// Subtotal and tax; null if any amount is unknown.
        total: Option<Money> = row.0.cost.total.map(|total| amount(total, row.0));
    }
}

impl<'r> TotalsRow<'r> {
    /// The totals.
    pub fn of(report: &'r Report<'r>) -> TotalsRow<'r> {
        TotalsRow(report)
    }
}

/// One priced line.
#[derive(Clone, Copy)]
pub struct CostLineRow<'r> {
    report: &'r Report<'r>,
    line: &'r CostLine,
}

row! {
    /// One priced line.
    CostLineRow<'r>: row {
        /// Its section.
        section: Section = row.line.section;
        /// What it is.
        item: &'r str = &row.line.item;
        /// What the quantity counts, such as `each` or `min`.
        unit: &'static str = row.line.unit;
        /// How many; for overhead, profit and contingency the base amount, as money. Null if unknown.
        quantity: Option<CostFigure> = row.line.quantity.map(|quantity| match row.line.formula {
            AmountFormula::Product | AmountFormula::MinutesAtHourlyRate => CostFigure::Quantity(Quantity(quantity)),
            AmountFormula::ShareOf(_) => row.money(quantity),
        });
        /// Price of one, or of an hour where the unit is `min`; for overhead, profit and contingency the
        /// fraction of the base, as a number (0.08 for 8 %). Null if unknown.
        rate: Option<CostFigure> = row.line.rate.map(|rate| match row.line.formula {
            AmountFormula::Product | AmountFormula::MinutesAtHourlyRate => row.money(rate),
            AmountFormula::ShareOf(_) => CostFigure::Share(Share(rate)),
        });
        /// Rounded once to the currency's minor unit, halves away from zero; null if quantity or rate is unknown.
        amount: Option<Money> = row.line.amount.map(|exact| amount(exact, row.report));
    }
}

impl<'r> CostLineRow<'r> {
    /// Every line, in the order of the sheet.
    pub fn all(report: &'r Report<'r>) -> impl Iterator<Item = CostLineRow<'r>> {
        report.cost.lines.iter().map(move |line| CostLineRow { report, line })
    }

    fn money(self, exact: Decimal) -> CostFigure {
        CostFigure::Money(rate(exact, self.report.rules.project.currency))
    }
}

/// A quantity or a rate: money on one kind of line is a plain number on the other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CostFigure {
    /// A price, or the base of a share.
    Money(Money),
    /// How many.
    Quantity(Quantity),
    /// The share of a base.
    Share(Share),
}

impl<'r> Figure<'r> for CostFigure {
    fn kind() -> Kind {
        Kind { types: vec!["number", "string"], least: Some(0), ..Money::kind() }
    }
    fn value(self) -> Value<'r> {
        match self {
            CostFigure::Money(money) => money.value(),
            CostFigure::Quantity(quantity) => quantity.value(),
            CostFigure::Share(share) => share.value(),
        }
    }
}

/// Something that the total does not hold.
#[derive(Clone, Copy)]
pub struct NotInTotalRow<'r> {
    report: &'r Report<'r>,
    left_out: &'r NotInTotal,
}

row! {
    /// Something that is held or has no price.
    NotInTotalRow<'r>: row {
        /// What.
        what: &'r str = &row.left_out.what;
        /// Names of its openings.
        openings: Vec<&'r str> = names(row.report, &row.left_out.openings);
    }
}

impl<'r> NotInTotalRow<'r> {
    /// Everything that the total does not hold.
    pub fn all(report: &'r Report<'r>) -> impl Iterator<Item = NotInTotalRow<'r>> {
        report.cost.not_in_total.iter().map(move |left_out| NotInTotalRow { report, left_out })
    }
}
