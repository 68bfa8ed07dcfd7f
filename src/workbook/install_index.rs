//! `Install index`: a row for each unit, leading to its page.

use super::cell::Cell;
use super::layout::fixed;
use super::look::Tone;
use super::pages::{Column, Form, Frozen, Pages, columns_of};
use super::paper::Lie;
use super::{Press, Written};
use crate::report::rows::UnitRow;

pub(super) fn write(press: &Press<'_>) -> Written {
    let form = Form {
        name: fixed::INSTALL_INDEX,
        title: "Install index",
        remarks: vec![
            "One page per unit. Check off a unit when all its openings are fitted and signed for.".into(),
        ],
        lie: Lie::Landscape,
        frozen: Frozen::Headings,
    };
    let mut columns = columns_of::<UnitRow<'_>>(press, |lead| press.address(lead));
    columns.push(Column::new("Done", |_| Cell::Blank).written_in(6));
    let rows = UnitRow::all(press.report, &press.doubts, &press.units);
    let mut pages = Pages::open(press, form)?;
    pages.way_back()?;
    pages.table(&columns, rows, |row| if row.held() > 0 { Tone::Held } else { Tone::Body })?;
    pages.finish()
}
