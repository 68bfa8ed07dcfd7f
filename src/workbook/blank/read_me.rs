//! `Read me first`: how to measure, on one page.

use rust_xlsxwriter::{Worksheet, XlsxError};

use super::{Look, figure};

/// One part of the page.
enum Part {
    Title(&'static str),
    Section(&'static str),
    Say(&'static str),
    /// An opening, drawn.
    Figure,
}

use Part::{Figure, Say, Section, Title};

const PAGE: [Part; 34] = [
    Title("Survey of openings: how to measure"),
    Figure,
    Section("Before you start"),
    Say(
        "Use a steel tape. Write exactly what the tape reads; deduct nothing. All deductions are made later, once.",
    ),
    Say("Left and right are as you see them from inside the room, facing the opening."),
    Say(
        "Fill in one row of Openings per opening. Leave blank what you do not know: blanks get listed, guesses do not.",
    ),
    Section("Width and height"),
    Say(
        "Measure the width of the opening near the head, at half height and near the sill; the height near the left side, in the middle and near the right side.",
    ),
    Say("Keep about 4 in (100 mm) away from corners. A single width or height goes under Width or Height."),
    Say("For an inside mount, measure both diagonals too: they show whether the opening is square."),
    Say(
        "Measured says where a size comes from. Inside-mount blinds are made only from sizes measured with a tape.",
    ),
    Section("Depth"),
    Say(
        "Recess depth: from the wall face straight in to the first obstruction (glass, frame or handle). Put which one under Depth to. If there is no recess, enter 0.",
    ),
    Say(
        "Handle: how far it sticks out from where you measured the depth to; with no recess, from the wall or casing.",
    ),
    Say("Trim: how far the casing (architrave) sticks out from the wall."),
    Section("Around the opening"),
    Say(
        "Wall left, right, above and below: free wall from the edge of the opening to the first obstruction: a side wall, cupboard, ceiling or counter.",
    ),
    Say(
        "Sill height: from the floor as it is today up to the bottom of the opening. For a door: up to the threshold.",
    ),
    Say(
        "If floor is still to be laid, put its thickness under Floor to come. Do not add it to any other measurement.",
    ),
    Say(
        "Header height and offset: how high the solid wood or lintel above the opening is, and how far above it starts.",
    ),
    Section("How it opens"),
    Say(
        "Opening leaf: the leaf that moves, left or right. Opens: how it moves (slide, in, out, tilt or up).",
    ),
    Section("How to write it"),
    Say(
        "Inches: 105 1/2 or 105.5 or 105-1/2\". Feet: 8' 10 1/2\". Millimeters: 2692. You can write another unit with the number, such as 269.2 cm.",
    ),
    Say(
        "A unit is one apartment (flat): 0304, not 304, if its door says so. Each opening in it needs its own number.",
    ),
    Say(
        "Openings that have values in common, such as a recess depth, can share a row of Types: write its name under Type and leave those cells blank.",
    ),
    Say(
        "The gray row on Openings is an example, ignored while its id says so: leave it, delete it or overwrite it.",
    ),
    Section("The other sheets"),
    Say(
        "Project applies to the whole survey; each item says what a blank means. Always fill in Units and Currency.",
    ),
    Say(
        "The sheets from Products to Rates hold the rules and example prices. Change anything that differs in your business. Prices marked \"example price, not a quote\" are invented: enter your own and delete the mark.",
    ),
    Say(
        "Openings prints in landscape, three pages across: what you measure at every opening is on the first page. Columns explained says what each column is.",
    ),
    Section("Then"),
    Say(
        "Run `sillbook check` with this file's name to list the queries. `sillbook run` with its name writes the fit-out next to it; this file is never changed.",
    ),
    Say("Leave any sheet or row that you do not need as it is."),
];

/// Width of each of the page's columns, which together must fit a portrait page, and the letters
/// that surely fit on one line across all of them.
const COLUMN_WIDTH: u32 = 4;
const LETTERS_A_LINE: usize = 110;
/// Heights in points: programs that do not fit rows to wrapped text by themselves need them said.
const LINE: f64 = 13.5;
const SECTION: f64 = 22.0;

pub(super) fn write(sheet: &mut Worksheet, look: &Look) -> Result<(), XlsxError> {
    sheet.set_name("Read me first")?;
    for column in 0..figure::COLUMNS {
        sheet.set_column_width(column, COLUMN_WIDTH)?;
    }
    let mut row = 0;
    for part in &PAGE {
        let (text, format, height) = match part {
            Figure => {
                figure::draw(sheet, row, &look.paragraph)?;
                row += figure::ROWS;
                continue;
            }
            Title(text) => (*text, &look.title, SECTION),
            Section(text) => (*text, &look.section, SECTION),
            Say(text) => {
                let lines = text.chars().count().div_ceil(LETTERS_A_LINE);
                (*text, &look.paragraph, LINE * lines as f64)
            }
        };
        sheet.set_row_height(row, height)?;
        sheet.merge_range(row, 0, row, figure::COLUMNS - 1, text, format)?;
        row += 1;
    }
    sheet.set_paper_size(look.paper()).set_print_fit_to_pages(1, 1).set_screen_gridlines(false);
    sheet.set_print_center_horizontally(true).set_margins(0.5, 0.5, 0.5, 0.5, 0.3, 0.3);
    Ok(())
}
