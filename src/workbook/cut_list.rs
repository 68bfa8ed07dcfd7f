//! `Cut list`: for the saw, a block for each material and color that begins a page; in it each
//! pattern as a bar to scale, and under that its cuts with their stop settings.
//!
//! There is a row for each run of equal pieces of one line, six stops to a row in millimeters and
//! three in inches, where each is a decimal and a fraction. Every stop is there, for it is set anew
//! for each cut. A pattern is not parted where a page ends unless it is longer than a page, and
//! each page has its headings.

use rust_xlsxwriter::{Image, Workbook};

use super::cell::Cell;
use super::cut_summary;
use super::layout::fixed;
use super::look::Tone;
use super::pages::{Form, Frozen, Pages};
use super::sheet::{Keeping, Lie, ROW};
use super::strips::Strips;
use super::{Press, WorkbookError};
use crate::cutting::{CutPlan, From, Pattern};
use crate::length::{Length, Units};
use crate::report::Run;
use crate::report::expr::Address;

/// The columns, in the order in which they stand. Above a cut's figures stand its pattern's.
mod column {
    pub(super) const CUTS: u16 = 0;
    pub(super) const PIECE: u16 = 1;
    pub(super) const PART: u16 = 2;
    pub(super) const LINE: u16 = 3;
    pub(super) const FIRST_STOP: u16 = 4;
    pub(super) const LAST_STOP: u16 = 9;
    pub(super) const REMAINING: u16 = 10;
    pub(super) const DONE: u16 = 11;
}
use column::*;

/// Columns of the sheet.
pub(super) const SPAN: u16 = DONE + 1;
/// Digits that each column holds.
const WIDTHS: [usize; SPAN as usize] = [8, 8, 12, 6, 8, 8, 8, 8, 8, 8, 9, 6];
/// Digits that the columns of stops hold together.
const STOPS_TOGETHER: usize = 48;
/// Points of a row that holds a bar.
const STRIP_ROW: u32 = 30;
/// Rows of a block's name and headings.
const HEAD: u32 = 4;

/// Writes the sheet; `lines` is where each line of the order stands.
pub(super) fn write(
    workbook: &mut Workbook,
    press: &Press<'_>,
    lines: &[Address],
) -> Result<(), WorkbookError> {
    let cuts = &press.report.cuts;
    let strips = Strips::draw(press, &cuts.plans)?;
    let mut remarks = vec![
        "The stop is set from the raw end of the bar to the far end of the piece: end trim, pieces and saw cuts so far. Cut in the order given, each row from left to right.".into(),
        "Blinds released to be made alone, with their spares. Sizes are results: to change one, change the survey and run it again.".into(),
    ];
    remarks.extend(strips.why_not_all(press).map(Into::into));
    let form = Form {
        name: fixed::CUT_LIST,
        title: "Cut list",
        remarks,
        keeping: Keeping::folding(rows(press), press.limits),
        lie: Lie::Portrait,
        frozen: Frozen::TitleOnScreen,
    };
    let mut pages = Pages::open(workbook, press, form)?;
    for (column, digits) in (0..).zip(WIDTHS) {
        pages.widen(column, digits);
    }
    pages.way_back()?;
    cut_summary::write(&mut pages, press)?;
    let mut bench = Bench { pages, press, lines, strips: &strips };
    for (place, plan) in cuts.plans.iter().enumerate() {
        bench.block(place, plan)?;
    }
    bench.pages.finish()
}

/// About how many rows the sheet has.
fn rows(press: &Press<'_>) -> usize {
    let plans = press.report.cuts.plans.iter();
    let most = stops_in_a_row(press.length_units());
    plans.flat_map(|plan| plan.patterns.iter().map(move |pattern| plan.runs(pattern, most).len() + 2)).sum()
}

/// How many stops stand in a row: in inches each as a decimal and as a fraction.
fn stops_in_a_row(units: Units) -> usize {
    let columns = usize::from(LAST_STOP - FIRST_STOP + 1);
    match units {
        Units::Inches => columns / 2,
        Units::Millimeters => columns,
    }
}

/// What a block is written with.
struct Bench<'w, 'p> {
    pages: Pages<'w, 'p>,
    press: &'p Press<'p>,
    lines: &'p [Address],
    strips: &'p Strips,
}

impl<'p> Bench<'_, 'p> {
    /// One material in one color.
    fn block(&mut self, place: usize, plan: &'p CutPlan) -> Result<(), WorkbookError> {
        let title = cut_summary::title(self.press, plan);
        self.pages.section_on_new_page(&title, SPAN)?;
        self.headings()?;
        // Entries of one number stand together and are cut alike: the first has the picture.
        let mut drawn = None;
        for pattern in &plan.patterns {
            let strip = self.strips.of(place, pattern).filter(|_| drawn != Some(pattern.number));
            drawn = Some(pattern.number);
            self.pattern(plan, pattern, strip, &title)?;
        }
        for sentence in cut_summary::foot(self.press, plan) {
            self.pages.remark(&sentence)?;
        }
        Ok(())
    }

    /// A pattern, its bar and its cuts; together on a page if they can be.
    fn pattern(
        &mut self,
        plan: &'p CutPlan,
        pattern: &'p Pattern,
        strip: Option<&Image>,
        title: &str,
    ) -> Result<(), WorkbookError> {
        let runs = plan.runs(pattern, stops_in_a_row(self.press.length_units()));
        let rows = u32::try_from(runs.len()).unwrap_or(u32::MAX).saturating_add(1);
        let strip_points = if strip.is_some() { STRIP_ROW } else { 0 };
        let points = rows.saturating_mul(ROW).saturating_add(strip_points);
        // More than a page's worth is parted where the page ends.
        let page = self.pages.page_points().saturating_sub((HEAD + 1) * ROW);
        let (rows, points) = if points <= page { (rows + 1, points) } else { (3, 2 * ROW + strip_points) };
        self.keep(rows, points, title)?;
        self.pattern_row(plan, pattern)?;
        if let Some(image) = strip {
            let sheet = self.pages.sheet();
            sheet.height(STRIP_ROW)?;
            sheet.hang(CUTS, image, &format!("Pattern {} to scale", pattern.number))?;
            sheet.next_row();
        }
        for run in &runs {
            self.keep(1, ROW, title)?;
            self.run(run)?;
        }
        Ok(())
    }

    /// Goes on on a new page under the block's name if so much does not fit on this one.
    fn keep(&mut self, rows: u32, points: u32, title: &str) -> Result<(), WorkbookError> {
        if self.pages.keep_together(rows, points)? {
            self.pages.name(&format!("{title} (goes on)"), SPAN)?;
            self.headings()?;
        }
        Ok(())
    }

    /// Two rows: what stands in a pattern's row, and below it what stands in those of its cuts.
    fn headings(&mut self) -> Result<(), WorkbookError> {
        let units = self.press.length_units();
        let length = |heading: &str| self.press.lengths(heading);
        let sheet = self.pages.sheet();
        for (column, heading) in [
            (CUTS, "Pattern".to_owned()),
            (PIECE, "Bars".to_owned()),
            (PART, length("Stock")),
            (LINE, "From".to_owned()),
            (REMAINING, length("Offcut")),
            (DONE, "Its end".to_owned()),
        ] {
            sheet.put(column, heading, Tone::Heading)?;
        }
        sheet.spread((FIRST_STOP, LAST_STOP), length("Pieces of one bar, in order"), Tone::Heading)?;
        sheet.next_row();
        for (column, heading) in [
            (CUTS, "Cut".to_owned()),
            (PIECE, length("Piece")),
            (PART, "Part".to_owned()),
            (LINE, "Line".to_owned()),
            (REMAINING, length("Remaining")),
            (DONE, "Done".to_owned()),
        ] {
            sheet.put(column, heading, Tone::Heading)?;
        }
        match units {
            Units::Millimeters => {
                sheet.spread((FIRST_STOP, LAST_STOP), length("Stop from raw end, decimal"), Tone::Heading)?;
                sheet.lines(2)?;
            }
            Units::Inches => {
                for place in (FIRST_STOP..LAST_STOP).step_by(2) {
                    sheet.put(place, length("Stop from raw end, decimal"), Tone::Heading)?;
                    sheet.put(place + 1, length("Stop from raw end, fraction"), Tone::Heading)?;
                }
                sheet.lines(4)?;
            }
        }
        sheet.next_row();
        Ok(())
    }

    fn pattern_row(&mut self, plan: &CutPlan, pattern: &Pattern) -> Result<(), WorkbookError> {
        let pieces = in_words(self.press, pattern);
        let from = match pattern.from {
            From::Bar => "new",
            From::Offcut => "offcut",
        };
        let end = match pattern.offcut {
            Length::ZERO => "none",
            _ if plan.keeps(pattern) => "keep",
            _ => "scrap",
        };
        let sheet = self.pages.sheet();
        sheet.put(CUTS, pattern.number, Tone::Group)?;
        sheet.put(PIECE, pattern.bars, Tone::Group)?;
        sheet.put(PART, pattern.stock, Tone::Group)?;
        sheet.put(LINE, from, Tone::Group)?;
        let lines = Cell::from(&*pieces).lines(STOPS_TOGETHER);
        sheet.spread((FIRST_STOP, LAST_STOP), pieces, Tone::Group)?;
        sheet.put(REMAINING, pattern.offcut, Tone::Group)?;
        sheet.put(DONE, end, Tone::Group)?;
        if lines > 1 {
            sheet.lines(lines)?;
        }
        sheet.next_row();
        Ok(())
    }

    /// A row of cuts, and a box to tick when they are made.
    fn run(&mut self, run: &Run) -> Result<(), WorkbookError> {
        let Some(first) = run.cuts.first() else { return Ok(()) };
        let line = first.piece.line.and_then(|line| Some((line, self.lines.get(line.checked_sub(1)?)?)));
        let units = self.press.length_units();
        let sheet = self.pages.sheet();
        sheet.put(CUTS, run.numbers(), Tone::Body)?;
        sheet.put(PIECE, first.piece.length, Tone::Strong)?;
        sheet.put(PART, first.piece.part.word(), Tone::Body)?;
        match line {
            Some((line, address)) => {
                sheet.put(LINE, Cell::Link(address.clone(), line.to_string().into()), Tone::Body)?;
            }
            None => sheet.put(LINE, "spare", Tone::Body)?,
        }
        let stops: Vec<Cell<'_>> = run
            .cuts
            .iter()
            .flat_map(|cut| match units {
                Units::Millimeters => vec![Cell::Decimal(cut.stop)],
                Units::Inches => vec![Cell::Decimal(cut.stop), Cell::Length(cut.stop)],
            })
            .collect();
        let mut stops = stops.into_iter();
        for (place, column) in (FIRST_STOP..=LAST_STOP).enumerate() {
            // A fraction is what a tape shows, so it is seen first.
            let is_fraction = units == Units::Inches && place % 2 == 1;
            let tone = if is_fraction || units == Units::Millimeters { Tone::Strong } else { Tone::Body };
            sheet.put(column, stops.next().unwrap_or(Cell::Blank), tone)?;
        }
        sheet.put(REMAINING, run.cuts.last().map(|cut| cut.remaining), Tone::Body)?;
        sheet.put(DONE, Cell::Blank, Tone::WriteIn)?;
        sheet.fold()?;
        sheet.next_row();
        Ok(())
    }
}

/// `12 x 2224.9 + 19 x 1218.6`.
fn in_words(press: &Press<'_>, pattern: &Pattern) -> String {
    let words = |(count, length): (usize, Length)| match count {
        1 => press.figure(length),
        _ => format!("{count} x {}", press.figure(length)),
    };
    pattern.lengths().map(words).collect::<Vec<_>>().join(" + ")
}
