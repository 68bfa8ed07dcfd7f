//! The figure on the first page, drawn in cells: an opening from inside the room, and from above.

use rust_xlsxwriter::{Color, Format, FormatAlign, FormatBorder, RowNum, Worksheet, XlsxError};

/// Columns that the figure takes, and so the page.
pub(super) const COLUMNS: u16 = 22;
/// Rows that it takes.
pub(super) const ROWS: RowNum = 13;
/// Height of each, in points.
const ROW_HEIGHT: f64 = 19.0;

/// What a block of cells shows.
#[derive(Clone, Copy)]
enum Ground {
    /// Nothing but its text.
    Air,
    Wall,
    /// Where the opening is; the tape goes along its broken edges.
    Opening,
    Wood,
    Glass,
    Handle,
    Floor,
}

use Ground::{Air, Floor, Glass, Handle, Opening, Wall, Wood};

/// First and last row and column, what stands there, and its text.
type Block = ((RowNum, RowNum), (u16, u16), Ground, &'static str);

static FROM_INSIDE: [Block; 32] = [
    ((0, 0), (0, 11), Air, "Seen from inside the room"),
    ((1, 2), (0, 11), Wall, "Wall above: up to the ceiling"),
    ((3, 3), (0, 2), Wall, ""),
    ((3, 3), (3, 8), Wood, "Header"),
    ((3, 3), (9, 11), Wall, ""),
    ((4, 9), (0, 2), Wall, "Wall left"),
    ((4, 9), (9, 11), Wall, "Wall right"),
    // Three widths along the lines across, three heights along those that stand.
    ((4, 4), (3, 3), Opening, ""),
    ((4, 4), (4, 5), Opening, "Width top"),
    ((4, 4), (6, 7), Opening, ""),
    ((4, 4), (8, 8), Opening, ""),
    ((5, 6), (3, 3), Opening, ""),
    ((5, 6), (4, 5), Opening, "Width middle"),
    ((5, 6), (6, 7), Opening, ""),
    ((5, 6), (8, 8), Opening, ""),
    ((7, 8), (3, 3), Opening, ""),
    ((7, 8), (4, 5), Opening, "Width bottom"),
    ((7, 8), (6, 7), Opening, ""),
    ((7, 8), (8, 8), Opening, ""),
    ((9, 9), (3, 3), Opening, ""),
    ((9, 9), (4, 5), Opening, ""),
    ((9, 9), (6, 7), Opening, ""),
    ((9, 9), (8, 8), Opening, ""),
    ((10, 10), (0, 2), Wall, ""),
    ((10, 10), (3, 4), Wall, "Height left"),
    ((10, 10), (5, 6), Wall, "Height middle"),
    ((10, 10), (7, 8), Wall, "Height right"),
    ((10, 10), (9, 11), Wall, ""),
    ((11, 11), (0, 2), Wall, ""),
    ((11, 11), (3, 8), Wall, "Sill height: floor to opening"),
    ((11, 11), (9, 11), Wall, ""),
    ((12, 12), (0, 11), Floor, "Floor as it is today"),
];

static FROM_ABOVE: [Block; 15] = [
    ((0, 0), (13, 21), Air, "Seen from above"),
    ((1, 6), (13, 14), Wall, "Wall"),
    ((1, 6), (20, 21), Wall, "Wall"),
    ((1, 1), (15, 19), Glass, "Glass or frame"),
    ((2, 2), (16, 16), Handle, ""),
    ((2, 2), (17, 19), Air, "Handle: how far out"),
    ((3, 6), (15, 19), Air, "Recess depth: from the wall face in to the first obstruction"),
    ((7, 7), (13, 13), Air, ""),
    ((7, 7), (14, 14), Wood, ""),
    ((7, 7), (15, 19), Air, "Trim: how far out"),
    ((7, 7), (20, 20), Wood, ""),
    ((8, 9), (13, 14), Air, "LEFT"),
    ((8, 9), (20, 21), Air, "RIGHT"),
    ((8, 9), (15, 19), Air, "Stand here, facing the opening"),
    ((11, 12), (13, 21), Air, "Measure each width and height in three places. Deduct nothing."),
];

/// Draws the figure from a row down.
pub(super) fn draw(sheet: &mut Worksheet, from: RowNum, text: &Format) -> Result<(), XlsxError> {
    for row in from..from + ROWS {
        sheet.set_row_height(row, ROW_HEIGHT)?;
    }
    for ((top, bottom), (left, right), ground, words) in FROM_INSIDE.into_iter().chain(FROM_ABOVE) {
        let (top, bottom) = (from + top, from + bottom);
        let look = look(ground, text);
        if (top, left) == (bottom, right) {
            sheet.write_string_with_format(top, left, words, &look)?;
        } else {
            sheet.merge_range(top, left, bottom, right, words, &look)?;
        }
    }
    Ok(())
}

fn look(ground: Ground, text: &Format) -> Format {
    let look = text
        .clone()
        .set_font_size(8)
        .set_text_wrap()
        .set_align(FormatAlign::Center)
        .set_align(FormatAlign::VerticalCenter);
    let filled = |color| look.clone().set_background_color(Color::RGB(color));
    match ground {
        Air => look,
        Wall => filled(0xE6_E3_DC),
        // The text stands on the line that it names.
        Opening => look.set_align(FormatAlign::Bottom).set_border(FormatBorder::Dashed),
        Wood => filled(0xD9_BE_94).set_border(FormatBorder::Thin),
        Glass => filled(0xC9_DF_EC).set_border(FormatBorder::Thin),
        Handle => filled(0x60_60_60),
        Floor => filled(0xC8_C3_B8).set_border_top(FormatBorder::Medium),
    }
}
