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
        "Use a steel tape. Write what the tape says; take nothing off. Everything that comes off a size is worked out later, once.",
    ),
    Say("Left and right are as you see them from inside the room, facing the opening."),
    Say(
        "Fill in a row of Openings for each opening. Leave blank what you do not know: a blank is counted and listed, a guess is not.",
    ),
    Section("Width and height"),
    Say(
        "Measure the width of the opening near the head, at half height and near the sill; the height near the left side, in the middle and near the right side.",
    ),
    Say("Keep about 4 in (100 mm) away from corners. One width or height alone goes under Width or Height."),
    Say("For a blind within the recess measure both diagonals too: they show whether the opening leans."),
    Say(
        "Measured says where a size comes from. Only what was measured with a tape is made to hang within a recess.",
    ),
    Section("Depth"),
    Say(
        "Recess depth: from the face of the wall straight in to the first thing in the way: glass, frame or handle. Say under Depth to which it was. No recess is 0.",
    ),
    Say(
        "Handle: how far its tip stands out from whatever you measured the depth to; without a depth, from the wall face or the casing.",
    ),
    Say("Trim: how far a casing stands out from the wall."),
    Section("Around the opening"),
    Say(
        "Wall left, right, above and below: free wall from the edge of the opening to whatever comes first: a wall, a cupboard, a ceiling, a counter.",
    ),
    Say(
        "Sill height: from the floor as it is today up to the bottom of the opening. For a door, up to the threshold.",
    ),
    Say("If a floor is still to be laid, its thickness goes under Floor to come. Do not add it to anything."),
    Say(
        "Header height and offset: the solid wood above the opening, how high it is and how far above the opening it starts.",
    ),
    Section("How it opens"),
    Say("Opening leaf is the leaf that moves, left or right. Opens says how: slide, in, out, tilt or up."),
    Section("How to write it"),
    Say(
        "Inches: 105 1/2 or 105.5 or 105-1/2\". Feet: 8' 10 1/2\". Millimeters: 2692. Another unit beside the number, such as 269.2 cm, is understood.",
    ),
    Say("Write 0304, not 304, if the door says 0304. Keep numbers of openings different within a unit."),
    Say(
        "Rows that are alike in something, such as a recess depth, can share a row of Types: write its name under Type and leave the rest blank.",
    ),
    Say(
        "The gray row on Openings is an example. It is not read while its id says so; leave it, delete it, or write over it.",
    ),
    Section("The other sheets"),
    Say(
        "Project holds for the whole survey; each item says what a blank means. Units and Currency should never be left to chance.",
    ),
    Say(
        "Products to Rates hold the rules and example prices. Change what is different in your trade. Prices marked \"example price, not a quote\" are invented: put in your own and clear the mark.",
    ),
    Say(
        "Openings prints on paper that lies on its side, three pages to a set of lines: what is measured at every opening is on the first. Columns explained says what each column is.",
    ),
    Section("Then"),
    Say(
        "`sillbook check` with this file's name lists what is unanswered. `sillbook run` with it writes the fit-out beside it; this file is never changed.",
    ),
    Say("A sheet or a row that you do not need may stay as it is."),
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
