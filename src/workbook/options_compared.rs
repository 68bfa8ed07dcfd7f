//! `Options compared`: what the survey comes to as it stands, and what it comes to with each choice.

mod options;

use rust_xlsxwriter::Workbook;

use super::layout::fixed;
use super::pages::{Form, Frozen, Pages};
use super::paper::Lie;
use super::sheet::Keeping;
use super::{Press, WorkbookError};

/// Writes the sheet, if there is anything to compare.
pub(super) fn write(workbook: &mut Workbook, press: &Press<'_>) -> Result<(), WorkbookError> {
    if press.report.options.is_empty() {
        return Ok(());
    }
    let form = Form {
        name: fixed::OPTIONS_COMPARED,
        title: "Options compared",
        remarks: vec![
            "Each option is worked as a run of its own. To have all sheets of one, run again with --option and its name.".into(),
            "Figures of this run: they do not follow changes on Cost summary. Blinds that are ordered already are the same in every option.".into(),
        ],
        keeping: Keeping::Memory,
        lie: Lie::Wide,
        frozen: Frozen::Title,
    };
    let mut pages = Pages::open(workbook, press, form)?;
    pages.way_back()?;
    options::write(&mut pages, press)?;
    pages.finish()
}
