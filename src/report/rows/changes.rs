//! `Changes`: what is different from the fit-out that the run took up, and what is still to be done.

use crate::money::Currency;
use crate::report::figure::{Money, row};
use crate::report::{About, Change, ChangeCause};
use crate::schema::blinds::BlindState;

/// One change.
#[derive(Clone, Copy)]
pub struct ChangeRow<'r> {
    change: &'r Change,
    currency: Option<Currency>,
}

row! {
    /// One thing that is different from the earlier fit-out, or still to be done.
    ChangeRow<'r>: row {
        /// What it is about.
        what: About = row.change.about => shown, strong;
        /// The building; empty if blank, and for what is of no opening.
        building: &'r str = &row.change.building => shown, unless_blank;
        /// The unit; empty if blank, and for what is of no opening.
        unit: &'r str = &row.change.unit => shown;
        /// The opening's name; of a line, those of its first openings.
        opening: &'r str = &row.change.opening => shown, strong;
        /// What of it is different; empty if it is new or gone as a whole.
        fact: &'r str = &row.change.fact => shown, wide(26);
        /// What it was; empty if it is new.
        before: &'r str = &row.change.before => shown, wide(34);
        /// What it is now; empty if it is gone.
        now: &'r str = &row.change.now => shown, wide(34);
        /// The line that it was on; null for none.
        line_before: Option<usize> = row.change.line_before => shown;
        /// The line that it is on now; null for none.
        line_now: Option<usize> = row.change.line_now => shown;
        /// How far its blind has come; null before it is ordered.
        state: Option<BlindState> = row.change.state => shown;
        /// Where it comes from; null for what is only to be done.
        cause: Option<ChangeCause> = row.change.cause => shown;
        /// What one blind cost; null if not known, and for what is about no blind.
        cost_before: Option<Money> = row.money(row.change.cost_before) => shown;
        /// What one blind costs now; null likewise.
        cost_now: Option<Money> = row.money(row.change.cost_now) => shown;
        /// What to do; empty for nothing.
        what_to_do: &'r str = &row.change.to_do => shown, wide(50);
    }
}

impl<'r> ChangeRow<'r> {
    /// Every change; `currency` is that of its prices.
    pub fn all(
        changes: &'r [Change],
        currency: Option<Currency>,
    ) -> impl Iterator<Item = ChangeRow<'r>> + Clone {
        changes.iter().map(move |change| ChangeRow { change, currency })
    }

    fn money(self, amount: Option<rust_decimal::Decimal>) -> Option<Money> {
        amount.map(|amount| Money(self.currency.map_or(amount, |currency| currency.round(amount))))
    }
}
