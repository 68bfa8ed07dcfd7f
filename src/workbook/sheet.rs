//! One sheet, written from the top row by row, with its page set up for print. Its cells are [`Rows`], its
//! blocks and links [`Beneath`] them; all else is the library's, its frame.
//!
//! Sheets with page breaks are fitted to a page's width and no height: programs then keep the
//! breaks between rows.

use rust_decimal::prelude::ToPrimitive;
use rust_xlsxwriter::{Chart, Image, Worksheet};

use super::beneath::Beneath;
use super::bound::Filled;
use super::cell::{Cell, Stored};
use super::look::Tone;
use super::paper::{Lie, MARGINS, Papers};
use super::rows::Rows;
use super::shown::Shown;
use super::{Press, WorkbookError, stamp};
use crate::name;
use crate::report::expr::UNKNOWN;

/// Height of a row that nobody set, in points.
pub(super) const ROW: u32 = 15;

/// Most UTF-16 units of one survey text in a page's header, which holds 255 in all.
const HEADER_TEXT: usize = 52;

/// Most points of a row, which may be 409 high; what does not fit is still in its cell.
const MOST_POINTS: u32 = 408;

/// A sheet with a cursor that only goes down, so that a row that is written is gone.
pub(super) struct Sheet<'p> {
    press: &'p Press<'p>,
    /// All of the sheet but its rows.
    frame: Worksheet,
    rows: Rows,
    beneath: Beneath,
    name: String,
    row: u32,
    links: u32,
    /// Whether any row folds.
    folds: bool,
    /// Whether what is written is shown by a chart, which keeps it a second time.
    charted: bool,
    /// Whether a picture or a chart hangs from any row: where it is depends on the heights of the rows.
    hung: bool,
    /// Rows and their heights in points, where they are not the usual one.
    heights: Vec<(u32, u32)>,
    /// Height of rows whose own is not set, in points.
    usual: u32,
    /// Height of the row that is being written, in points.
    tall: u32,
    /// Points of the page that the rows above take.
    used: u32,
    /// Rows that begin a page.
    breaks: Vec<u32>,
}

impl<'p> Sheet<'p> {
    /// An empty sheet.
    pub(super) fn new(press: &'p Press<'p>, name: String, lie: Lie) -> Result<Sheet<'p>, WorkbookError> {
        let mut frame = Worksheet::new();
        frame.set_name(&name)?;
        let project = &press.report.rules.project;
        let papers = Papers::of(project);
        frame.set_paper_size(papers.number(lie));
        match lie {
            Lie::Portrait => frame.set_portrait(),
            Lie::Landscape | Lie::Wide => frame.set_landscape(),
        };
        let [left, right, top, bottom, header, footer] = MARGINS;
        frame.set_margins(left, right, top, bottom, header, footer);
        let stamp = stamp(press.report, header_text);
        frame.set_header(format!(
            "&L&\"Arial\"&8{}&C&\"Arial\"&8&A&R&\"Arial\"&8{}",
            header_text(&project.name),
            stamp
        ));
        frame.set_footer(format!(
            "&L&\"Arial\"&8Verify every size before ordering&C&\"Arial\"&8{}&R&\"Arial\"&8Page &P of &N",
            stamp
        ));
        frame.set_screen_gridlines(false);
        frame.set_print_fit_to_pages(papers.across(lie), 0);
        frame.group_symbols_above(true);
        Ok(Sheet {
            press,
            frame,
            rows: Rows::new(),
            beneath: Beneath::default(),
            name,
            row: 0,
            links: 0,
            folds: false,
            charted: false,
            hung: false,
            heights: Vec::new(),
            usual: ROW,
            tall: ROW,
            used: 0,
            breaks: Vec::new(),
        })
    }

    /// The sheet's name.
    pub(super) fn name(&self) -> &str {
        &self.name
    }

    /// The row that is being written, from 0.
    pub(super) fn row(&self) -> u32 {
        self.row
    }

    /// Goes on to the next row.
    pub(super) fn next_row(&mut self) -> Result<(), WorkbookError> {
        self.rows.next_row()?;
        if self.tall != self.usual {
            self.heights.push((self.row, self.tall));
        }
        self.row += 1;
        self.used += self.tall;
        self.tall = self.usual;
        Ok(())
    }

    /// Points of the page that the rows above take.
    pub(super) fn used(&self) -> u32 {
        self.used
    }

    /// Whether as many pages have begun by a break as a sheet can hold.
    pub(super) fn is_out_of_breaks(&self) -> bool {
        self.breaks.len() >= self.press.limits.breaks
    }

    /// Begins a page with the row that is being written, under so many points of rows that come
    /// again on every page.
    pub(super) fn break_page(&mut self, repeated: u32) {
        if self.row > 0 && self.breaks.last() != Some(&self.row) {
            self.breaks.push(self.row);
            self.used = repeated;
        }
    }

    /// Lets the row that is being written fold away under the last one that does not.
    pub(super) fn fold(&mut self) {
        self.rows.fold();
        self.folds = true;
    }

    /// Begins what a chart shows: it keeps the values, for programs that read the chart alone.
    pub(super) fn begin_charted(&mut self) {
        self.charted = true;
    }

    /// Ends it.
    pub(super) fn end_charted(&mut self) {
        self.charted = false;
    }

    /// What page set-up the sheet needs beside its own.
    pub(super) fn set_up(&mut self) -> &mut Worksheet {
        &mut self.frame
    }

    /// Sets the height of the rows whose own is not set, in points.
    pub(super) fn set_usual_height(&mut self, points: u32) {
        self.frame.set_default_row_height(points);
        self.rows.set_usual_height(points);
        (self.usual, self.tall) = (points, points);
    }

    /// Sets the height of the row that is being written, in lines of text.
    pub(super) fn lines(&mut self, lines: usize) {
        self.height(height_of(lines));
    }

    /// Sets the height of the row that is being written, in points.
    pub(super) fn height(&mut self, points: u32) {
        self.tall = points.min(MOST_POINTS);
        self.rows.set_height(self.tall);
    }

    /// Hangs a picture from a cell of the row that is being written; `words` say what it shows.
    pub(super) fn hang(&mut self, column: u16, image: &Image, words: &str) -> Result<(), WorkbookError> {
        /// Dots between the picture and the cell's lines.
        const INSET: u32 = 2;
        let image = image.clone().set_alt_text(words);
        self.frame.insert_image_with_offset(self.row, column, &image, INSET, INSET)?;
        self.hung = true;
        Ok(())
    }

    /// Hangs a chart from a cell, so many dots to the right of its corner and below it.
    pub(super) fn hang_chart(
        &mut self,
        (row, column): (u32, u16),
        chart: &Chart,
        (right, down): (u32, u32),
    ) -> Result<(), WorkbookError> {
        self.frame.insert_chart_with_offset(row, column, chart, right, down)?;
        self.hung = true;
        Ok(())
    }

    /// Writes a cell in the row that is being written.
    pub(super) fn put<'c>(
        &mut self,
        column: u16,
        cell: impl Into<Cell<'c>>,
        tone: Tone,
    ) -> Result<(), WorkbookError> {
        let cell = cell.into();
        self.within_limits()?;
        let stored = cell.stored(self.press.length_units());
        if self.charted {
            self.keep_for_charts(column, &stored)?;
        }
        let look = |shown| self.press.look.number(tone, shown);
        match stored {
            Stored::Blank => self.rows.blank(column, look(Shown::Plain)),
            // Aligned as the number would be.
            Stored::Unknown => self.rows.text(column, look(Shown::Whole), UNKNOWN),
            Stored::Text(text) => self.rows.text(column, look(Shown::Plain), &text),
            Stored::Number(number, shown) => self.rows.number(column, look(shown), number),
            Stored::Formula(formula, shown) => self.rows.formula(column, look(shown), formula),
            Stored::Link(_, text) if self.links >= self.press.limits.links => {
                self.rows.text(column, look(Shown::Plain), &text);
            }
            Stored::Link(address, text) => {
                self.links += 1;
                self.beneath.link(self.row, column, address, &text);
                self.rows.text(column, self.press.look.number(tone.of_link(), Shown::Plain), &text);
            }
        }
        Ok(())
    }

    /// Lets a cell's value be kept by the charts that show it: they take texts and numbers from the frame, and
    /// know no formulas.
    fn keep_for_charts(&mut self, column: u16, stored: &Stored<'_>) -> Result<(), WorkbookError> {
        let number = match stored {
            Stored::Text(text) => {
                self.frame.write_string(self.row, column, &**text)?;
                None
            }
            Stored::Number(number, _) => Some(*number),
            Stored::Formula(formula, _) => formula.outcome().number().and_then(|number| number.to_f64()),
            Stored::Blank | Stored::Unknown | Stored::Link(..) => None,
        };
        if let Some(number) = number {
            self.frame.write_number(self.row, column, number)?;
        }
        Ok(())
    }

    /// Writes one text over several columns of the row that is being written, both ends included.
    pub(super) fn spread<'c>(
        &mut self,
        (first, last): (u16, u16),
        cell: impl Into<Cell<'c>>,
        tone: Tone,
    ) -> Result<(), WorkbookError> {
        if first < last {
            self.merge((self.row, self.row), (first, last), tone)?;
        }
        self.put(first, cell, tone)
    }

    /// Writes one text beside the row that is being written and those below it, so many in all.
    pub(super) fn stand_beside(
        &mut self,
        rows: u32,
        column: u16,
        words: String,
        tone: Tone,
    ) -> Result<(), WorkbookError> {
        if rows > 1 {
            self.merge((self.row, self.row + rows - 1), (column, column), tone)?;
        }
        self.put(column, words, tone)
    }

    /// Makes one cell of a block, both ends included.
    fn merge(&mut self, rows: (u32, u32), columns: (u16, u16), tone: Tone) -> Result<(), WorkbookError> {
        self.within_limits()?;
        self.beneath.block(rows, columns);
        let look = self.press.look.number(tone, Shown::Plain);
        for row in rows.0..=rows.1 {
            for column in columns.0..=columns.1 {
                self.rows.blank_in(row, column, look);
            }
        }
        Ok(())
    }

    /// Sets the breaks. They hold although the sheet is fitted to a page's width: programs pass over
    /// breaks only in the direction in which they fit.
    pub(super) fn set_breaks(&mut self) -> Result<(), WorkbookError> {
        self.frame.set_page_breaks(&self.breaks)?;
        Ok(())
    }

    /// The finished sheet.
    pub(super) fn finish(mut self) -> Result<Filled, WorkbookError> {
        if let Some((row, column)) = self.rows.end()? {
            // It says how far the rows reach, from the first cell on.
            let blank = self.press.look.format(Tone::Body, Shown::Plain);
            self.frame.write_blank(0, 0, blank)?.write_blank(row, column, blank)?;
        }
        if self.folds {
            // It says that there are rows that fold. The height first: the library counts a sheet's levels only
            // on rows that it knows.
            self.frame.set_row_height(0, ROW)?.group_rows(0, 0)?;
        }
        if self.hung {
            for (row, points) in self.heights {
                self.frame.set_row_height(row, points)?;
            }
        }
        Ok(Filled { frame: self.frame, rows: self.rows, beneath: self.beneath })
    }

    fn within_limits(&self) -> Result<(), WorkbookError> {
        let rows = self.press.limits.rows;
        if self.row < rows { Ok(()) } else { Err(WorkbookError::Full { sheet: self.name.clone(), rows }) }
    }
}

/// Points that so many lines of text take.
pub(super) fn height_of(lines: usize) -> u32 {
    const POINTS: u32 = 12;
    u32::try_from(lines).unwrap_or(MOST_POINTS).saturating_mul(POINTS).max(POINTS)
}

/// Survey text in a page's header: its `&` is no code, a number at its start does not go on from the size
/// of the letters before it, and it is no longer than there is room for.
fn header_text(text: &str) -> String {
    let text: String = text.chars().map(|letter| if name::steers(letter) { ' ' } else { letter }).collect();
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ").replace('&', "&&");
    let mut room = HEADER_TEXT;
    let fits = |letter: &char| {
        let fits = letter.len_utf16() <= room;
        room = room.saturating_sub(letter.len_utf16());
        fits
    };
    let mut kept: String = text.chars().take_while(fits).collect();
    if kept.len() < text.len() {
        // Half of a doubled `&` would be a code.
        kept.truncate(kept.trim_end_matches('&').len());
        kept.push('…');
    }
    if kept.starts_with(|letter: char| letter.is_ascii_digit()) { format!(" {kept}") } else { kept }
}
