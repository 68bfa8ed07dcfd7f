//! How the stock sizes are used, and what another box would save.

use super::Press;
use crate::report::rows::StockUseRow;
use crate::workbook::WorkbookError;
use crate::workbook::look::Tone;
use crate::workbook::pages::{Pages, columns_of, span};

pub(super) fn is_there(press: &Press<'_>) -> bool {
    StockUseRow::all(press.report).next().is_some()
}

pub(super) fn write<'p>(pages: &mut Pages<'p>, press: &'p Press<'p>) -> Result<(), WorkbookError> {
    if !is_there(press) {
        return Ok(());
    }
    let rows = || StockUseRow::all(press.report);
    let columns = columns_of::<StockUseRow<'_>>(press, |lead| press.address(lead));
    pages.section("Stock sizes", span(&columns))?;
    pages.remark(
        "Where there are too few of a size, they go where the whole project gains the most: in time first, then priced, then cheapest. One more saves: what the whole project would save with one more on hand.",
    )?;
    if rows().any(|row| !row.proven()) {
        pages.remark(
            "Not proven: too many rows of several blinds compete for these sizes, so a better use may exist. What it could save at the most is over all of these sizes together.",
        )?;
    }
    pages.table(&columns, rows(), |_| Tone::Body)
}
