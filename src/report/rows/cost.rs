//! What it costs, and what the total does not hold.

use rust_decimal::Decimal;

use super::names;
use crate::cost::{
    AmountFormula, Commitment, CostLine, NotInTotal, Place, RangePart, Section, Share, WHOLE_PROJECT,
};
use crate::money::Currency;
use crate::report::Report;
use crate::report::figure::{Figure, Kind, Money, Quantity, Rows, Share as Part, Value, row};

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
        /// Every line, including overhead, profit and contingency, but not tax. A share of 0 % has no line.
        lines: Rows<'r, CostLineRow<'r>> = Rows::new(move || CostLineRow::all(row.0));
        /// Sum of the known amounts.
        subtotal: Money = TotalsRow(row.0).subtotal();
        /// The tax; null if any taxable amount is unknown.
        tax: Option<Money> = TotalsRow(row.0).tax();
        /// Subtotal and tax; null if any amount is unknown.
        total: Option<Money> = TotalsRow(row.0).total();
        /// The tax on what is known.
        known_tax: Money = TotalsRow(row.0).known_tax();
        /// Subtotal and the tax on it; the total, where that is not null.
        known_total: Money = TotalsRow(row.0).known_total();
        /// What blinds that are ordered cost when they were.
        committed: Money = TotalsRow(row.0).committed();
        /// What blinds that are made again cost us.
        remade: Money = TotalsRow(row.0).remade();
        /// The rest of the known total: with these two it is all of it.
        open: Money = TotalsRow(row.0).open();
        /// The known total shared out by phase, floor, unit and product; each of the four adds up to it.
        shares: Rows<'r, ShareRow<'r>> = Rows::new(move || ShareRow::all(row.0));
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
        /// The tax on what is known.
        known_tax: Money = amount(row.0.cost.known_tax, row.0);
        /// Subtotal and the tax on it; the total, where that is not null.
        known_total: Money = amount(row.0.cost.known_total(), row.0);
        /// What blinds that are ordered cost when they were.
        committed: Money = amount(row.0.settled(Commitment::Committed), row.0);
        /// What blinds that are made again cost us.
        remade: Money = amount(row.0.settled(Commitment::Remade), row.0);
        /// The rest of the known total: with these two it is all of it.
        open: Money = amount(row.0.settled(Commitment::Open), row.0);
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
        /// Ordered, still open, or made again.
        commitment: Commitment = row.line.commitment;
        /// What the quantity counts, such as `each` or `min`.
        unit: &'static str = row.line.unit;
        /// How many; for a share (discount, overhead, profit, contingency) what is known of its base, as
        /// money. Null if unknown.
        quantity: Option<CostFigure> = row.line.quantity.map(|quantity| match row.line.formula {
            AmountFormula::Product | AmountFormula::MinutesAtHourlyRate => CostFigure::Quantity(Quantity(quantity)),
            AmountFormula::ShareOf(_) => row.money(quantity),
        });
        /// Price of one, or of an hour where the unit is `min`; for a share the fraction of the base, as a
        /// number (0.08 for 8 %), below 0 for a discount. Null if unknown.
        rate: Option<CostFigure> = row.line.rate.map(|rate| match row.line.formula {
            AmountFormula::Product | AmountFormula::MinutesAtHourlyRate => row.money(rate),
            AmountFormula::ShareOf(_) => CostFigure::Share(Part(rate)),
        });
        /// Rounded once to the currency's minor unit, halves away from zero; null if quantity or rate is unknown.
        amount: Option<Money> = row.line.amount.map(|exact| amount(exact, row.report));
    }
}

impl<'r> CostLineRow<'r> {
    /// Every line, in the order of the sheet.
    pub fn all(report: &'r Report<'r>) -> impl Iterator<Item = CostLineRow<'r>> {
        let lines = report.cost.lines.iter().filter(|line| !line.is_share_of_nothing());
        lines.map(move |line| CostLineRow { report, line })
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
    Share(Part),
}

impl<'r> Figure<'r> for CostFigure {
    fn kind() -> Kind {
        Kind { types: vec!["number", "string"], ..Money::kind() }
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

/// What one place, or the whole project, bears of the known cost.
#[derive(Clone, Copy)]
pub struct ShareRow<'r> {
    report: &'r Report<'r>,
    by: &'static str,
    /// `None` for the whole project.
    place: Option<&'r Place>,
    share: Share,
}

row! {
    /// What one phase, floor, unit or product bears of the known cost.
    ShareRow<'r>: row {
        /// `phase`, `floor`, `unit` or `product`.
        by: String = row.by.to_lowercase();
        /// Its name; `whole project` for what none of them takes, with what rounding leaves.
        name: &'r str = row.place.map_or(WHOLE_PROJECT, |place| &place.name);
        /// Its blinds; null for the whole project.
        blinds: Option<u64> = row.place.map(|place| place.blinds);
        /// Direct cost.
        direct: Money = amount(row.share.direct, row.report);
        /// Its overhead, profit and contingency.
        overheads: Money = amount(row.share.overheads, row.report);
        /// Its tax.
        tax: Money = amount(row.share.tax, row.report);
        /// All of these.
        whole: Money = amount(row.share.whole(), row.report);
    }
}

impl<'r> ShareRow<'r> {
    /// Every place and then the whole project, of each property in turn.
    pub fn all(report: &'r Report<'r>) -> impl Iterator<Item = ShareRow<'r>> {
        report.cost.breakdowns.iter().flat_map(move |breakdown| {
            let of = move |place, share| ShareRow { report, by: breakdown.by, place, share };
            let places = breakdown.rows.iter().map(move |place| of(Some(place), place.share));
            places.chain([of(None, breakdown.rest)])
        })
    }
}

/// What the total may come to.
#[derive(Clone, Copy)]
pub struct RangeRow<'r>(pub(super) &'r Report<'r>);

row! {
    /// What the total may come to: the known total, with the low and the high of each part.
    RangeRow<'r>: row {
        /// The lowest.
        low: Money = amount(row.0.cost.range.low, row.0);
        /// The highest; null if that of a part is unknown.
        high: Option<Money> = row.0.cost.range.high.map(|high| amount(high, row.0));
        /// The class of the estimate, in words.
        class: &'r str = &row.0.cost.range.class;
        /// What makes it a range, cause by cause.
        parts: Rows<'r, RangePartRow<'r>> = Rows::new(move || RangePartRow::all(row.0));
    }
}

/// One cause of doubt about the total.
#[derive(Clone, Copy)]
pub struct RangePartRow<'r> {
    report: &'r Report<'r>,
    part: &'r RangePart,
}

row! {
    /// What one cause may take off the known total, and put on it.
    RangePartRow<'r>: row {
        /// What, such as `held openings`.
        what: &'r str = &row.part.what;
        /// What low and high are taken from.
        reason: &'static str = row.part.reason;
        /// Names of its openings.
        openings: Vec<&'r str> = names(row.report, &row.part.openings);
        /// On the known total at the lowest, with overhead, profit, contingency and tax; below 0 it comes off.
        low: Money = amount(row.part.low, row.report);
        /// On the known total at the highest; null if unknown.
        high: Option<Money> = row.part.high.map(|high| amount(high, row.report));
    }
}

impl<'r> RangePartRow<'r> {
    /// Every cause.
    pub fn all(report: &'r Report<'r>) -> impl Iterator<Item = RangePartRow<'r>> {
        report.cost.range.parts.iter().map(move |part| RangePartRow { report, part })
    }
}
