//! `Handover`: what stays with a unit, a page for each of which some blind hangs, so that it can be
//! printed and left there. Each page says all of it, for each goes to somebody else.

use std::collections::BTreeSet;

use super::cell::Cell;
use super::layout::fixed;
use super::look::Tone;
use super::measure::{Weight, wrapped};
use super::pages::{Column, Form, Frozen, Pages, columns_of, in_use, span};
use super::paper::Lie;
use super::sheet::ROW;
use super::widths::digits;
use super::{Press, WorkbookError, Written};
use crate::report::rows::{HandoverRow, SpareLeftRow};
use crate::report::{CARE, Kept};
use crate::survey::shown_floor;

/// Digits of a unit's name on a line, in the letters of a title.
const TITLE: usize = 50;
/// Points of the boxes to sign in.
const TO_SIGN: u32 = 2 * ROW;

/// Writes the sheet, if any blind hangs.
pub(super) fn write(press: &Press<'_>) -> Written {
    let kept = press.report.handed_over(&press.units);
    if kept.is_empty() {
        return Ok(Vec::new());
    }
    let form = Form {
        name: fixed::HANDOVER,
        title: "Handover",
        remarks: vec!["A page for each unit with a blind that is fitted. Print it, have it signed, and leave a copy there.".into()],
        lie: Lie::Portrait,
        frozen: Frozen::TitleOnScreen,
    };
    let mut pages = Pages::open(press, form)?;
    pages.way_back()?;
    let columns = columns_of::<HandoverRow<'_>>(press, |lead| press.address(lead));
    let columns = in_use(columns, kept.iter().flat_map(|kept| rows(press, kept)));
    let spares = SpareLeftRow::all(press.report);
    for (place, kept) in kept.iter().enumerate() {
        let page = Page { press, kept, columns: &columns, spares: &spares };
        if place > 0 {
            pages.begin_page(page.rows_at_most())?;
        }
        page.write(&mut pages)?;
    }
    pages.finish()
}

fn rows<'p>(press: &'p Press<'p>, kept: &'p Kept<'p>) -> impl Iterator<Item = HandoverRow<'p>> {
    kept.hangs.iter().map(|hangs| HandoverRow::of(press.report, *hangs))
}

/// One unit's page.
struct Page<'p, 'c> {
    press: &'p Press<'p>,
    kept: &'p Kept<'p>,
    columns: &'c [Column<'p, HandoverRow<'p>>],
    spares: &'c [SpareLeftRow<'p>],
}

impl<'p> Page<'p, '_> {
    /// Rows that it may take, with what stands between its parts.
    fn rows_at_most(&self) -> u32 {
        const BESIDE: usize = 60;
        u32::try_from(self.kept.hangs.len() + self.spares.len() + BESIDE).unwrap_or(u32::MAX)
    }

    fn write(&self, pages: &mut Pages<'p>) -> Result<(), WorkbookError> {
        let across = span(self.columns);
        self.head(pages)?;
        self.what_hangs(pages)?;
        if !self.spares.is_empty() {
            self.part(pages, "Spare louvers left, for the whole project", self.spares.len() + 1)?;
            let columns = columns_of::<SpareLeftRow<'_>>(self.press, |lead| self.press.address(lead));
            pages.table(&columns, self.spares.iter().copied(), |_| Tone::Body)?;
        }
        let safety = self.press.report.child_safety(&self.kept.hangs);
        self.lines(pages, "Care", CARE)?;
        self.lines(pages, "Child safety", safety.iter().map(String::as_str))?;
        self.lines(pages, "To order another", [&*self.how_to_order()])?;
        self.part(pages, "Received, with all of the above explained", 4)?;
        let boxes = to_sign(across);
        pages.headings(&boxes)?;
        pages.sheet().height(TO_SIGN);
        pages.rows(&boxes, [()], |()| Tone::Body)
    }

    /// The unit, to be read from afar, and where it is.
    fn head(&self, pages: &mut Pages<'p>) -> Result<(), WorkbookError> {
        let unit = self.kept.unit;
        for line in wrapped(&unit.title(), digits(TITLE), Weight::Bold) {
            let sheet = pages.sheet();
            sheet.put(0, line.to_owned(), Tone::Title)?;
            sheet.lines(2);
            sheet.next_row()?;
        }
        let project = &self.press.report.rules.project;
        let place = [&*project.name, &*project.site, unit.building, &shown_floor(unit.floor)];
        let place: Vec<&str> = place.into_iter().filter(|name| !name.is_empty()).collect();
        pages.remark(&place.join(", "))
    }

    /// Every opening with its blinds; where that takes another page, the headings come again.
    fn what_hangs(&self, pages: &mut Pages<'p>) -> Result<(), WorkbookError> {
        pages.section("What hangs where", span(self.columns))?;
        pages.headings(self.columns)?;
        for row in rows(self.press, self.kept) {
            let points = pages.points_of(self.columns, row);
            if pages.keep_together(1, points)? {
                pages.headings(self.columns)?;
            }
            pages.rows(
                self.columns,
                [row],
                |row| if row.is_fitted() { Tone::Body } else { Tone::Provisional },
            )?;
        }
        Ok(())
    }

    /// Names a part of so many rows, which are kept together.
    fn part(&self, pages: &mut Pages<'p>, name: &str, rows: usize) -> Result<(), WorkbookError> {
        // A blank row and the name stand above them.
        let rows = u32::try_from(rows).unwrap_or(u32::MAX).saturating_add(2);
        pages.keep_together(rows, rows.saturating_mul(ROW))?;
        pages.section(name, span(self.columns))
    }

    fn lines<'l>(
        &self,
        pages: &mut Pages<'p>,
        name: &str,
        lines: impl IntoIterator<Item = &'l str>,
    ) -> Result<(), WorkbookError> {
        let lines: Vec<&str> = lines.into_iter().collect();
        self.part(pages, name, lines.len())?;
        lines.into_iter().try_for_each(|line| pages.remark(line))
    }

    fn how_to_order(&self) -> String {
        let report = self.press.report;
        let project = &report.rules.project;
        // A unit whose blinds are of several phases has an order of each.
        let phases = self.kept.hangs.iter().map(|hangs| &*report.survey.openings[hangs.opening].who.phase);
        let phases: BTreeSet<&str> = phases.collect();
        let orders = phases.into_iter().map(|phase| report.rules.terms_of(phase).order_number);
        let orders: BTreeSet<&str> = orders.filter(|number| !number.is_empty()).collect();
        let orders = orders.into_iter().collect::<Vec<_>>().join(" or ");
        let named = |what: &str, name: &str| match name {
            "" => String::new(),
            name => format!("{what} {name}, "),
        };
        format!(
            "Give {}{}revision {}, and from the list above line and blind, product, color, width and drop.",
            named("project", &project.name),
            named("order", &orders),
            project.revision,
        )
    }
}

/// Boxes to sign in, over so many columns of the sheet.
fn to_sign<'p>(across: u16) -> Vec<Column<'p, ()>> {
    let date = (across / 5).max(1);
    let name = (across.saturating_sub(date) / 2).max(1);
    let rest = across.saturating_sub(date + name).max(1);
    [("Name", name), ("Signature", rest), ("Date", date)]
        .map(|(heading, columns)| Column::new(heading, |()| Cell::Blank).written_in(6).over(columns))
        .into()
}
