//! Lays a page's lines out on a sheet, from the row that the sheet has come to.

use super::super::WorkbookError;
use super::super::cell::Cell;
use super::super::look::Tone;
use super::super::sheet::Sheet;
use super::line::{Line, Room};
use super::paper::{Laid, Paper};
use super::pictures::Images;
use super::side::Beside;

/// Columns of a block: one of drawings, and six of names and figures.
const COLUMNS: u16 = 7;
/// Dots between two blocks side by side, so that both fill the paper at the scale of one.
const GUTTER: u32 = 112;
/// The same where the notes stand beside them, and the notes' own width: together they fill the paper at the
/// smaller scale.
const NARROW_GUTTER: u32 = 12;
const SIDE: u32 = 330;

/// Column of the notes beside two blocks.
const SIDE_COLUMN: u16 = 2 * COLUMNS + 2;

/// How wide the columns are, and which of them the boxes take.
pub(super) struct Grid {
    /// Dots of each column of a block, as spreadsheet programs count 96 to the inch.
    widths: [u32; COLUMNS as usize],
    /// First and last column of the boxes: measured, fitted, defects, signed.
    boxes: [(u16, u16); 4],
    /// The same of the page's two halves.
    halves: [(u16, u16); 2],
    paper: Paper,
}

/// First and last column that lines take: those of the page, or those of one block.
type Columns = (u16, u16);

/// Widths of a block add up to 795 dots, 210 mm on the screen and 190 mm in print.
const WITH_DRAWINGS: Grid = Grid {
    widths: [378, 73, 66, 73, 66, 73, 66],
    boxes: [(0, 0), (1, 1), (2, 4), (5, 6)],
    halves: [(0, 0), (1, 6)],
    paper: Paper::Upright,
};
const WITHOUT: Grid = Grid {
    widths: [231, 94, 94, 94, 94, 94, 94],
    boxes: [(0, 2), (3, 3), (4, 5), (6, 6)],
    halves: [(0, 2), (3, 6)],
    paper: Paper::Upright,
};

impl Grid {
    /// The columns where there are drawings, and where there are none.
    pub(super) const fn of(drawn: bool, paper: Paper) -> Grid {
        let grid = if drawn { WITH_DRAWINGS } else { WITHOUT };
        if paper.is_double() {
            Grid { halves: [(0, COLUMNS - 1), (COLUMNS + 1, 2 * COLUMNS)], paper, ..grid }
        } else {
            grid
        }
    }

    /// How wide the places of texts are.
    pub(super) fn room(&self) -> Room {
        let widths = self.all_widths();
        let wide = |(first, last): Columns| -> u32 {
            widths.get(usize::from(first)..=usize::from(last)).map_or(0, |widths| widths.iter().sum())
        };
        let [left, right] = self.halves.map(wide);
        Room {
            across: wide(self.page()),
            block: wide((0, COLUMNS - 1)),
            half: left.min(right),
            above: wide((0, 0)),
            beside: wide((2, COLUMNS - 1)),
            side: if self.paper.has_side() { SIDE } else { 0 },
        }
    }

    fn all_widths(&self) -> Vec<u32> {
        match (self.paper.is_double(), self.paper.has_side()) {
            (true, false) => [&self.widths[..], &[GUTTER], &self.widths[..]].concat(),
            (true, true) => {
                let side = [NARROW_GUTTER, SIDE];
                [&self.widths[..], &[NARROW_GUTTER], &self.widths[..], &side[..]].concat()
            }
            (false, _) => self.widths.to_vec(),
        }
    }

    const fn page(&self) -> Columns {
        if self.paper.is_double() { (0, 2 * COLUMNS) } else { (0, COLUMNS - 1) }
    }

    /// Sets a sheet's columns.
    pub(super) fn set_columns(&self, sheet: &mut Sheet<'_>) -> Result<(), WorkbookError> {
        for (column, width) in (0..).zip(self.all_widths()) {
            sheet.set_up().set_column_width_pixels(column, width)?;
        }
        Ok(())
    }

    /// Writes a unit's lines one under the other, from the top of a printed page.
    pub(super) fn lay(
        &self,
        sheet: &mut Sheet<'_>,
        laid: Laid<'_>,
        pictures: &Images,
    ) -> Result<(), WorkbookError> {
        let room = self.room();
        let mut breaks = std::iter::once(0).chain(laid.breaks).peekable();
        let mut side = laid.side.into_iter().peekable();
        for (place, line) in laid.lines.into_iter().enumerate() {
            // Past the most that a sheet holds, pages break where they are full.
            if breaks.next_if_eq(&place).is_some() && !sheet.is_out_of_breaks() {
                sheet.break_page(0);
            }
            sheet.height(line.height(room));
            if let Some(Beside { lines, words, tone }) = side.next_if(|side| *side.lines.start() == place) {
                let rows = u32::try_from(lines.count()).unwrap_or(1);
                sheet.stand_beside(rows, SIDE_COLUMN, words, tone)?;
            }
            self.line(sheet, line, self.page(), pictures)?;
            sheet.next_row()?;
        }
        Ok(())
    }

    fn line(
        &self,
        sheet: &mut Sheet<'_>,
        line: Line<'_>,
        (first, last): Columns,
        pictures: &Images,
    ) -> Result<(), WorkbookError> {
        match line {
            Line::Title(title) => sheet.spread((first, last), title, Tone::PageTitle),
            Line::Words(words, tone) => sheet.spread((first, last), Cell::Text(words), tone),
            Line::Halves(halves, tone) => self
                .halves
                .into_iter()
                .zip(halves)
                .try_for_each(|(columns, words)| sheet.spread(columns, Cell::Text(words), tone)),
            Line::Band(name, tone) => sheet.spread((first, last), name, tone),
            Line::Facts(words, figures) => {
                sheet.put(first, words, Tone::PageCaution)?;
                named(sheet, first, figures)
            }
            Line::Links(links) => {
                for ((from, to), link) in [(0, 0), (1, 3), (4, 6)].into_iter().zip(links) {
                    sheet.spread((first + from, first + to), link, Tone::PageWords)?;
                }
                Ok(())
            }
            Line::Size(opening, name, [width, drop]) => {
                if let Some(image) = pictures.get(opening) {
                    sheet.hang(first, image, &format!("Elevation of {name} seen from inside the room"))?;
                }
                for (column, name, size) in [(first + 1, "Width", width), (first + 4, "Drop", drop)] {
                    sheet.put(column, name, Tone::PageName)?;
                    sheet.spread((column + 1, column + 2), size, Tone::PageSize)?;
                }
                Ok(())
            }
            Line::Numbers(number, count) => {
                sheet.spread((first + 1, first + 2), "Bracket centers", Tone::PageName)?;
                (first + 3..)
                    .zip(number..number + count)
                    .try_for_each(|(column, number)| sheet.put(column, number.to_string(), Tone::PageNumber))
            }
            Line::Centers(name, centers) => {
                sheet.spread((first + 1, first + 2), name, Tone::PageName)?;
                (first + 3..)
                    .zip(centers)
                    .try_for_each(|(column, center)| sheet.put(column, center, Tone::PageKey))
            }
            Line::Pair(figures) => {
                for (column, (name, figure)) in [first + 1, first + 4].into_iter().zip(*figures) {
                    sheet.spread((column, column + 1), name, Tone::PageName)?;
                    sheet.put(column + 2, figure, Tone::PageKey)?;
                }
                Ok(())
            }
            Line::Figures(figures) => named(sheet, first, *figures),
            Line::Beside(name, words) => {
                sheet.put(first + 1, name, Tone::PageWords)?;
                sheet.spread((first + 2, last), words, Tone::PageWords)
            }
            Line::Boxes => {
                let names =
                    ["Measured before drilling:   W                       H", "Fitted", "Defects", "Signed"];
                self.boxes.into_iter().zip(names).try_for_each(|((from, to), name)| {
                    sheet.spread((first + from, first + to), name, Tone::WriteIn)
                })
            }
            Line::Abreast(lines) => {
                let [left, right] = self.halves;
                let [on_the_left, on_the_right] = *lines;
                self.line(sheet, on_the_left, left, pictures)?;
                self.line(sheet, on_the_right, right, pictures)
            }
            Line::Gap(_) => Ok(()),
        }
    }
}

/// Figures beside their names, from the second column of a block on.
fn named<'c>(
    sheet: &mut Sheet<'_>,
    first: u16,
    figures: impl IntoIterator<Item = (&'static str, Cell<'c>)>,
) -> Result<(), WorkbookError> {
    for (column, (name, figure)) in (first + 1..).step_by(2).zip(figures) {
        sheet.put(column, name, Tone::PageName)?;
        sheet.put(column + 1, figure, Tone::PageKey)?;
    }
    Ok(())
}
