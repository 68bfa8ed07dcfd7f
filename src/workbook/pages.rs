//! Tables declared as columns, written one under the other on a sheet that goes on as `Name 2`
//! when it is full.

use std::borrow::Cow;

use rust_xlsxwriter::Workbook;

use super::cell::Cell;
use super::layout::continued;
use super::look::Tone;
use super::sheet::{Keeping, Lie, Sheet};
use super::{Press, WorkbookError};

/// One column of a table: its heading, and its cell in a row.
pub(super) struct Column<'p, T> {
    heading: Cow<'p, str>,
    value: Box<dyn Fn(T) -> Cell<'p> + 'p>,
    tone: Tone,
    /// The rows in which it is a box to write in.
    boxed: Box<dyn Fn(T) -> bool + 'p>,
    /// Its look in a row, where that is not the row's own.
    marked: Box<dyn Fn(T) -> Option<Tone> + 'p>,
    /// Most characters wide; longer text wraps.
    widest: usize,
    /// Characters that it holds at the least.
    narrowest: usize,
}

/// Text wraps at this many characters unless a column says otherwise.
const WIDEST: usize = 34;
/// Pages beside each other that a wide sheet is printed on.
const PAGES_WIDE: u16 = 3;
/// Every column holds at least this many.
const NARROWEST: usize = 5;

impl<'p, T> Column<'p, T> {
    /// A column; `value` gives its cell in a row.
    pub(super) fn new<V: Into<Cell<'p>>>(
        heading: impl Into<Cow<'p, str>>,
        value: impl Fn(T) -> V + 'p,
    ) -> Column<'p, T> {
        Column {
            heading: heading.into(),
            value: Box::new(move |row| value(row).into()),
            tone: Tone::Body,
            boxed: Box::new(|_| false),
            marked: Box::new(|_| None),
            widest: WIDEST,
            narrowest: NARROWEST,
        }
    }

    /// The same column, to be seen first.
    pub(super) fn strong(mut self) -> Column<'p, T> {
        self.tone = Tone::Strong;
        self
    }

    /// The same column, with a box of so many characters to write in.
    pub(super) fn written_in(self, characters: usize) -> Column<'p, T> {
        self.written_in_where(characters, |_| true)
    }

    /// The same column, with a box of so many characters in the rows that want one.
    pub(super) fn written_in_where(
        mut self,
        characters: usize,
        wanted: impl Fn(T) -> bool + 'p,
    ) -> Column<'p, T> {
        self.boxed = Box::new(wanted);
        self.narrowest = characters;
        self
    }

    /// The same column, in some rows with a look of its own.
    pub(super) fn marked(mut self, tone: impl Fn(T) -> Option<Tone> + 'p) -> Column<'p, T> {
        self.marked = Box::new(tone);
        self
    }

    /// The same column, wrapping only at so many characters.
    pub(super) fn wide(mut self, characters: usize) -> Column<'p, T> {
        self.widest = characters;
        self
    }
}

/// How many columns of the sheet a table takes.
pub(super) fn span<T>(columns: &[Column<'_, T>]) -> u16 {
    u16::try_from(columns.len()).unwrap_or(u16::MAX)
}

/// How a sheet of tables is set up.
pub(super) struct Form<'p> {
    /// The sheet's name.
    pub name: &'static str,
    /// What stands in its first row.
    pub title: &'p str,
    /// The sentences under it.
    pub remarks: Vec<Cow<'p, str>>,
    /// How its cells are kept.
    pub keeping: Keeping,
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
}

/// The sheets of one name.
pub(super) struct Pages<'w, 'p> {
    workbook: &'w mut Workbook,
    press: &'p Press<'p>,
    form: Form<'p>,
    sheet: Sheet<'p>,
    number: usize,
    frozen: bool,
    /// Characters that each column's widest cell shows.
    widths: Vec<usize>,
}

impl<'w, 'p> Pages<'w, 'p> {
    /// Opens the first sheet and writes its title.
    pub(super) fn open(
        workbook: &'w mut Workbook,
        press: &'p Press<'p>,
        form: Form<'p>,
    ) -> Result<Pages<'w, 'p>, WorkbookError> {
        let sheet = Sheet::new(workbook, press, form.name.to_owned(), form.keeping, form.lie)?;
        let mut pages = Pages { workbook, press, form, sheet, number: 1, frozen: false, widths: Vec::new() };
        pages.head()?;
        Ok(pages)
    }

    /// The sheet being written, for what is no table.
    pub(super) fn sheet(&mut self) -> &mut Sheet<'p> {
        &mut self.sheet
    }

    /// Leaves a row empty and names the section that follows.
    pub(super) fn section(&mut self, name: &str, columns: u16) -> Result<(), WorkbookError> {
        // The name, the headings, a row and its foot stay together.
        const TOGETHER: u32 = 5;
        if self.sheet.row() + TOGETHER > self.press.limits.rows {
            self.turn()?;
        }
        self.sheet.next_row();
        self.sheet.put(0, name, Tone::Section)?;
        for column in 1..columns {
            self.sheet.put(column, Cell::Blank, Tone::Section)?;
        }
        self.sheet.next_row();
        Ok(())
    }

    /// Writes a sentence on a row of its own.
    pub(super) fn remark(&mut self, text: &str) -> Result<(), WorkbookError> {
        self.need_row()?;
        self.sheet.put(0, text, Tone::Remark)?;
        self.sheet.next_row();
        Ok(())
    }

    /// Writes a table's headings and a row for each of `rows`.
    pub(super) fn table<'c, T: Copy>(
        &mut self,
        columns: &[Column<'c, T>],
        rows: impl IntoIterator<Item = T>,
        tone: impl Fn(T) -> Tone,
    ) -> Result<(), WorkbookError> {
        self.headings(columns)?;
        self.rows(columns, rows, tone)
    }

    /// Writes rows under headings that stand already.
    pub(super) fn rows<'c, T: Copy>(
        &mut self,
        columns: &[Column<'c, T>],
        rows: impl IntoIterator<Item = T>,
        tone: impl Fn(T) -> Tone,
    ) -> Result<(), WorkbookError> {
        for row in rows {
            if self.sheet.row() >= self.press.limits.rows {
                self.turn()?;
                self.headings(columns)?;
            }
            let tone = tone(row);
            let mut lines = 1;
            for (place, column) in (0..).zip(columns) {
                let cell = (column.value)(row);
                self.widen(place, cell.characters().min(column.widest));
                lines = lines.max(cell.lines(column.widest));
                let tone = match (tone, (column.marked)(row)) {
                    _ if (column.boxed)(row) => Tone::WriteIn,
                    (_, Some(mark)) => mark,
                    (Tone::Body, None) => column.tone,
                    (tone, None) => tone,
                };
                self.sheet.put(place, cell, tone)?;
            }
            if lines > 1 {
                self.sheet.lines(lines)?;
            }
            self.sheet.next_row();
        }
        Ok(())
    }

    /// Writes a table's headings.
    pub(super) fn headings<T>(&mut self, columns: &[Column<'_, T>]) -> Result<(), WorkbookError> {
        self.need_row()?;
        let mut lines = 2;
        for (place, column) in (0..).zip(columns) {
            let characters = column.heading.chars().count();
            let longest_word = column.heading.split(' ').map(|word| word.chars().count()).max().unwrap_or(0);
            let width = self.widen(place, longest_word.max(characters.div_ceil(2)).max(column.narrowest));
            // Bold words do not always fill a line.
            lines = lines.max((characters + 2).div_ceil(width));
            self.sheet.put(place, &*column.heading, Tone::Heading)?;
        }
        self.sheet.lines(lines)?;
        self.sheet.next_row();
        if !self.frozen && self.form.frozen != Frozen::Title {
            self.freeze()?;
        }
        Ok(())
    }

    /// Makes a column hold at least so many characters; gives how many it holds.
    pub(super) fn widen(&mut self, column: u16, characters: usize) -> usize {
        let place = usize::from(column);
        if self.widths.len() <= place {
            self.widths.resize(place + 1, NARROWEST);
        }
        self.widths[place] = self.widths[place].max(characters);
        self.widths[place]
    }

    /// Hands the last sheet to the workbook.
    pub(super) fn finish(mut self) -> Result<(), WorkbookError> {
        self.set_widths()?;
        let Pages { workbook, sheet, .. } = self;
        workbook.push_worksheet(sheet.finish());
        Ok(())
    }

    fn need_row(&mut self) -> Result<(), WorkbookError> {
        if self.sheet.row() >= self.press.limits.rows { self.turn() } else { Ok(()) }
    }

    /// Goes on on a sheet of the next number.
    fn turn(&mut self) -> Result<(), WorkbookError> {
        self.set_widths()?;
        self.number += 1;
        let name = continued(self.form.name, self.number);
        let next = Sheet::new(self.workbook, self.press, name, self.form.keeping, self.form.lie)?;
        let full = std::mem::replace(&mut self.sheet, next);
        self.workbook.push_worksheet(full.finish());
        self.frozen = false;
        self.head()
    }

    fn head(&mut self) -> Result<(), WorkbookError> {
        self.sheet.put(0, self.form.title, Tone::Title)?;
        self.sheet.lines(2)?;
        self.sheet.next_row();
        for remark in &self.form.remarks {
            self.sheet.put(0, &**remark, Tone::Remark)?;
            self.sheet.next_row();
        }
        if self.form.frozen == Frozen::Title {
            self.freeze()?;
        }
        Ok(())
    }

    fn freeze(&mut self) -> Result<(), WorkbookError> {
        let row = self.sheet.row();
        let sheet = self.sheet.set_up().set_freeze_panes(row, 0)?;
        match self.form.frozen {
            Frozen::Headings | Frozen::Title => sheet.set_repeat_rows(0, row - 1)?,
            Frozen::HeadingsOfWide => sheet
                .set_repeat_rows(row - 1, row - 1)?
                .set_repeat_columns(0, 0)?
                .set_print_fit_to_pages(PAGES_WIDE, 0),
        };
        self.frozen = true;
        Ok(())
    }

    fn set_widths(&mut self) -> Result<(), WorkbookError> {
        for (column, &characters) in (0..).zip(&self.widths) {
            self.sheet.set_up().set_column_width(column, characters as f64 * 0.95 + 2.0)?;
        }
        Ok(())
    }
}
