//! One sheet, written from the top row by row, with its page set up for print.
//!
//! Rows that fold are kept in memory, for rows on disk know of none; past `Limits::folding_rows` they are
//! on disk and do not fold.
//!
//! Sheets with page breaks are fitted to a page's width and no height: programs then keep the
//! breaks between rows.

use rust_xlsxwriter::{Formula, Image, Url, Worksheet, XlsxError};

use super::bound::Filled;
use super::cell::{Cell, Stored};
use super::layout::link_to;
use super::look::Tone;
use super::paper::{Lie, MARGINS, Papers};
use super::rows::Rows;
use super::shown::Shown;
use super::{Limits, Press, WorkbookError, stamp};
use crate::name;
use crate::report::expr::{self, Address, UNKNOWN};

/// How the cells of a sheet are kept until the file is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Keeping {
    /// In memory: for sheets of a page or a few, and those whose rows fold, which the others cannot.
    Memory,
    /// On disk: for tables of any length.
    Disk,
}

impl Keeping {
    /// How a sheet of so many rows is kept if some are to fold.
    pub(super) fn folding(rows: usize, limits: Limits) -> Keeping {
        if rows <= limits.folding_rows { Keeping::Memory } else { Keeping::Disk }
    }
}

/// Height of a row that nobody set, in points.
pub(super) const ROW: u32 = 15;

/// Most UTF-16 units of one survey text in a page's header, which holds 255 in all.
const HEADER_TEXT: usize = 52;

/// Most points of a row, which may be 409 high; what does not fit is still in its cell.
const MOST_POINTS: u32 = 408;

/// A sheet with a cursor that only goes down, so that its rows can be on disk.
pub(super) struct Sheet<'p> {
    press: &'p Press<'p>,
    worksheet: Worksheet,
    /// The rows, where they are on disk: the worksheet is then all else of the sheet.
    rows: Option<Rows>,
    name: String,
    row: u32,
    links: u32,
    /// Whether a picture hangs from any row: where it is depends on the heights of the rows.
    hung: bool,
    /// Rows on disk and their heights in points, which the worksheet knows only where a picture hangs.
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
    pub(super) fn new(
        press: &'p Press<'p>,
        name: String,
        keeping: Keeping,
        lie: Lie,
    ) -> Result<Sheet<'p>, WorkbookError> {
        let (mut worksheet, rows) = match keeping {
            Keeping::Memory => (Worksheet::new(), None),
            Keeping::Disk => (press.frame()?, Some(Rows::new().map_err(XlsxError::from)?)),
        };
        worksheet.set_name(&name)?;
        let project = &press.report.rules.project;
        let papers = Papers::of(project);
        worksheet.set_paper_size(papers.number(lie));
        match lie {
            Lie::Portrait => worksheet.set_portrait(),
            Lie::Landscape | Lie::Wide => worksheet.set_landscape(),
        };
        let [left, right, top, bottom, header, footer] = MARGINS;
        worksheet.set_margins(left, right, top, bottom, header, footer);
        let stamp = stamp(press.report, header_text);
        worksheet.set_header(format!(
            "&L&\"Arial\"&8{}&C&\"Arial\"&8&A&R&\"Arial\"&8{}",
            header_text(&project.name),
            stamp
        ));
        worksheet.set_footer(format!(
            "&L&\"Arial\"&8Verify every size before ordering&C&\"Arial\"&8{}&R&\"Arial\"&8Page &P of &N",
            stamp
        ));
        worksheet.set_screen_gridlines(false);
        worksheet.set_print_fit_to_pages(papers.across(lie), 0);
        worksheet.group_symbols_above(true);
        Ok(Sheet {
            press,
            worksheet,
            rows,
            name,
            row: 0,
            links: 0,
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
        if let Some(rows) = &mut self.rows {
            rows.next_row().map_err(XlsxError::from)?;
            if self.tall != self.usual {
                self.heights.push((self.row, self.tall));
            }
            if self.hung {
                for (row, points) in self.heights.drain(..) {
                    self.worksheet.set_row_height(row, points)?;
                }
            }
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

    /// Lets the row that is being written fold away under the last one that does not. Rows that are
    /// kept on disk do not fold.
    pub(super) fn fold(&mut self) -> Result<(), WorkbookError> {
        if self.rows.is_none() {
            // The height first: the writer counts a sheet's levels only on rows that it knows.
            self.worksheet.set_row_height(self.row, self.tall)?.group_rows(self.row, self.row)?;
        }
        Ok(())
    }

    /// What page set-up the sheet needs beside its own.
    pub(super) fn set_up(&mut self) -> &mut Worksheet {
        &mut self.worksheet
    }

    /// Sets the height of the rows whose own is not set, in points.
    pub(super) fn set_usual_height(&mut self, points: u32) {
        self.worksheet.set_default_row_height(points);
        if let Some(rows) = &mut self.rows {
            rows.set_usual_height(points);
        }
        (self.usual, self.tall) = (points, points);
    }

    /// Sets the height of the row that is being written, in lines of text.
    pub(super) fn lines(&mut self, lines: usize) -> Result<(), WorkbookError> {
        self.height(height_of(lines))
    }

    /// Sets the height of the row that is being written, in points.
    pub(super) fn height(&mut self, points: u32) -> Result<(), WorkbookError> {
        self.tall = points.min(MOST_POINTS);
        match &mut self.rows {
            Some(rows) => rows.set_height(self.tall),
            None => {
                self.worksheet.set_row_height(self.row, self.tall)?;
            }
        }
        Ok(())
    }

    /// Hangs a picture from a cell of the row that is being written; `words` say what it shows.
    pub(super) fn hang(&mut self, column: u16, image: &Image, words: &str) -> Result<(), WorkbookError> {
        /// Dots between the picture and the cell's lines.
        const INSET: u32 = 2;
        let image = image.clone().set_alt_text(words);
        self.worksheet.insert_image_with_offset(self.row, column, &image, INSET, INSET)?;
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
        match cell.stored(self.press.length_units()) {
            Stored::Blank => self.blank(column, tone),
            // Aligned as the number would be.
            Stored::Unknown => self.text(column, UNKNOWN, tone, Shown::Whole),
            Stored::Text(text) => self.text(column, &text, tone, Shown::Plain),
            Stored::Number(number, shown) => self.number(column, number, tone, shown),
            Stored::Formula(formula, shown) => self.formula(column, formula, tone, shown),
            Stored::Link(_, text) if self.links >= self.press.limits.links => {
                self.text(column, &text, tone, Shown::Plain)
            }
            Stored::Link(address, text) => self.link(column, address, &text, tone.of_link()),
        }
    }

    fn blank(&mut self, column: u16, tone: Tone) -> Result<(), WorkbookError> {
        let look = &self.press.look;
        match &mut self.rows {
            Some(rows) => rows.blank(column, look.number(tone, Shown::Plain)),
            None => {
                self.worksheet.write_blank(self.row, column, look.format(tone, Shown::Plain))?;
            }
        }
        Ok(())
    }

    fn text(&mut self, column: u16, text: &str, tone: Tone, shown: Shown) -> Result<(), WorkbookError> {
        let look = &self.press.look;
        match &mut self.rows {
            Some(rows) => rows.text(column, look.number(tone, shown), text),
            None => {
                let format = look.format(tone, shown);
                self.worksheet.write_string_with_format(self.row, column, text, format)?;
            }
        }
        Ok(())
    }

    fn number(&mut self, column: u16, number: f64, tone: Tone, shown: Shown) -> Result<(), WorkbookError> {
        let look = &self.press.look;
        match &mut self.rows {
            Some(rows) => rows.number(column, look.number(tone, shown), number),
            None => {
                let format = look.format(tone, shown);
                self.worksheet.write_number_with_format(self.row, column, number, format)?;
            }
        }
        Ok(())
    }

    fn formula(
        &mut self,
        column: u16,
        formula: &expr::Formula,
        tone: Tone,
        shown: Shown,
    ) -> Result<(), WorkbookError> {
        let look = &self.press.look;
        match &mut self.rows {
            Some(rows) => rows.formula(column, look.number(tone, shown), formula),
            None => {
                let live = Formula::new(formula.text()).set_result(formula.outcome().to_string());
                let format = look.format(tone, shown);
                self.worksheet.write_formula_with_format(self.row, column, live, format)?;
            }
        }
        Ok(())
    }

    fn link(&mut self, column: u16, to: &Address, text: &str, tone: Tone) -> Result<(), WorkbookError> {
        self.links += 1;
        let link = Url::new(link_to(to)).set_text(text);
        let format = self.press.look.format(tone, Shown::Plain);
        self.worksheet.write_url_with_format(self.row, column, &link, format)?;
        if let Some(rows) = &mut self.rows {
            rows.text(column, self.press.look.number(tone, Shown::Plain), text);
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
        let format = self.press.look.format(tone, Shown::Plain);
        self.worksheet.merge_range(rows.0, columns.0, rows.1, columns.1, "", format)?;
        if let Some(kept) = &mut self.rows {
            let look = self.press.look.number(tone, Shown::Plain);
            for (row, column) in
                (rows.0..=rows.1).flat_map(|row| (columns.0..=columns.1).map(move |column| (row, column)))
            {
                kept.blank_in(row, column, look);
            }
        }
        Ok(())
    }

    /// Sets the breaks. They hold although the sheet is fitted to a page's width: programs pass over
    /// breaks only in the direction in which they fit.
    pub(super) fn set_breaks(&mut self) -> Result<(), WorkbookError> {
        self.worksheet.set_page_breaks(&self.breaks)?;
        Ok(())
    }

    /// The finished sheet.
    pub(super) fn finish(mut self) -> Result<Filled, WorkbookError> {
        if let Some(rows) = &mut self.rows
            && let Some((row, column)) = rows.end().map_err(XlsxError::from)?
        {
            self.worksheet.write_blank(row, column, self.press.look.format(Tone::Body, Shown::Plain))?;
        }
        Ok(Filled { frame: self.worksheet, rows: self.rows })
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
