//! `Cut list`, as a saw with a length stop is worked: at the head what to buy of each material and
//! color, then a block for each that begins a page. In it stands each pattern once, as a bar to scale
//! and a row for each run of equal pieces. A roll has a row for each blind; it stands once for each time that
//! it is taken up, in the order of work.
//!
//! A pattern is not parted where a page ends unless it is longer than a page, and each page has its
//! headings.

use rust_xlsxwriter::Image;

use super::cell::Cell;
use super::layout::fixed;
use super::look::Tone;
use super::pages::{Column, Form, Frozen, Pages, columns_of, in_use, span};
use super::paper::Lie;
use super::sheet::ROW;
use super::strips::Strips;
use super::{Press, WorkbookError, Written};
use crate::report::expr::Address;
use crate::report::figure::Lead;
use crate::report::rows::{ByPhaseRow, CutRow, PlanRow, RollCutRow};
use crate::report::{CutAlike, Stretch};
use crate::rules::CutIn;

/// Digits that the columns hold from the first on.
const INCHES: [usize; 7] = [7, 10, 10, 12, 22, 30, 6];
/// Without the fraction the order lines stand over two columns.
const MILLIMETERS: [usize; 7] = [7, 12, 14, 12, 12, 34, 6];
/// Where the order lines then stand.
const LINES: usize = 3;
/// Points of a row that holds a bar.
const STRIP_ROW: u32 = 30;
/// Rows of a block's name and headings.
const HEAD: u32 = 6;

/// Writes the sheet; `lines` is where each line of the order stands.
pub(super) fn write(press: &Press<'_>, lines: &[Address]) -> Written {
    let report = press.report;
    let plans = &report.cuts.plans;
    let strips = Strips::draw(press, plans)?;
    let mut remarks = vec![
        "Trim the raw end, then set the stop to each length in turn. Cut in the order given, the longest first.".into(),
        "Only blinds released for making; spare louvers where the blinds are made, not bought. To change a size, change the survey and run again.".into(),
    ];
    let mut rolls: Vec<&str> =
        plans.iter().filter(|plan| plan.cut_in == CutIn::Blinds).map(|plan| &*plan.material).collect();
    rolls.dedup();
    if !rolls.is_empty() {
        remarks.push(
            format!(
                "{}: blind by blind, in the order given. Mark each rest that you set aside with the number of its roll.",
                rolls.join(", ")
            )
            .into(),
        );
    }
    remarks.extend(strips.why_not_all(press).map(Into::into));
    let of_bars = || plans.iter().filter(|plan| plan.cut_in == CutIn::Pieces);
    let form = Form {
        name: fixed::CUT_LIST,
        title: "Cut list",
        remarks,
        lie: Lie::Portrait,
        frozen: Frozen::TitleOnScreen,
    };
    let mut pages = Pages::open(press, form)?;
    let cuts = of_bars().flat_map(|plan| plan.cut_alike());
    let cuts = cuts.flat_map(|alike| CutRow::all(report, alike));
    let address = |lead| match lead {
        Lead::Line(line) => lines.get(press.report.order.place(line)?).cloned(),
        lead => press.address(lead),
    };
    let mut columns = in_use(columns_of::<CutRow<'_>>(press, address), cuts);
    columns.push(done());
    let has_fraction = columns.len() == INCHES.len();
    if let (false, Some(lines)) = (has_fraction, columns.get_mut(LINES)) {
        lines.over = 2;
    }
    let mut roll_columns = columns_of::<RollCutRow<'_>>(press, address);
    roll_columns.push(done());
    for (column, digits) in (0..).zip(if has_fraction { INCHES } else { MILLIMETERS }) {
        pages.widen(column, digits);
    }
    pages.way_back()?;
    head(&mut pages, press, span(&columns))?;
    let mut bench = Bench { pages, press, columns: &columns, roll_columns: &roll_columns, strips: &strips };
    for (place, plan) in PlanRow::all(report).enumerate() {
        bench.block(place, plan)?;
    }
    bench.pages.finish()
}

/// A box for what is done.
fn done<'p, T>() -> Column<'p, T> {
    Column::new("Done", |_| Cell::Blank).written_in(6)
}

/// What to buy of each material, over so many columns; and what cutting each phase by itself takes.
fn head(pages: &mut Pages<'_>, press: &Press<'_>, columns: u16) -> Result<(), WorkbookError> {
    if press.report.cuts.plans.is_empty() {
        return pages.remark("Nothing to cut: no blind is released for making.");
    }
    // The names stand over the narrow columns of the cuts, the bound over the last two.
    let over = [columns - 4, 1, 1, 2];
    let plans = columns_of::<PlanRow<'_>>(press, |lead| press.address(lead));
    debug_assert_eq!(plans.len(), over.len());
    let plans: Vec<_> = plans.into_iter().zip(over).map(|(column, over)| column.over(over)).collect();
    pages.table(&plans, PlanRow::all(press.report), |_| Tone::Body)?;
    let mut by_phase = ByPhaseRow::all(press.report).peekable();
    if by_phase.peek().is_some() {
        pages.section("Cutting phase by phase, compared with the whole project at once", columns)?;
        for phase in by_phase {
            pages.remark(&phase.in_words())?;
        }
    }
    Ok(())
}

/// What a block is written with.
struct Bench<'c, 'p> {
    pages: Pages<'p>,
    press: &'p Press<'p>,
    columns: &'c [Column<'p, CutRow<'p>>],
    roll_columns: &'c [Column<'p, RollCutRow<'p>>],
    strips: &'c Strips,
}

impl<'p> Bench<'_, 'p> {
    /// One material in one color.
    fn block(&mut self, place: usize, plan: PlanRow<'p>) -> Result<(), WorkbookError> {
        let title = plan.title();
        self.pages.section_on_new_page(&title, span(self.columns))?;
        for sentence in plan.head() {
            self.pages.remark(&sentence)?;
        }
        if plan.plan.cut_in == CutIn::Blinds {
            self.pages.headings(self.roll_columns)?;
            return plan.plan.stretches().iter().try_for_each(|stretch| self.stretch(plan, stretch, &title));
        }
        self.pages.headings(self.columns)?;
        for alike in plan.plan.cut_alike() {
            let strip = self.strips.of(place, alike.pattern());
            self.pattern(plan, alike, strip, &title)?;
        }
        Ok(())
    }

    /// A pattern, its bar and its cuts; together on a page if they can be.
    fn pattern(
        &mut self,
        plan: PlanRow<'p>,
        alike: CutAlike<'p>,
        strip: Option<&Image>,
        title: &str,
    ) -> Result<(), WorkbookError> {
        let cuts: Vec<CutRow<'p>> = CutRow::all(self.press.report, alike).collect();
        let cut_points: u32 = cuts.iter().map(|&cut| self.pages.points_of(self.columns, cut)).sum();
        let strip_points = if strip.is_some() { STRIP_ROW } else { 0 };
        let points = cut_points + 2 * ROW + strip_points;
        let rows = u32::try_from(cuts.len()).unwrap_or(u32::MAX).saturating_add(3);
        // More than a page's worth is parted where the page ends.
        let page = self.pages.page_points().saturating_sub((HEAD + 1) * ROW);
        let (rows, points) = if points <= page { (rows, points) } else { (3, 2 * ROW + strip_points) };
        self.keep(rows, points, title, self.columns)?;
        self.sentence(&plan.before(alike), Tone::Group)?;
        if let Some(image) = strip {
            let sheet = self.pages.sheet();
            sheet.height(STRIP_ROW);
            sheet.hang(0, image, &format!("Pattern {} to scale", alike.number()))?;
            sheet.next_row()?;
        }
        for cut in cuts {
            let points = self.pages.points_of(self.columns, cut);
            self.keep(1, points, title, self.columns)?;
            self.pages.folded_row(self.columns, cut, Tone::Body)?;
        }
        self.keep(1, ROW, title, self.columns)?;
        self.sentence(&plan.after(alike), Tone::Body)
    }

    /// What is cut from a roll before another is taken up; together on a page if it can be.
    fn stretch(
        &mut self,
        plan: PlanRow<'p>,
        stretch: &Stretch<'p>,
        title: &str,
    ) -> Result<(), WorkbookError> {
        let columns = self.roll_columns;
        let cuts: Vec<RollCutRow<'p>> = RollCutRow::all(self.press.report, stretch).collect();
        let points: u32 = cuts.iter().map(|&cut| self.pages.points_of(columns, cut)).sum::<u32>() + 2 * ROW;
        let rows = u32::try_from(cuts.len()).unwrap_or(u32::MAX).saturating_add(2);
        let page = self.pages.page_points().saturating_sub((HEAD + 1) * ROW);
        let (rows, points) = if points <= page { (rows, points) } else { (2, 2 * ROW) };
        self.keep(rows, points, title, columns)?;
        self.sentence(&plan.take_up(stretch), Tone::Group)?;
        for cut in cuts {
            let points = self.pages.points_of(columns, cut);
            self.keep(1, points, title, columns)?;
            self.pages.folded_row(columns, cut, Tone::Body)?;
        }
        self.keep(1, ROW, title, columns)?;
        self.sentence(&plan.put_down(stretch), Tone::Body)
    }

    /// A row of one sentence over all columns.
    fn sentence(&mut self, words: &str, tone: Tone) -> Result<(), WorkbookError> {
        let sheet = self.pages.sheet();
        sheet.spread((0, span(self.columns) - 1), words, tone)?;
        sheet.next_row()?;
        Ok(())
    }

    /// Goes on on a new page under the block's name if so much does not fit on this one.
    fn keep<T>(
        &mut self,
        rows: u32,
        points: u32,
        title: &str,
        columns: &[Column<'_, T>],
    ) -> Result<(), WorkbookError> {
        if self.pages.keep_together(rows, points)? {
            self.pages.name(&format!("{title} (continued)"), span(columns))?;
            self.pages.headings(columns)?;
        }
        Ok(())
    }
}
