//! Lays a page's lines out on a sheet, from the row that the sheet has come to.

use super::super::WorkbookError;
use super::super::cell::Cell;
use super::super::look::Tone;
use super::super::sheet::Sheet;
use super::line::{Line, Room};
use super::paper::Laid;
use super::pictures::Pictures;

/// A column of drawings, and six of names and figures.
const COLUMNS: u16 = 7;
const LAST: u16 = COLUMNS - 1;

/// How wide the columns are, and which of them the boxes take.
pub(super) struct Grid {
    /// Dots of each column, as spreadsheet programs count 96 to the inch.
    widths: [u32; COLUMNS as usize],
    /// First and last column of the boxes: measured, fitted, defects, signed.
    boxes: [(u16, u16); 4],
    /// The same of two halves.
    halves: [(u16, u16); 2],
}

/// Widths add up to 795 dots, 210 mm on the screen and 190 mm in print.
const WITH_DRAWINGS: Grid = Grid {
    widths: [378, 73, 66, 73, 66, 73, 66],
    boxes: [(0, 0), (1, 1), (2, 4), (5, 6)],
    halves: [(0, 0), (1, 6)],
};
const WITHOUT: Grid = Grid {
    widths: [231, 94, 94, 94, 94, 94, 94],
    boxes: [(0, 2), (3, 3), (4, 5), (6, 6)],
    halves: [(0, 2), (3, 6)],
};

impl Grid {
    /// How wide the places of texts are.
    pub(super) fn room(&self) -> Room {
        let wide = |(first, last): (u16, u16)| -> u32 {
            let columns = usize::from(first)..=usize::from(last);
            self.widths.get(columns).map_or(0, |widths| widths.iter().sum())
        };
        let [left, right] = self.halves.map(wide);
        Room { across: wide((0, LAST)), half: left.min(right), above: wide((0, 0)), beside: wide((2, LAST)) }
    }

    /// The columns where there are drawings, and where there are none.
    pub(super) const fn of(drawn: bool) -> &'static Grid {
        if drawn { &WITH_DRAWINGS } else { &WITHOUT }
    }

    /// Sets a sheet's columns.
    pub(super) fn set_columns(&self, sheet: &mut Sheet<'_>) -> Result<(), WorkbookError> {
        for (column, &width) in (0..).zip(&self.widths) {
            sheet.set_up().set_column_width_pixels(column, width)?;
        }
        Ok(())
    }

    /// Writes a unit's lines one under the other, from the top of a printed page.
    pub(super) fn lay(
        &self,
        sheet: &mut Sheet<'_>,
        laid: Laid<'_>,
        pictures: &Pictures,
    ) -> Result<(), WorkbookError> {
        let room = self.room();
        let mut breaks = std::iter::once(0).chain(laid.breaks).peekable();
        for (place, line) in laid.lines.into_iter().enumerate() {
            // Past the most that a sheet holds, pages break where they are full.
            if breaks.next_if_eq(&place).is_some() && !sheet.is_out_of_breaks() {
                sheet.break_page(0);
            }
            sheet.height(line.height(room))?;
            self.line(sheet, line, pictures)?;
            sheet.next_row();
        }
        Ok(())
    }

    fn line(&self, sheet: &mut Sheet<'_>, line: Line<'_>, pictures: &Pictures) -> Result<(), WorkbookError> {
        match line {
            Line::Title(title) => sheet.spread((0, LAST), title, Tone::PageTitle),
            Line::Words(words, tone) => sheet.spread((0, LAST), Cell::Text(words), tone),
            Line::Halves(halves, tone) => self
                .halves
                .into_iter()
                .zip(halves)
                .try_for_each(|(columns, words)| sheet.spread(columns, Cell::Text(words), tone)),
            Line::Band(name, tone) => sheet.spread((0, LAST), name, tone),
            Line::Facts(words, figures) => {
                sheet.put(0, words, Tone::PageCaution)?;
                named(sheet, figures)
            }
            Line::Links(links) => {
                for (columns, link) in [(0, 0), (1, 3), (4, 6)].into_iter().zip(links) {
                    sheet.spread(columns, link, Tone::PageWords)?;
                }
                Ok(())
            }
            Line::Size(opening, name, [width, drop]) => {
                if let Some(image) = pictures.get(opening) {
                    sheet.hang(0, image, &format!("Elevation of {name} seen from inside the room"))?;
                }
                for (column, name, size) in [(1, "Width", width), (4, "Drop", drop)] {
                    sheet.put(column, name, Tone::PageName)?;
                    sheet.spread((column + 1, column + 2), size, Tone::PageSize)?;
                }
                Ok(())
            }
            Line::Numbers(first, count) => {
                sheet.spread((1, 2), "Bracket centres", Tone::PageName)?;
                (3..)
                    .zip(first..first + count)
                    .try_for_each(|(column, number)| sheet.put(column, number.to_string(), Tone::PageNumber))
            }
            Line::Centres(name, centres) => {
                sheet.spread((1, 2), name, Tone::PageName)?;
                (3..).zip(centres).try_for_each(|(column, centre)| sheet.put(column, centre, Tone::PageKey))
            }
            Line::Pair(figures) => {
                for (column, (name, figure)) in [1, 4].into_iter().zip(figures) {
                    sheet.spread((column, column + 1), name, Tone::PageName)?;
                    sheet.put(column + 2, figure, Tone::PageKey)?;
                }
                Ok(())
            }
            Line::Figures(figures) => named(sheet, figures),
            Line::Beside(name, words) => {
                sheet.put(1, name, Tone::PageWords)?;
                sheet.spread((2, LAST), words, Tone::PageWords)
            }
            Line::Boxes => {
                let names =
                    ["Measured before drilling:   W                       H", "Fitted", "Defects", "Signed"];
                self.boxes
                    .into_iter()
                    .zip(names)
                    .try_for_each(|(columns, name)| sheet.spread(columns, name, Tone::WriteIn))
            }
            Line::Gap(_) => Ok(()),
        }
    }
}

/// Figures beside their names, from the second column on.
fn named<'c>(
    sheet: &mut Sheet<'_>,
    figures: impl IntoIterator<Item = (&'static str, Cell<'c>)>,
) -> Result<(), WorkbookError> {
    for (column, (name, figure)) in (1..).step_by(2).zip(figures) {
        sheet.put(column, name, Tone::PageName)?;
        sheet.put(column + 1, figure, Tone::PageKey)?;
    }
    Ok(())
}
