//! How the stock sizes are used, and what their boxes are worth.

use super::cost::amount;
use crate::length::Length;
use crate::report::Report;
use crate::report::figure::{Money, Said, row};
use crate::sourcing::StockUse;

/// The use of one stock size.
#[derive(Clone, Copy)]
pub struct StockUseRow<'r> {
    report: &'r Report<'r>,
    stock_use: &'r StockUse<'r>,
}

row! {
    /// A stock size that an opening uses or would use. What is scarce is used where the whole project gains the most
    /// by it.
    StockUseRow<'r>: row {
        /// The product.
        product: &'r str = &row.stock_use.stock.product => shown;
        /// The width it is sold as.
        nominal_width_mm: Length = row.stock_use.stock.nominal_width => above_zero, shown, strong;
        /// The drop it is sold as.
        nominal_drop_mm: Length = row.stock_use.stock.nominal_drop => above_zero, shown, strong;
        /// Colors it comes in.
        colors: Vec<&'r str> = row.stock_use.stock.colors.iter().map(|color| &**color).collect()
            => shown, worded(|_, colors| colors.join(", "));
        /// Price of one; null if not known.
        price: Option<Money> = row.stock_use.stock.price.map(|price| amount(price, row.report))
            => headed("Price each"), or_unknown;
        /// How many are on hand.
        on_hand: u64 = u64::from(row.stock_use.stock.on_hand) => shown;
        /// How many of these blinds that are ordered take, with the others of their rows.
        ordered: u64 = row.stock_use.ordered => shown;
        /// How many of the others are used.
        used: u64 = row.stock_use.worth.used => shown, strong;
        /// How many of the others would be used if there were enough of every size.
        wanted: u64 = row.stock_use.worth.wanted => shown;
        /// How many are left.
        left: u64 = row.to_use().saturating_sub(row.stock_use.worth.used) => shown;
        /// Money that one more would save the whole project; below zero where it would bring a blind in time, or one
        /// of known price, that costs more. Null where a price is not known, or if it could not be worked out.
        one_more_saves: Option<Money> = row.money(row.stock_use.worth.one_more_saves) => shown, or_unknown;
        /// Money that the last one saves, likewise; null also where there is none to use.
        last_saves: Option<Money> = row.money(row.stock_use.worth.last_saves)
            => headed("Last one saves"), or_unknown_if(|row: StockUseRow<'_>| row.to_use() > 0);
        /// Whether no better use is possible; false where the search for one was broken off.
        proven: bool = row.stock_use.worth.is_proven
            => headed("Proven best"), worded(|row: StockUseRow<'r>, proven| match row.could_save() {
                Some(Money(most)) if !proven => {
                    Said::from(format!("no: {} at most could still be saved", row.report.rules.project.currency.in_words(most)))
                }
                _ => Said::of(proven),
            });
        /// Money that a better use of these, and of sizes that the same rows compete for, could still save at the most;
        /// 0 where there is none, null if not known.
        could_save: Option<Money> = row.money(row.stock_use.worth.could_save);
    }
}

impl<'r> StockUseRow<'r> {
    /// Those of the list that are used or wanted.
    pub fn all(report: &'r Report<'r>) -> impl Iterator<Item = StockUseRow<'r>> + Clone {
        let rows = report.stock_use.iter().map(move |stock_use| StockUseRow { report, stock_use });
        rows.filter(|row| row.stock_use.ordered + row.stock_use.worth.used + row.stock_use.worth.wanted > 0)
    }

    /// How many may be used by what is not ordered.
    fn to_use(self) -> u64 {
        u64::from(self.stock_use.stock.on_hand).saturating_sub(self.stock_use.ordered)
    }

    fn money(self, saved: Option<rust_decimal::Decimal>) -> Option<Money> {
        saved.map(|saved| amount(saved, self.report))
    }
}
