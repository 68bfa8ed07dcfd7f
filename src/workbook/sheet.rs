//! One sheet, written from the top row by row, with its page set up for print.
//!
//! Rows that fold are kept in memory, for the writer's sheets on disk know of none; past
//! `Limits::folding_rows` they are on disk and do not fold.
//!
//! Sheets with page breaks are fitted to a page's width and no height: programs then keep the
//! breaks between rows.

use rust_xlsxwriter::{Formula, Image, Url, Worksheet};

use super::cell::{Cell, Stored};
use super::layout::link_to;
use super::look::Tone;
use super::paper::{Lie, MARGINS, Papers};
use super::shown::Shown;
use super::{Limits, Press, WorkbookError, stamp};
use crate::name;
use crate::report::expr::{Outcome, UNKNOWN};

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

/// A sheet with a cursor that only goes down, so that it can be kept on disk.
pub(super) struct Sheet<'p> {
    press: &'p Press<'p>,
    worksheet: Worksheet,
    name: String,
    row: u32,
    links: u32,
    keeping: Keeping,
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
        let mut worksheet = match keeping {
            Keeping::Memory => Worksheet::new(),
            Keeping::Disk => press.sheet_on_disk()?,
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
            name,
            row: 0,
            links: 0,
            keeping,
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
    pub(super) fn next_row(&mut self) {
        self.row += 1;
        self.used += self.tall;
        self.tall = ROW;
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
        if self.keeping == Keeping::Memory {
            // The height first: the writer counts a sheet's levels only on rows that it knows.
            self.worksheet.set_row_height(self.row, self.tall)?.group_rows(self.row, self.row)?;
        }
        Ok(())
    }

    /// What page set-up the sheet needs beside its own.
    pub(super) fn set_up(&mut self) -> &mut Worksheet {
        &mut self.worksheet
    }

    /// Sets the height of the row that is being written, in lines of text.
    pub(super) fn lines(&mut self, lines: usize) -> Result<(), WorkbookError> {
        self.height(height_of(lines))
    }

    /// Sets the height of the row that is being written, in points.
    pub(super) fn height(&mut self, points: u32) -> Result<(), WorkbookError> {
        self.tall = points.min(MOST_POINTS);
        self.worksheet.set_row_height(self.row, self.tall)?;
        Ok(())
    }

    /// Hangs a picture from a cell of the row that is being written; `words` say what it shows.
    pub(super) fn hang(&mut self, column: u16, image: &Image, words: &str) -> Result<(), WorkbookError> {
        /// Dots between the picture and the cell's lines.
        const INSET: u32 = 2;
        let image = image.clone().set_alt_text(words);
        self.worksheet.insert_image_with_offset(self.row, column, &image, INSET, INSET)?;
        Ok(())
    }

    /// Writes a cell in the row that is being written.
    pub(super) fn put<'c>(
        &mut self,
        column: u16,
        cell: impl Into<Cell<'c>>,
        tone: Tone,
    ) -> Result<(), WorkbookError> {
        let (cell, row, look) = (cell.into(), self.row, &self.press.look);
        self.within_limits()?;
        match cell.stored(self.press.length_units()) {
            Stored::Blank => self.worksheet.write_blank(row, column, look.format(tone, Shown::Plain))?,
            Stored::Unknown => {
                // Aligned as the number would be.
                self.worksheet.write_string_with_format(
                    row,
                    column,
                    UNKNOWN,
                    look.format(tone, Shown::Whole),
                )?
            }
            Stored::Text(text) => {
                self.worksheet.write_string_with_format(row, column, text, look.format(tone, Shown::Plain))?
            }
            Stored::Number(number, shown) => {
                self.worksheet.write_number_with_format(row, column, number, look.format(tone, shown))?
            }
            Stored::Formula(formula, shown) => {
                let result = match formula.outcome() {
                    Outcome::Number(number) => number.normalize().to_string(),
                    Outcome::Word(word) => word.to_string(),
                };
                let live = Formula::new(formula.text()).set_result(result);
                self.worksheet.write_formula_with_format(row, column, live, look.format(tone, shown))?
            }
            Stored::Link(_, text) if self.links >= self.press.limits.links => {
                self.worksheet.write_string_with_format(row, column, text, look.format(tone, Shown::Plain))?
            }
            Stored::Link(address, text) => {
                self.links += 1;
                let link = Url::new(link_to(address)).set_text(text);
                self.worksheet.write_url_with_format(
                    row,
                    column,
                    &link,
                    look.format(tone.of_link(), Shown::Plain),
                )?
            }
        };
        Ok(())
    }

    /// Writes one text over several columns of the row that is being written, both ends included.
    pub(super) fn spread<'c>(
        &mut self,
        columns: (u16, u16),
        cell: impl Into<Cell<'c>>,
        tone: Tone,
    ) -> Result<(), WorkbookError> {
        let (first, last) = columns;
        if first < last {
            let format = self.press.look.format(tone, Shown::Plain);
            self.within_limits()?;
            self.worksheet.merge_range(self.row, first, self.row, last, "", format)?;
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
            let format = self.press.look.format(tone, Shown::Plain);
            self.within_limits()?;
            self.worksheet.merge_range(self.row, column, self.row + rows - 1, column, "", format)?;
        }
        self.put(column, words, tone)
    }

    /// Sets the breaks. They hold although the sheet is fitted to a page's width: programs pass over
    /// breaks only in the direction in which they fit.
    pub(super) fn set_breaks(&mut self) -> Result<(), WorkbookError> {
        self.worksheet.set_page_breaks(&self.breaks)?;
        Ok(())
    }

    /// The finished sheet.
    pub(super) fn finish(self) -> Worksheet {
        self.worksheet
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
