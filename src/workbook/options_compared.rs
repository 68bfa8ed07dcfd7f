//! `Options compared`: choices side by side, a table each with what it costs.

mod sizes;

use rust_xlsxwriter::Workbook;

use super::layout::fixed;
use super::pages::{Form, Frozen, Pages};
use super::paper::Lie;
use super::sheet::Keeping;
use super::{Press, WorkbookError};

/// Whether there is anything to compare.
pub(super) fn is_there(press: &Press<'_>) -> bool {
    sizes::is_there(press)
}

/// Writes the sheet, if there is anything to compare.
pub(super) fn write(workbook: &mut Workbook, press: &Press<'_>) -> Result<(), WorkbookError> {
    if !is_there(press) {
        return Ok(());
    }
    let form = Form {
        name: fixed::OPTIONS_COMPARED,
        title: "Choices side by side",
        remarks: vec![
            "To choose, change the survey and run again: nothing on this sheet is read back.".into(),
        ],
        keeping: Keeping::Memory,
        lie: Lie::Landscape,
        frozen: Frozen::Title,
    };
    let mut pages = Pages::open(workbook, press, form)?;
    pages.way_back()?;
    sizes::write(&mut pages, press)?;
    pages.finish()
}
