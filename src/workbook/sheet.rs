//! One sheet, written from the top row by row, with its page set up for print.

use rust_xlsxwriter::{Formula, Url, Workbook, Worksheet};

use super::cell::{Cell, Stored};
use super::layout::link_to;
use super::look::{Shown, Tone};
use super::{Press, WorkbookError};
use crate::length::Units;
use crate::report::expr::{Outcome, UNKNOWN};

/// How the cells of a sheet are kept until the file is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Keeping {
    /// In memory: for sheets of a page or a few.
    Memory,
    /// On disk, each text stored once: for tables of any length.
    Disk,
    /// On disk, texts in place: for tables of any length whose texts seldom recur.
    DiskInPlace,
}

/// How a page lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Lie {
    /// Upright.
    Portrait,
    /// On its side.
    Landscape,
    /// On its side, on a sheet of twice the size.
    Wide,
}

/// Paper numbers of the file format: US Letter and Tabloid, A4 and A3.
pub(super) const LETTER: u8 = 1;
const TABLOID: u8 = 3;
const A3: u8 = 8;
pub(super) const A4: u8 = 9;

/// Most characters of survey text in a page's header, which holds 255 in all.
const HEADER_TEXT: usize = 60;

/// A sheet with a cursor that only goes down, so that it can be kept on disk.
pub(super) struct Sheet<'p> {
    press: &'p Press<'p>,
    worksheet: Worksheet,
    name: String,
    row: u32,
    links: u32,
}

impl<'p> Sheet<'p> {
    /// An empty sheet.
    pub(super) fn new(
        workbook: &mut Workbook,
        press: &'p Press<'p>,
        name: String,
        keeping: Keeping,
        lie: Lie,
    ) -> Result<Sheet<'p>, WorkbookError> {
        let mut worksheet = match keeping {
            Keeping::Memory => Worksheet::new(),
            Keeping::Disk => workbook.new_worksheet_with_low_memory()?,
            Keeping::DiskInPlace => workbook.new_worksheet_with_constant_memory()?,
        };
        worksheet.set_name(&name)?;
        let project = &press.report.rules.project;
        worksheet.set_paper_size(match (project.units, lie) {
            (Units::Inches, Lie::Wide) => TABLOID,
            (Units::Inches, _) => LETTER,
            (Units::Millimetres, Lie::Wide) => A3,
            (Units::Millimetres, _) => A4,
        });
        match lie {
            Lie::Portrait => worksheet.set_portrait(),
            Lie::Landscape | Lie::Wide => worksheet.set_landscape(),
        };
        worksheet.set_margins(0.4, 0.4, 0.7, 0.6, 0.3, 0.3);
        worksheet.set_header(format!(
            "&L&\"Arial\"&8{}&C&\"Arial\"&8&A&R&\"Arial\"&8Revision {}",
            header_text(&project.name),
            header_text(&project.revision)
        ));
        worksheet.set_footer("&L&\"Arial\"&8Verify every size before ordering&R&\"Arial\"&8Page &P of &N");
        worksheet.set_screen_gridlines(false);
        worksheet.set_print_fit_to_pages(1, 0);
        Ok(Sheet { press, worksheet, name, row: 0, links: 0 })
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
    }

    /// What page set-up the sheet needs beside its own.
    pub(super) fn set_up(&mut self) -> &mut Worksheet {
        &mut self.worksheet
    }

    /// Sets the height of the row that is being written, in lines of text.
    pub(super) fn lines(&mut self, lines: usize) -> Result<(), WorkbookError> {
        const POINTS: u32 = 12;
        // A row is at most 409 points high; what does not fit is still in the cell.
        const MOST: u32 = 408;
        let points = u32::try_from(lines).unwrap_or(MOST).saturating_mul(POINTS).clamp(POINTS, MOST);
        self.worksheet.set_row_height(self.row, points)?;
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
                    Outcome::Unknown => UNKNOWN.to_owned(),
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
                    look.format(Tone::Link, Shown::Plain),
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

    /// The finished sheet.
    pub(super) fn finish(self) -> Worksheet {
        self.worksheet
    }

    fn within_limits(&self) -> Result<(), WorkbookError> {
        let rows = self.press.limits.rows;
        if self.row < rows { Ok(()) } else { Err(WorkbookError::Full { sheet: self.name.clone(), rows }) }
    }
}

/// Survey text in a page's header: its `&` is no code, and it is no longer than there is room for.
fn header_text(text: &str) -> String {
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let mut kept: String = text.chars().filter(|letter| !letter.is_control()).take(HEADER_TEXT).collect();
    if kept.len() < text.len() {
        kept.push('…');
    }
    kept.replace('&', "&&")
}
