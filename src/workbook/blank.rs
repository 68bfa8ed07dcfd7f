//! The blank survey workbook: what to measure and how, the sheets to fill in, and every rule with
//! its built-in value, so that a person edits rather than types. It is made from the schema alone
//! and reads back as exactly the built-in rules.

mod example;
mod explained;
mod figure;
mod openings;
mod read_me;
mod sheets;

use rust_xlsxwriter::{Color, Format, FormatAlign, FormatBorder, Workbook, XlsxError};
use thiserror::Error;

use openings::Form;

use super::paper::{A4, LETTER};
use crate::length::Units;
use crate::rules::columns::options::OPTIONS;
use crate::rules::columns::phases::PHASES;
use crate::rules::columns::project::PROJECT;
use crate::rules::{self, BuiltInSheet, RulesError};

/// Why a blank survey could not be written.
#[derive(Debug, Error)]
pub enum BlankError {
    /// A built-in file of rules is wrong.
    #[error(transparent)]
    Rules(#[from] RulesError),
    /// The workbook refused a value.
    #[error("the blank survey could not be laid out: {0}")]
    Workbook(#[from] XlsxError),
}

/// The blank survey workbook, for a survey in `units`. The same units give the same bytes.
///
/// # Errors
/// If a built-in file of rules is wrong or the workbook refuses a value; neither depends on input.
pub fn blank(units: Units) -> Result<Workbook, BlankError> {
    let mut workbook = Workbook::new();
    workbook.set_properties(&super::properties("Survey of openings")?);
    let look = Look::new(units);
    workbook.set_default_format(&look.plain, ROW_PIXELS, COLUMN_PIXELS)?;

    read_me::write(workbook.add_worksheet(), &look)?;
    sheets::project(workbook.add_worksheet(), &PROJECT, &look)?;
    openings::write(workbook.add_worksheet(), &Form::of_openings(), &look)?;
    openings::write(workbook.add_worksheet(), &Form::of_types(), &look)?;
    let phases = BuiltInSheet { table: &PHASES, rows: Vec::new() };
    sheets::rules(workbook.add_worksheet(), &phases, &look)?;
    for sheet in rules::built_in_sheets(units)? {
        sheets::rules(workbook.add_worksheet(), &sheet, &look)?;
    }
    sheets::rules(workbook.add_worksheet(), &BuiltInSheet { table: &OPTIONS, rows: Vec::new() }, &look)?;
    explained::write(workbook.add_worksheet(), &look)?;
    Ok(workbook)
}

/// A face that every machine has, or one of the same widths: a page set out in it fits everywhere.
const FONT: &str = "Arial";
/// What a row and a column are by default in that face.
const ROW_PIXELS: u32 = 17;
const COLUMN_PIXELS: u32 = 64;

/// How the sheets look.
struct Look {
    units: Units,
    plain: Format,
    title: Format,
    section: Format,
    paragraph: Format,
    about: Format,
    heading: Format,
    text: Format,
    wrapped: Format,
    date: Format,
    money: Format,
    number: Format,
    /// The example row: ink and ground.
    example_ink: Color,
    example_ground: Color,
}

impl Look {
    fn new(units: Units) -> Look {
        // Text that only looks like a date or a number, such as `3/4` or `0304`, stays as typed.
        let plain = Format::new().set_font_name(FONT).set_font_size(10);
        let text = plain.clone().set_num_format("@");
        let top = plain.clone().set_align(FormatAlign::Top);
        Look {
            units,
            title: plain.clone().set_bold().set_font_size(16),
            section: plain.clone().set_bold().set_font_size(12),
            paragraph: top.clone().set_text_wrap(),
            about: plain.clone().set_italic(),
            heading: plain
                .clone()
                .set_bold()
                .set_text_wrap()
                .set_align(FormatAlign::Bottom)
                .set_background_color(Color::RGB(0xEE_EB_E2))
                .set_border(FormatBorder::Thin),
            wrapped: top.set_text_wrap(),
            date: plain.clone().set_num_format("yyyy-mm-dd"),
            money: plain.clone().set_num_format("0.00").set_align(FormatAlign::Left),
            number: plain.clone().set_align(FormatAlign::Left),
            text,
            plain,
            example_ink: Color::RGB(0x70_70_70),
            example_ground: Color::RGB(0xF4_F4_F4),
        }
    }

    /// Letter for a survey in inches, A4 for one in millimeters.
    fn paper(&self) -> u8 {
        match self.units {
            Units::Inches => LETTER,
            Units::Millimeters => A4,
        }
    }
}
