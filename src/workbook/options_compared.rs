//! `Options compared`: choices side by side, a section each.

mod less_cover;
mod stock;

use rust_xlsxwriter::Workbook;

use super::layout::fixed;
use super::pages::{Form, Frozen, Pages};
use super::paper::Lie;
use super::sheet::Keeping;
use super::{Press, WorkbookError};

/// Writes the sheet, if there is a choice to compare.
pub(super) fn write(workbook: &mut Workbook, press: &Press<'_>) -> Result<(), WorkbookError> {
    if !(stock::is_there(press) || less_cover::is_there(press)) {
        return Ok(());
    }
    let form = Form {
        name: fixed::OPTIONS_COMPARED,
        title: "Options compared",
        remarks: Vec::new(),
        keeping: Keeping::Disk,
        lie: Lie::Wide,
        frozen: Frozen::Title,
    };
    let mut pages = Pages::open(workbook, press, form)?;
    pages.way_back()?;
    stock::write(&mut pages, press)?;
    less_cover::write(&mut pages, press)?;
    pages.finish()
}
