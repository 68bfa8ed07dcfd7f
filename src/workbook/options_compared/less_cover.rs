//! Stock sizes that overlap less than the minimum, beside the blinds made to measure.

use super::Press;
use crate::report::rows::LessCoverRow;
use crate::workbook::WorkbookError;
use crate::workbook::look::Tone;
use crate::workbook::pages::{Pages, columns_of, in_use, span};

pub(super) fn is_there(press: &Press<'_>) -> bool {
    LessCoverRow::all(press.report).next().is_some()
}

pub(super) fn write<'p>(pages: &mut Pages<'p>, press: &'p Press<'p>) -> Result<(), WorkbookError> {
    let rows: Vec<LessCoverRow<'p>> = LessCoverRow::all(press.report).collect();
    if rows.is_empty() {
        return Ok(());
    }
    let all = || rows.iter().copied();
    let columns = in_use(columns_of::<LessCoverRow<'_>>(press, |lead| press.address(lead)), all());
    pages.section("Less cover", span(&columns))?;
    pages.remark(
        "Stock sizes with less overlap than the minimum, as far as Accept less cover on Project allows. An overlap or an angle below zero is a gap. Saves: how much less all openings of the row cost than made to measure.",
    )?;
    pages.table(&columns, all(), |row| if row.taken() { Tone::Strong } else { Tone::Body })
}
