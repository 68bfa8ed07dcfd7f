//! Tables declared as columns, written one under the other on a sheet that goes on as `Name 2`
//! when it is full.

use std::borrow::Cow;

use super::ahead::{Ahead, TOGETHER};
use super::bound::Filled;
use super::cell::Cell;
pub(super) use super::column::{Column, columns_of, in_use, span};
use super::layout::{continued, fixed, top_of};
use super::look::Tone;
use super::measure::{Weight, longest_word, width, wrapped};
use super::paper::{Lie, Papers};
use super::sheet::{ROW, Sheet, height_of};
use super::widths::{WIDEST, Widths, digits};
use super::{Press, WorkbookError, Written};

/// Pages beside each other that a wide sheet is printed on.
const PAGES_WIDE: u16 = 3;

/// How a sheet of tables is set up.
pub(super) struct Form<'p> {
    /// The sheet's name.
    pub name: &'static str,
    /// What stands in its first row.
    pub title: &'p str,
    /// The sentences under it.
    pub remarks: Vec<Cow<'p, str>>,
    /// How its pages lie.
    pub lie: Lie,
    /// What stays in sight.
    pub frozen: Frozen,
}

/// What stays in sight when a sheet is scrolled, and comes again on every page in print.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Frozen {
    /// Title, remarks and the first table's headings: where they hold for the whole sheet.
    Headings,
    /// The same on a sheet of several pages' width: in print, headings and first column come again.
    HeadingsOfWide,
    /// Title and remarks alone.
    Title,
    /// The same, on a sheet that writes its headings on each page itself.
    TitleOnScreen,
}

/// Rows and columns that a filter is over.
struct Filter {
    headings: u32,
    last_column: u16,
    /// The table's last row; `None` as long as it goes on.
    last: Option<u32>,
}

/// The sheets of one name.
pub(super) struct Pages<'p> {
    press: &'p Press<'p>,
    form: Form<'p>,
    /// Those that are full.
    full: Vec<Filled>,
    sheet: Sheet<'p>,
    number: usize,
    frozen: bool,
    /// Rows that title and remarks take.
    head_rows: u32,
    /// Points of the rows that come again on every page.
    repeated: u32,
    /// What the rows of the first table can be filtered by; `None` before it begins.
    filter: Option<Filter>,
    widths: Widths,
    /// What title and remarks take, so that the columns below are as wide together.
    head_width: u32,
}

impl<'p> Pages<'p> {
    /// Opens the first sheet and writes its title.
    pub(super) fn open(press: &'p Press<'p>, form: Form<'p>) -> Result<Pages<'p>, WorkbookError> {
        let sheet = Sheet::new(press, form.name.to_owned(), form.lie)?;
        let mut pages = Pages {
            press,
            form,
            full: Vec::new(),
            sheet,
            number: 1,
            frozen: false,
            head_rows: 0,
            repeated: 0,
            filter: None,
            widths: Widths::default(),
            head_width: 0,
        };
        pages.head()?;
        Ok(pages)
    }

    /// The sheet being written, for what is no table.
    pub(super) fn sheet(&mut self) -> &mut Sheet<'p> {
        &mut self.sheet
    }

    /// Where the sheet stands, to work out where rows to come will be.
    pub(super) fn ahead(&self) -> Ahead {
        Ahead {
            name: self.form.name,
            number: self.number,
            row: self.sheet.row(),
            head: self.head_rows,
            limit: self.press.limits.rows,
        }
    }

    /// Writes a link back to the summary on a row of its own, in a workbook of links.
    pub(super) fn way_back(&mut self) -> Result<(), WorkbookError> {
        if self.press.limits.links == 0 {
            return Ok(());
        }
        self.need_row()?;
        self.hold(0, width(fixed::SUMMARY, Weight::Regular));
        self.sheet.put(0, Cell::Link(top_of(fixed::SUMMARY), fixed::SUMMARY.into()), Tone::Remark)?;
        self.sheet.next_row()?;
        Ok(())
    }

    /// Leaves a row empty and names the section that follows.
    pub(super) fn section(&mut self, name: &str, columns: u16) -> Result<(), WorkbookError> {
        if self.sheet.row() + TOGETHER > self.press.limits.rows {
            self.turn()?;
        }
        self.sheet.next_row()?;
        self.name(name, columns)
    }

    /// Names a section that begins a page in print.
    pub(super) fn section_on_new_page(&mut self, name: &str, columns: u16) -> Result<(), WorkbookError> {
        if self.sheet.row() + TOGETHER > self.press.limits.rows || self.sheet.is_out_of_breaks() {
            self.turn()?;
        }
        self.sheet.next_row()?;
        self.sheet.break_page(self.repeated);
        self.name(name, columns)
    }

    /// Begins a page in print, on the next sheet unless so many rows fit on this one.
    pub(super) fn begin_page(&mut self, rows: u32) -> Result<(), WorkbookError> {
        if self.sheet.row().saturating_add(rows) > self.press.limits.rows || self.sheet.is_out_of_breaks() {
            return self.turn();
        }
        self.sheet.break_page(self.repeated);
        Ok(())
    }

    /// Writes a section's name.
    pub(super) fn name(&mut self, name: &str, columns: u16) -> Result<(), WorkbookError> {
        self.sheet.put(0, name, Tone::Section)?;
        for column in 1..columns {
            self.sheet.put(column, Cell::Blank, Tone::Section)?;
        }
        self.sheet.next_row()?;
        Ok(())
    }

    /// Goes on on a new page, or sheet, unless so many rows of so many points fit on this one; says
    /// whether it did.
    pub(super) fn keep_together(&mut self, rows: u32, points: u32) -> Result<bool, WorkbookError> {
        if self.sheet.row().saturating_add(rows) > self.press.limits.rows {
            self.turn()?;
            return Ok(true);
        }
        let is_full = self.sheet.used().saturating_add(points) > self.page_points();
        if is_full {
            if self.sheet.is_out_of_breaks() { self.turn()? } else { self.sheet.break_page(self.repeated) }
        }
        Ok(is_full)
    }

    /// Points of rows that a page takes at the scale at which it is printed.
    pub(super) fn page_points(&self) -> u32 {
        let (_, down) = self.papers().room(self.form.lie);
        // Some programs make rows a little higher in print.
        down * 72 * 95 / 100 / u32::from(self.scale())
    }

    fn papers(&self) -> Papers {
        Papers::of(&self.press.report.rules.project)
    }

    /// Percent at which the columns fit on a page's width; a little less, for fonts differ.
    fn scale(&self) -> u16 {
        let (across, _) = self.papers().room(self.form.lie);
        let pixels: u32 = self.widths.pixels().sum();
        let scale = across * 96 * 98 / 100 / pixels.max(1);
        u16::try_from(scale.clamp(10, 100)).unwrap_or(100)
    }

    /// Writes a sentence on rows of its own.
    pub(super) fn remark(&mut self, text: &str) -> Result<(), WorkbookError> {
        for line in wrapped(text, self.line(), Weight::Regular) {
            self.need_row()?;
            self.head_width = self.head_width.max(width(line, Weight::Regular));
            self.sheet.put(0, line, Tone::Remark)?;
            self.sheet.next_row()?;
        }
        Ok(())
    }

    /// Room for a sentence on a page's width.
    fn line(&self) -> u32 {
        digits(match self.form.lie {
            Lie::Portrait => 100,
            Lie::Landscape => 140,
            Lie::Wide => 220,
        })
    }

    /// Writes a table's headings and a row for each of `rows`.
    pub(super) fn table<'c, T: Copy>(
        &mut self,
        columns: &[Column<'c, T>],
        rows: impl IntoIterator<Item = T>,
        tone: impl Fn(T) -> Tone,
    ) -> Result<(), WorkbookError> {
        self.headings(columns)?;
        self.rows(columns, rows, tone)?;
        let last = self.sheet.row().saturating_sub(1);
        if let Some(filter) = &mut self.filter {
            filter.last.get_or_insert(last);
        }
        Ok(())
    }

    /// Writes rows under headings that stand already.
    pub(super) fn rows<'c, T: Copy>(
        &mut self,
        columns: &[Column<'c, T>],
        rows: impl IntoIterator<Item = T>,
        tone: impl Fn(T) -> Tone,
    ) -> Result<(), WorkbookError> {
        for row in rows {
            self.one_row(columns, row, tone(row))?;
            self.sheet.next_row()?;
        }
        Ok(())
    }

    /// Writes the row that the rows below fold away under.
    pub(super) fn group<'c, const N: usize>(&mut self, cells: [Cell<'c>; N]) -> Result<(), WorkbookError> {
        for (place, cell) in (0..).zip(cells) {
            let wanted = cell.width(self.press.length_units(), Weight::Bold);
            self.hold(place, wanted.min(digits(WIDEST)));
            self.sheet.put(place, cell, Tone::Group)?;
        }
        self.sheet.next_row()?;
        Ok(())
    }

    /// Writes rows that fold away under the row above them.
    pub(super) fn folded_rows<'c, T: Copy>(
        &mut self,
        columns: &[Column<'c, T>],
        rows: impl IntoIterator<Item = T>,
        tone: impl Fn(T) -> Tone,
    ) -> Result<(), WorkbookError> {
        for row in rows {
            if self.keep_together(1, ROW)? {
                self.headings(columns)?;
            }
            self.folded_row(columns, row, tone(row))?;
        }
        Ok(())
    }

    /// Writes a row that folds away under the last one that does not.
    pub(super) fn folded_row<'c, T: Copy>(
        &mut self,
        columns: &[Column<'c, T>],
        row: T,
        tone: Tone,
    ) -> Result<(), WorkbookError> {
        self.one_row(columns, row, tone)?;
        self.sheet.fold();
        self.sheet.next_row()?;
        Ok(())
    }

    /// Writes a row and stays on it.
    fn one_row<'c, T: Copy>(
        &mut self,
        columns: &[Column<'c, T>],
        row: T,
        tone: Tone,
    ) -> Result<(), WorkbookError> {
        if self.sheet.row() >= self.press.limits.rows {
            self.turn()?;
            self.headings(columns)?;
        }
        let mut lines = 1;
        for (place, column) in placed(columns) {
            let cell = (column.value)(row);
            let tone = match (tone, (column.marked)(row)) {
                _ if (column.boxed)(row) => Tone::WriteIn,
                (_, Some(mark)) => mark,
                (Tone::Body, None) => column.tone,
                (tone, None) => tone,
            };
            lines = lines.max(self.lines_of(place, column, &cell, tone));
            self.sheet.spread((place, place + column.over - 1), cell, tone)?;
        }
        if lines > 1 {
            self.sheet.lines(lines);
        }
        Ok(())
    }

    /// Lines that a cell takes in its column, which grows for it as far as it may.
    fn lines_of<T>(&mut self, place: u16, column: &Column<'_, T>, cell: &Cell<'_>, tone: Tone) -> usize {
        let wanted = cell.width(self.press.length_units(), tone.weight());
        let room = self.hold_over(place, column.over, wanted.min(digits(column.widest)));
        match cell {
            _ if wanted > room => cell.lines_within(room, tone.weight()),
            Cell::Text(text) => text.split('\n').count(),
            _ => 1,
        }
    }

    /// Points that a row will take.
    pub(super) fn points_of<T: Copy>(&mut self, columns: &[Column<'_, T>], row: T) -> u32 {
        let lines = placed(columns)
            .map(|(place, column)| self.lines_of(place, column, &(column.value)(row), column.tone));
        height_of(lines.max().unwrap_or(1)).max(ROW)
    }

    /// Writes a table's headings.
    pub(super) fn headings<T>(&mut self, columns: &[Column<'_, T>]) -> Result<(), WorkbookError> {
        self.need_row()?;
        let mut lines = 2;
        for (place, column) in placed(columns) {
            let word = longest_word(&column.heading, Weight::Bold);
            let half = width(&column.heading, Weight::Bold).div_ceil(2);
            let room = self.hold_over(place, column.over, word.max(half).max(digits(column.narrowest)));
            lines = lines.max(wrapped(&column.heading, room, Weight::Bold).len());
            self.sheet.spread((place, place + column.over - 1), &*column.heading, Tone::Heading)?;
        }
        self.sheet.lines(lines);
        // A sheet of one list can be filtered, as far as that goes.
        if matches!(self.form.frozen, Frozen::Headings | Frozen::HeadingsOfWide) && self.filter.is_none() {
            let last_column = span(columns).saturating_sub(1);
            self.filter = Some(Filter { headings: self.sheet.row(), last_column, last: None });
        }
        self.sheet.next_row()?;
        if !self.frozen && matches!(self.form.frozen, Frozen::Headings | Frozen::HeadingsOfWide) {
            self.freeze()?;
        }
        Ok(())
    }

    /// Makes a column hold at least so many digits.
    pub(super) fn widen(&mut self, column: u16, characters: usize) {
        self.hold(column, digits(characters));
    }

    /// Makes a column hold at least so much text; gives how much it holds.
    pub(super) fn hold(&mut self, column: u16, text: u32) -> u32 {
        self.widths.hold(column, text)
    }

    /// The same of one or several columns. Several are as wide as those that stand over one make
    /// them: text over them wraps.
    fn hold_over(&mut self, first: u16, columns: u16, text: u32) -> u32 {
        match columns {
            1 => self.hold(first, text),
            _ => (first..first + columns).map(|column| self.hold(column, 0)).sum(),
        }
    }

    /// The sheets, in their order.
    pub(super) fn finish(mut self) -> Written {
        self.set_widths()?;
        self.set_filter()?;
        let Pages { mut full, sheet, .. } = self;
        full.push(sheet.finish()?);
        Ok(full)
    }

    fn need_row(&mut self) -> Result<(), WorkbookError> {
        if self.sheet.row() >= self.press.limits.rows { self.turn() } else { Ok(()) }
    }

    /// Goes on on a sheet of the next number.
    fn turn(&mut self) -> Result<(), WorkbookError> {
        self.set_widths()?;
        self.set_filter()?;
        self.number += 1;
        let name = continued(self.form.name, self.number);
        let next = Sheet::new(self.press, name, self.form.lie)?;
        let full = std::mem::replace(&mut self.sheet, next);
        self.full.push(full.finish()?);
        self.frozen = false;
        self.head()
    }

    fn head(&mut self) -> Result<(), WorkbookError> {
        /// A title's font is so many times as high as that of the cells.
        const TITLE: u32 = 2;
        self.head_width = width(self.form.title, Weight::Bold).saturating_mul(TITLE).min(self.line());
        self.sheet.put(0, self.form.title, Tone::Title)?;
        self.sheet.lines(2);
        self.sheet.next_row()?;
        for remark in std::mem::take(&mut self.form.remarks) {
            self.remark(&remark)?;
            self.form.remarks.push(remark);
        }
        self.head_rows = self.sheet.row();
        if matches!(self.form.frozen, Frozen::Title | Frozen::TitleOnScreen) {
            self.freeze()?;
        }
        Ok(())
    }

    fn freeze(&mut self) -> Result<(), WorkbookError> {
        let row = self.sheet.row();
        self.sheet.set_up().set_freeze_panes(row, 0)?;
        let across = self.papers().across(self.form.lie);
        if across > 1 {
            self.sheet.set_up().set_repeat_columns(0, 0)?;
        }
        match self.form.frozen {
            Frozen::TitleOnScreen => self.sheet.set_up(),
            Frozen::Headings | Frozen::Title => {
                self.repeated = self.sheet.used();
                self.sheet.set_up().set_repeat_rows(0, row - 1)?
            }
            Frozen::HeadingsOfWide => self
                .sheet
                .set_up()
                .set_repeat_rows(row - 1, row - 1)?
                .set_repeat_columns(0, 0)?
                .set_print_fit_to_pages(PAGES_WIDE * across, 0),
        };
        self.frozen = true;
        Ok(())
    }

    /// Lets the first table be filtered, if it has rows.
    fn set_filter(&mut self) -> Result<(), WorkbookError> {
        let Some(Filter { headings, last_column, last }) = self.filter.take() else { return Ok(()) };
        let last = last.unwrap_or(self.sheet.row().saturating_sub(1));
        if last > headings {
            self.sheet.set_up().autofilter(headings, 0, last, last_column)?;
        }
        Ok(())
    }

    /// Sets the columns' widths, and the breaks of what is printed. Title and remarks stand over
    /// the columns: the last one is as wide as they need.
    fn set_widths(&mut self) -> Result<(), WorkbookError> {
        self.widths.reach(self.head_width);
        for (column, pixels) in (0..).zip(self.widths.pixels()) {
            self.sheet.set_up().set_column_width_pixels(column, pixels)?;
        }
        self.sheet.set_breaks()
    }
}

/// Each column of a table, with the first column of the sheet that it stands over.
fn placed<'c, 'p, T>(columns: &'c [Column<'p, T>]) -> impl Iterator<Item = (u16, &'c Column<'p, T>)> {
    columns.iter().scan(0, |next, column| {
        let place = *next;
        *next += column.over;
        Some((place, column))
    })
}
