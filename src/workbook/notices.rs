//! `Notices`: what the residents of a unit are told, a page for each visit that has a date, so that it can
//! be printed and put through the door. It names no person.

use super::layout::fixed;
use super::look::Tone;
use super::measure::{Weight, wrapped};
use super::pages::{Form, Frozen, Pages, columns_of, span};
use super::paper::Lie;
use super::widths::digits;
use super::{Press, WorkbookError, Written};
use crate::report::BEFORE_FITTERS;
use crate::report::rows::NoticeRow;
use crate::survey::{shown_floor, shown_unit};

/// Digits of a unit's name on a line, in the letters of a title.
const TITLE: usize = 50;
/// Rows that a page may take.
const ROWS: u32 = 40;

/// Writes the sheet, if any visit has a date.
pub(super) fn write(press: &Press<'_>) -> Written {
    let notices = NoticeRow::all(press.report);
    if notices.is_empty() {
        return Ok(Vec::new());
    }
    let form = Form {
        name: fixed::NOTICES,
        title: "Notices",
        remarks: vec!["A page for each unit and day. Print it for the residents, then enter on Fitting days when they were told, and Keep.".into()],
        lie: Lie::Portrait,
        frozen: Frozen::TitleOnScreen,
    };
    let mut pages = Pages::open(press, form)?;
    pages.way_back()?;
    for (place, notice) in notices.into_iter().enumerate() {
        if place > 0 {
            pages.begin_page(ROWS)?;
        }
        page(&mut pages, press, notice)?;
    }
    pages.finish()
}

fn page<'p>(pages: &mut Pages<'p>, press: &'p Press<'p>, notice: NoticeRow<'p>) -> Result<(), WorkbookError> {
    for line in wrapped(shown_unit(notice.unit()), digits(TITLE), Weight::Bold) {
        let sheet = pages.sheet();
        sheet.put(0, line.to_owned(), Tone::Title)?;
        sheet.lines(2);
        sheet.next_row()?;
    }
    let project = &press.report.rules.project;
    let floor = shown_floor(notice.floor());
    let place = [&*project.name, &*project.site, notice.building(), &floor];
    let place: Vec<&str> = place.into_iter().filter(|name| !name.is_empty()).collect();
    pages.remark(&place.join(", "))?;
    let columns = columns_of::<NoticeRow<'_>>(press, |lead| press.address(lead));
    pages.section("New blinds are fitted in your home", span(&columns))?;
    pages.table(&columns, [notice], |_| Tone::Body)?;
    pages.section("Before we come", span(&columns))?;
    BEFORE_FITTERS.into_iter().try_for_each(|line| pages.remark(line))?;
    match &*project.contact {
        "" => Ok(()),
        contact => pages.remark(&format!("If the day does not suit you, please ask: {contact}")),
    }
}
