//! What each cell of `Cost summary` that may be changed was printed as, beside it and folded away, with
//! the lasting name of its row: a later run knows by them what was typed.
//!
//! Of a figure that was typed before and is printed again, the survey's own stands here.

use rust_decimal::Decimal;

use super::cell::Cell;
use super::cost_rows::{CostRow, Entry};
use super::cost_shares::FIRST_QUANTITY;
use super::look::Tone;
use super::measure::{Weight, width};
use super::pages::Pages;
use super::shown::Shown;
use super::{Press, WorkbookError};
use crate::cost::{AmountFormula, RateOf, SHARE};
use crate::rules::{TAX, known_as};
use crate::schema::cost_summary::{KNOWN_AS, PRINTED_QUANTITY, PRINTED_RATE};

/// The columns that fold away, the first of all those that do.
const NAME: u16 = FIRST_QUANTITY - 1;
const QUANTITY: u16 = NAME + 1;
const RATE: u16 = QUANTITY + 1;
/// The last of them.
pub(super) const LAST: u16 = RATE;

/// Writes their headings in the row of the other ones.
pub(super) fn headings(pages: &mut Pages<'_>) -> Result<(), WorkbookError> {
    for (column, heading) in [(NAME, &KNOWN_AS), (QUANTITY, &PRINTED_QUANTITY), (RATE, &PRINTED_RATE)] {
        pages.widen(column, 10);
        pages.sheet().put(column, heading.name, Tone::Heading)?;
    }
    Ok(())
}

/// Writes the name and the figures of a row in which something may be changed.
pub(super) fn beside(
    pages: &mut Pages<'_>,
    press: &Press<'_>,
    row: &CostRow<'_>,
) -> Result<(), WorkbookError> {
    let Some(Printed { name, quantity, rate }) = Printed::of(press, row) else { return Ok(()) };
    if quantity.is_none() && rate.is_none() {
        return Ok(());
    }
    // Rows do not grow with it.
    pages.hold(NAME, width(&name, Weight::Regular));
    let sheet = pages.sheet();
    sheet.put(NAME, name, Tone::OfThisRun)?;
    // Both are stored as the cells that they stand beside.
    if let Some(quantity) = quantity {
        sheet.put(QUANTITY, Cell::known(quantity.map(Cell::Number)), Tone::OfThisRun)?;
    }
    if let Some((rate, shown)) = rate {
        sheet.put(RATE, Cell::known(rate.map(|rate| Cell::Figure(rate, shown))), Tone::OfThisRun)?;
    }
    Ok(())
}

/// What is to be known of a row again; a figure that is not to be changed there is `None`, and `None`
/// within is one that is not known.
struct Printed {
    name: String,
    quantity: Option<Option<Decimal>>,
    rate: Option<(Option<Decimal>, Shown)>,
}

impl Printed {
    fn of(press: &Press<'_>, row: &CostRow<'_>) -> Option<Printed> {
        match row.entry {
            Entry::Input(input) => {
                let shown = if input.unit == SHARE { Shown::Percent } else { Shown::Money };
                Some(Printed { name: input.known_as(), quantity: None, rate: Some((input.printed, shown)) })
            }
            Entry::Line(line) => {
                let is_share = matches!(line.formula, AmountFormula::ShareOf(_));
                let is_own = matches!(line.rate_of, RateOf::Itself | RateOf::AsOrdered);
                let shown = if is_share { Shown::Percent } else { Shown::Money };
                Some(Printed {
                    name: line.known_as.clone(),
                    quantity: (!is_share).then_some(line.printed_quantity),
                    rate: is_own.then_some((line.printed_rate, shown)),
                })
            }
            Entry::Tax => {
                let rate = Some((press.report.cost.printed_tax_share, Shown::Percent));
                Some(Printed { name: known_as(TAX, SHARE), quantity: None, rate })
            }
            Entry::Section(_) | Entry::Subtotal | Entry::Total => None,
        }
    }
}
