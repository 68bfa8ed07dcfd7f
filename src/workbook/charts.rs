//! Charts of bars, in grays and a pattern so that they can be told apart in black and white. They
//! read the cells of the table that they stand by, and keep what these show.
//!
//! Of more than twelve floors the rest is one row.

use rust_xlsxwriter::{
    Chart, ChartAxis, ChartAxisCrossing, ChartFont, ChartFormat, ChartLegendPosition, ChartLine,
    ChartPatternFill, ChartPatternFillType, ChartSolidFill, ChartType, Color, ObjectMovement,
};

use super::WorkbookError;
use super::pages::Pages;
use super::sheet::ROW;

/// The first column of a chart that stands beside its table.
const FIRST_COLUMN: u16 = 4;
/// Rows that a chart takes at the least.
const LEAST_ROWS: u32 = 11;
/// Points on a screen: of a row, of the headings beyond that, and of the columns.
const ROW_HEIGHT: u32 = 20;
const HEADINGS: u32 = 12;
const BESIDE_WIDTH: u32 = 400;
const BELOW_WIDTH: u32 = 900;
/// Rows that a chart below its table takes beside those of its bars.
const BELOW_ROWS: u32 = 6;
/// Rows of a section's name and its table's headings, with what stands free around them.
const SECTION_ROWS: u32 = 5;

const INK: Color = Color::RGB(0x1D_2B_36);
const GRAY: Color = Color::RGB(0x8A_97_A0);
const PALE: Color = Color::RGB(0xD0_D6_DA);

/// What a chart shows: bars that lie, one for each row of a table.
pub(super) struct Bars<'b> {
    pub title: String,
    /// What the table's first column, the names of the bars, holds.
    pub names: &'b str,
    /// What the length of a bar is.
    pub values: String,
    /// Rows of the table that it shows.
    pub rows: usize,
    /// The columns of the values, and their names.
    pub series: &'b [(u16, &'b str)],
    /// Whether the series are shares of a whole bar.
    pub shares: bool,
}

/// Puts a chart to the right of the table whose headings stand in the row `top`, and goes on below
/// both.
pub(super) fn beside(pages: &mut Pages<'_>, top: u32, bars: &Bars<'_>) -> Result<(), WorkbookError> {
    pages.sheet().end_charted();
    let Some(rows) = rows_below(pages, top) else { return Ok(()) };
    let rows = rows.max(LEAST_ROWS);
    let mut chart = bars.chart(pages.sheet().name(), top);
    chart.set_width(BESIDE_WIDTH).set_height(rows * ROW_HEIGHT + HEADINGS);
    pages.sheet().hang_chart((top, FIRST_COLUMN), &chart, (8, 2))?;
    while pages.sheet().row() <= top + rows {
        pages.sheet().next_row()?;
    }
    Ok(())
}

/// Puts a chart below the table whose headings stand in the row `top`, and goes on below it.
pub(super) fn below(pages: &mut Pages<'_>, top: u32, bars: &Bars<'_>) -> Result<(), WorkbookError> {
    pages.sheet().end_charted();
    if rows_below(pages, top).is_none() {
        return Ok(());
    }
    let row = pages.sheet().row();
    let mut chart = bars.chart(pages.sheet().name(), top);
    let rows = BELOW_ROWS + u32::try_from(bars.rows).unwrap_or(0);
    chart.set_width(BELOW_WIDTH).set_height(rows * ROW_HEIGHT);
    pages.sheet().hang_chart((row, 0), &chart, (0, 6))?;
    for _ in 0..=rows {
        pages.sheet().next_row()?;
    }
    Ok(())
}

/// Goes on on the next page unless a section with a table of so many rows, and a chart beside it,
/// fits on this one. The chart keeps what is written from here on.
pub(super) fn keep_beside(pages: &mut Pages<'_>, rows: usize) -> Result<(), WorkbookError> {
    let rows = u32::try_from(rows).unwrap_or(u32::MAX).max(LEAST_ROWS);
    keep(pages, rows)
}

/// The same with a chart of so many bars below the table.
pub(super) fn keep_below(pages: &mut Pages<'_>, rows: usize, bars: usize) -> Result<(), WorkbookError> {
    let rows = u32::try_from(rows.saturating_add(bars)).unwrap_or(u32::MAX);
    keep(pages, rows.saturating_add(BELOW_ROWS))
}

fn keep(pages: &mut Pages<'_>, rows: u32) -> Result<(), WorkbookError> {
    keep_rows(pages, rows.saturating_add(SECTION_ROWS))?;
    pages.sheet().begin_charted();
    Ok(())
}

/// Goes on on the next page unless so many rows fit on this one.
pub(super) fn keep_rows(pages: &mut Pages<'_>, rows: u32) -> Result<(), WorkbookError> {
    pages.keep_together(rows, rows.saturating_mul(ROW))?;
    Ok(())
}

/// Rows from the row `top` on; `None` if the sheet was full and goes on on another.
fn rows_below(pages: &mut Pages<'_>, top: u32) -> Option<u32> {
    let ahead = pages.ahead();
    ahead.row.checked_sub(top).filter(|_| ahead.number == 1)
}

impl Bars<'_> {
    /// The chart of the rows below the headings in the row `top`.
    fn chart(&self, sheet: &str, top: u32) -> Chart {
        let (first, last) = (top + 1, top + u32::try_from(self.rows).unwrap_or(u32::MAX));
        let kind = if self.shares { ChartType::BarPercentStacked } else { ChartType::Bar };
        let mut chart = Chart::new(kind);
        for (place, &(column, name)) in self.series.iter().enumerate() {
            let series = chart.add_series();
            series
                .set_name(name)
                .set_categories((sheet, first, 0, last, 0))
                .set_values((sheet, first, column, last, column))
                .set_gap(60)
                .set_format(&mut fill(place));
            if self.shares {
                series.set_overlap(100);
            }
        }
        chart.title().set_name(&self.title).set_font(&bold(10));
        // Of bars that lie, the upright axis has the names: from the top, with the values at its foot.
        axis(chart.y_axis(), self.names)
            .set_reverse()
            .set_crossing(ChartAxisCrossing::Max)
            .set_label_interval(1)
            .set_major_gridlines(false);
        axis(chart.x_axis(), &self.values)
            .set_min(0)
            .set_major_gridlines(true)
            .set_major_gridlines_line(ChartLine::new().set_color(PALE).set_width(0.5));
        if self.shares {
            chart.x_axis().set_num_format("0%");
        }
        if self.series.len() > 1 {
            chart.legend().set_position(ChartLegendPosition::Bottom).set_font(&plain());
        } else {
            chart.legend().set_hidden();
        }
        chart.set_alt_text(&self.title).set_object_movement(ObjectMovement::MoveAndSizeWithCells);
        chart
    }
}

fn axis<'a>(axis: &'a mut ChartAxis, name: &str) -> &'a mut ChartAxis {
    axis.set_name(name).set_name_font(&bold(8)).set_font(&plain())
}

/// The first series is gray, the next hatched.
fn fill(place: usize) -> ChartFormat {
    let mut format = ChartFormat::new();
    format.set_border(ChartLine::new().set_color(INK).set_width(0.75));
    if place == 0 {
        format.set_solid_fill(ChartSolidFill::new().set_color(GRAY));
    } else {
        format.set_pattern_fill(
            ChartPatternFill::new()
                .set_pattern(ChartPatternFillType::DiagonalStripesWideUpwards)
                .set_foreground_color(INK)
                .set_background_color(Color::RGB(0xFF_FF_FF)),
        );
    }
    format
}

fn plain() -> ChartFont {
    let mut font = ChartFont::new();
    font.set_name("Arial").set_size(8).set_color(INK);
    font
}

fn bold(size: u8) -> ChartFont {
    let mut font = plain();
    font.set_size(size).set_bold();
    font
}
