//! `Options compared`: choices side by side, a section each.

mod less_cover;
mod options;
mod sizes;
mod stock;

use super::layout::fixed;
use super::pages::{Form, Frozen, Pages};
use super::paper::Lie;
use super::{Press, Written};

/// Whether there is anything to compare.
pub(super) fn is_there(press: &Press<'_>) -> bool {
    [options::is_there, sizes::is_there, stock::is_there, less_cover::is_there]
        .iter()
        .any(|is_there| is_there(press))
}

/// Writes the sheet, if there is anything to compare.
pub(super) fn write(press: &Press<'_>) -> Written {
    if !is_there(press) {
        return Ok(Vec::new());
    }
    let form = Form {
        name: fixed::OPTIONS_COMPARED,
        title: "Options compared",
        remarks: vec![
            "Figures of this run: they do not follow changes on Cost summary. To choose, change the survey and run again: nothing here is read back.".into(),
        ],
        lie: Lie::Wide,
        frozen: Frozen::Title,
    };
    let mut pages = Pages::open(press, form)?;
    pages.way_back()?;
    options::write(&mut pages, press)?;
    sizes::write(&mut pages, press)?;
    stock::write(&mut pages, press)?;
    less_cover::write(&mut pages, press)?;
    pages.finish()
}
