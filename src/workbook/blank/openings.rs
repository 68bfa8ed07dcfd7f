//! `Openings` and `Types`: ruled lines to fill in at a desk or, printed, by hand at the opening.
//! What is measured at every opening is on the first page; what stands around it and how it opens
//! on the second; what is chosen, and what few surveys need, on the third.

use rust_xlsxwriter::{DataValidation, FormatBorder, Formula, IgnoreError, RowNum, Worksheet, XlsxError};

use super::{Look, example, sheets};
use crate::rules::columns::products;
use crate::schema::openings::{self, OPENINGS, TYPES};
use crate::schema::{Column, Kind};

/// The first two pages; the third has every other column, as the schema orders them.
static PAGES: [&[&Column]; 2] = {
    use openings::{
        DEPTH_TO, DIAGONAL_1, DIAGONAL_2, FLOOR_SURFACE, FLOOR_TO_COME, HANDLE, HEADER_HEIGHT, HEADER_OFFSET,
        HEIGHT_LEFT, HEIGHT_MIDDLE, HEIGHT_RIGHT, KIND, LEFT_ENDS_AT, MOUNT, NOTE, OPENING, OPENING_LEAF,
        OPENS, RECESS_DEPTH, RIGHT_ENDS_AT, ROOM, SILL_HEIGHT, SUBSTRATE, TRIM, UNIT, WALL_ABOVE, WALL_BELOW,
        WALL_LEFT, WALL_RIGHT, WIDTH_BOTTOM, WIDTH_MIDDLE, WIDTH_TOP,
    };
    [
        &[
            &OPENING,
            &UNIT,
            &ROOM,
            &KIND,
            &WIDTH_TOP,
            &WIDTH_MIDDLE,
            &WIDTH_BOTTOM,
            &HEIGHT_LEFT,
            &HEIGHT_MIDDLE,
            &HEIGHT_RIGHT,
            &RECESS_DEPTH,
            &DEPTH_TO,
            &HANDLE,
            &WALL_LEFT,
            &WALL_RIGHT,
            &WALL_ABOVE,
            &SILL_HEIGHT,
            &MOUNT,
            &NOTE,
        ],
        &[
            &DIAGONAL_1,
            &DIAGONAL_2,
            &TRIM,
            &LEFT_ENDS_AT,
            &RIGHT_ENDS_AT,
            &WALL_BELOW,
            &FLOOR_SURFACE,
            &FLOOR_TO_COME,
            &HEADER_HEIGHT,
            &HEADER_OFFSET,
            &SUBSTRATE,
            &OPENING_LEAF,
            &OPENS,
        ],
    ]
};

/// A sheet of openings or of types.
pub(super) struct Form {
    name: &'static str,
    about: &'static str,
    /// The columns of each printed page.
    pages: Vec<Vec<&'static Column>>,
    /// Columns that stand at the left of every page.
    repeated: u16,
    /// Whether a filled-in row stands above the empty ones.
    example: Example,
}

/// Whether a filled-in row stands above the empty ones.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Example {
    Shown,
    None,
}

impl Form {
    /// A row for each opening.
    pub(super) fn of_openings() -> Form {
        Form {
            name: OPENINGS.sheet,
            about: OPENINGS.about,
            pages: pages(|_| true),
            repeated: 2,
            example: Example::Shown,
        }
    }

    /// A row for each type: it begins with the type's name and leaves out what is an opening's own.
    pub(super) fn of_types() -> Form {
        use openings::{BUILDING, FLOOR, NOTE, OPENING, PHASE, QUANTITY, ROOM, TYPE, UNIT};
        let own = [&TYPE, &OPENING, &BUILDING, &FLOOR, &UNIT, &ROOM, &PHASE, &QUANTITY, &NOTE]
            .map(|column| column.slot);
        let mut pages = pages(|column| !own.contains(&column.slot));
        pages[0].insert(0, &TYPE);
        Form {
            name: TYPES,
            about: "Values that many openings share: a row here fills the blanks of every opening with that Type.",
            pages,
            repeated: 1,
            example: Example::None,
        }
    }
}

fn pages(wanted: impl Fn(&Column) -> bool) -> Vec<Vec<&'static Column>> {
    let placed: Vec<usize> = PAGES.iter().flat_map(|page| page.iter().map(|column| column.slot)).collect();
    let others: Vec<&Column> = OPENINGS.offered().filter(|column| !placed.contains(&column.slot)).collect();
    let pages = PAGES.iter().copied().chain([others.as_slice()]);
    pages.map(|page| page.iter().copied().filter(|column| wanted(column)).collect()).collect()
}

/// Row of the headings, and the first row below them.
const HEADINGS: RowNum = 1;
const FIRST: RowNum = 2;
/// Lines ruled for a pen: two pages.
const RULED: RowNum = 44;
/// Height of a line that a pen can write on, in points, and of three lines of headings.
const LINE: f64 = 30.0;
const HEADING: f64 = 48.0;
/// The first page, the widest, fits across at this size, in percent.
const SCALE: u16 = 68;
/// Rows of `Types` and `Products` that a drop-down list offers.
const OFFERED_NAMES: RowNum = 200;

/// Writes the sheet: headings over ruled lines.
pub(super) fn write(sheet: &mut Worksheet, form: &Form, look: &Look) -> Result<(), XlsxError> {
    sheet.set_name(form.name)?;
    // Beside the repeated columns, or every page would begin with half of it.
    sheet.write_string_with_format(0, form.repeated, form.about, &look.about)?;
    let columns: Vec<&Column> = form.pages.iter().flatten().copied().collect();
    for (position, column) in (0..).zip(&columns) {
        let heading = match column.kind {
            Kind::Length { .. } => format!("{} ({})", column.name, look.units.symbol()),
            _ => column.name.to_owned(),
        };
        let ruled = sheets::format(column, look).clone().set_border(FormatBorder::Thin);
        sheet.set_column_width(position, width(column, &heading))?;
        sheet.set_column_format(position, sheets::format(column, look))?;
        sheet.write_string_with_format(HEADINGS, position, heading, &look.heading)?;
        for row in FIRST..FIRST + RULED {
            sheet.write_blank(row, position, &ruled)?;
        }
        offer(sheet, column, position)?;
        if sheets::is_typed_as_text(column, look) {
            let last = sheets::READY_ROWS;
            sheet.ignore_error_range(FIRST, position, last, position, IgnoreError::NumberStoredAsText)?;
        }
        if form.example == Example::Shown {
            let ruled = ruled.clone().set_italic().set_text_wrap();
            let ruled = ruled.set_font_color(look.example_ink).set_background_color(look.example_ground);
            sheets::write_value(sheet, (FIRST, position), example::cell(column, look.units), column, &ruled)?;
        }
    }
    lay_out(sheet, form, look)
}

/// Its own choices, or the names that another sheet lists.
fn offer(sheet: &mut Worksheet, column: &Column, position: u16) -> Result<(), XlsxError> {
    let listed = [(&openings::PRODUCT, products::PRODUCTS.sheet), (&openings::TYPE, TYPES)];
    let listed = listed.into_iter().find(|(known, _)| known.slot == column.slot);
    let list = listed.map(|(_, sheet)| {
        let names = format!("='{sheet}'!$A${}:$A${}", FIRST + 1, FIRST + OFFERED_NAMES);
        DataValidation::new().allow_list_formula(Formula::new(names)).show_error_message(false)
    });
    let rows = (FIRST, sheets::READY_ROWS);
    match list {
        // On `Types` itself the first column gives the names.
        Some(list) if position > 0 => sheets::prompt_with(sheet, list, column, rows, position),
        _ => sheets::prompt(sheet, column, rows, position),
    }
}

/// Headings and names stay in sight, on the screen and on paper, where a page of columns is
/// followed by the other columns of the same lines.
fn lay_out(sheet: &mut Worksheet, form: &Form, look: &Look) -> Result<(), XlsxError> {
    sheet.set_default_row_height(LINE);
    sheet.set_row_height(0, 18)?.set_row_height(HEADINGS, HEADING)?;
    sheet.set_freeze_panes(FIRST, form.repeated)?;
    sheet.set_repeat_rows(HEADINGS, HEADINGS)?.set_repeat_columns(0, form.repeated - 1)?;
    let ends = form.pages.iter().scan(0, |end, page| {
        *end += u32::try_from(page.len()).unwrap_or(u32::MAX);
        Some(*end)
    });
    let breaks: Vec<u32> = ends.take(form.pages.len() - 1).collect();
    sheet.set_vertical_page_breaks(&breaks)?;
    sheet.set_paper_size(look.paper()).set_landscape().set_print_scale(SCALE).set_page_order(false);
    sheet.set_margins(0.4, 0.4, 0.7, 0.5, 0.3, 0.3);
    sheet.set_header(
        "&L&\"Arial\"&8&A&C&\"Arial\"&8Project ______________________   Surveyed by ______________   Date ____________&R&\"Arial\"&8Sheet &P of &N",
    );
    Ok(())
}

/// Wide enough for the heading on three lines, and for what is written below it.
fn width(column: &Column, heading: &str) -> f64 {
    let longest = match column.kind {
        Kind::Choice(words) => words.own.iter().map(|word| word.chars().count()).max().unwrap_or(0),
        _ if column.slot == openings::NOTE.slot => 18,
        _ if column.slot == openings::ROOM.slot || column.slot == openings::OPENING.slot => 11,
        _ => 0,
    };
    let longest_word = heading.split(' ').map(|word| word.chars().count()).max().unwrap_or(0);
    longest.max(longest_word).max(7) as f64 + 1.0
}
