//! `Project` and the rule sheets, each from the schema, and how any cell of the survey is prompted.

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;
use rust_xlsxwriter::{
    DataValidation, DataValidationErrorStyle, Format, FormatBorder, RowNum, Worksheet, XlsxError,
};

use super::Look;
use crate::length::Units;
use crate::rules::BuiltInSheet;
use crate::rules::columns::project::COLUMNS;
use crate::schema::{Column, Kind, Table};

/// Rows that a sheet is prepared for.
pub(super) const READY_ROWS: RowNum = 5_000;
/// What a spreadsheet allows for the text beside a selected cell, and for its title.
const MOST_MESSAGE: usize = 255;
const MOST_TITLE: usize = 32;
/// The sheet's name and the page's number on every page.
pub(super) const FOOTER: &str = "&R&\"Arial\"&8&A, &P of &N";
/// Height of an item of `Project`, in points: a line that a pen can write on.
const ITEM: f64 = 18.0;

/// `Project`: an item on each row.
pub(super) fn project(sheet: &mut Worksheet, table: &Table, look: &Look) -> Result<(), XlsxError> {
    sheet.set_name(table.sheet)?;
    for (column, heading, width) in
        [(0, "Item", 20), (1, "Value", 28), (2, "A blank means", 48), (3, "What it is", 70)]
    {
        sheet.set_column_width(column, width)?;
        sheet.write_string_with_format(0, column, heading, &look.heading)?;
    }
    for (row, item) in (1..).zip(table.columns) {
        sheet.write_string_with_format(row, 0, item.name, &look.wrapped)?;
        sheet.write_string_with_format(row, 2, item.blank, &look.wrapped)?;
        sheet.write_string_with_format(row, 3, item.help, &look.wrapped)?;
        let boxed = format(item, look).clone().set_border(FormatBorder::Thin);
        prompt(sheet, item, (row, row), 1)?;
        // The one answer that the command line has already given.
        if item.slot == COLUMNS.units.slot {
            sheet.write_string_with_format(row, 1, look.units.symbol(), &boxed)?;
        } else {
            sheet.write_blank(row, 1, &boxed)?;
        }
        sheet.set_row_height(row, ITEM)?;
    }
    sheet.set_freeze_panes(1, 1)?;
    sheet.set_paper_size(look.paper()).set_landscape().set_print_fit_to_pages(1, 1);
    sheet.set_footer(FOOTER);
    Ok(())
}

/// A rule sheet with the built-in rows.
pub(super) fn rules(sheet: &mut Worksheet, built_in: &BuiltInSheet, look: &Look) -> Result<(), XlsxError> {
    let table = built_in.table;
    sheet.set_name(table.sheet)?;
    // Beside the repeated column, or every page would begin with half of it.
    sheet.write_string_with_format(0, 1, table.about, &look.about)?;
    for (position, column) in (0..).zip(table.offered()) {
        let longest =
            built_in.rows.iter().filter_map(|row| row.get(column.slot)).map(|text| text.chars().count());
        sheet.set_column_width(position, width(column.name, longest.max().unwrap_or(0)))?;
        sheet.set_column_format(position, format(column, look))?;
        sheet.write_string_with_format(1, position, column.name, &look.heading)?;
        prompt(sheet, column, (2, READY_ROWS), position)?;
        for (row, texts) in (2..).zip(&built_in.rows) {
            let text = texts.get(column.slot).map_or("", String::as_str);
            write_value(sheet, (row, position), text, column, format(column, look))?;
        }
    }
    print_wide(sheet, table.offered().count(), look)
}

/// Columns that stay readable on the width of a page.
const COLUMNS_A_PAGE: usize = 16;
/// Height of three lines of headings, in points.
const HEADINGS: f64 = 46.0;

/// Headings stay in sight, on the screen and on paper.
fn print_wide(sheet: &mut Worksheet, columns: usize, look: &Look) -> Result<(), XlsxError> {
    sheet.set_row_height(1, HEADINGS)?;
    sheet.set_freeze_panes(2, 1)?;
    sheet.set_repeat_rows(1, 1)?.set_repeat_columns(0, 0)?;
    let pages = u16::try_from(columns.div_ceil(COLUMNS_A_PAGE)).unwrap_or(1);
    sheet.set_paper_size(look.paper()).set_landscape().set_print_fit_to_pages(pages, 0);
    sheet.set_footer(FOOTER);
    Ok(())
}

/// Writes a rule's value: money, counts and plain numbers as numbers; a length as text with its
/// unit, which reads back exactly where a sheet's own number might not.
pub(super) fn write_value(
    sheet: &mut Worksheet,
    (row, position): (RowNum, u16),
    text: &str,
    column: &Column,
    format: &Format,
) -> Result<(), XlsxError> {
    let is_number = matches!(column.kind, Kind::Money | Kind::Number { .. } | Kind::Whole { .. });
    let number = text.parse::<Decimal>().ok().and_then(|number| number.to_f64()).filter(|_| is_number);
    match number {
        Some(number) => sheet.write_number_with_format(row, position, number, format)?,
        None if text.is_empty() => sheet,
        None => sheet.write_string_with_format(row, position, text, format)?,
    };
    Ok(())
}

/// A drop-down list where there is a choice, and the column's help beside a selected cell. A word
/// that is not in the list is let through after a warning: the reader takes them in any case.
pub(super) fn prompt(
    sheet: &mut Worksheet,
    column: &Column,
    rows: (RowNum, RowNum),
    position: u16,
) -> Result<(), XlsxError> {
    let rule = match column.kind {
        Kind::Choice(words) => DataValidation::new()
            .allow_list_strings(words.own)?
            .set_error_style(DataValidationErrorStyle::Warning)
            .set_error_message(format!("One of: {}", words.own.join(", ")))?,
        // The list offers the word; a length is typed.
        Kind::LengthOr { word, .. } => {
            DataValidation::new().allow_list_strings(&[word])?.show_error_message(false)
        }
        _ => DataValidation::new().allow_any_value(),
    };
    prompt_with(sheet, rule, column, rows, position)
}

/// The column's help beside a selected cell, under a rule of the caller's.
pub(super) fn prompt_with(
    sheet: &mut Worksheet,
    rule: DataValidation,
    column: &Column,
    (first, last): (RowNum, RowNum),
    position: u16,
) -> Result<(), XlsxError> {
    let help = format!("{} Blank: {}.", column.help, column.blank);
    let message = if help.chars().count() <= MOST_MESSAGE { help } else { column.help.to_owned() };
    let rule =
        if column.name.chars().count() <= MOST_TITLE { rule.set_input_title(column.name)? } else { rule };
    sheet.add_data_validation(first, position, last, position, &rule.set_input_message(message)?)?;
    Ok(())
}

/// Wide enough for the column's longest value and for its heading on two or three lines.
fn width(heading: &str, longest: usize) -> f64 {
    let longest_word = heading.split(' ').map(|word| word.chars().count()).max().unwrap_or(0);
    (longest.max(longest_word).max(heading.chars().count() / 2) + 2).clamp(9, 44) as f64
}

/// Inches are typed as text, or a spreadsheet makes the third of April of `3/4`.
pub(super) fn is_typed_as_text(column: &Column, look: &Look) -> bool {
    matches!(column.kind, Kind::Length { .. } | Kind::LengthOr { .. }) && look.units == Units::Inches
}

pub(super) fn format<'l>(column: &Column, look: &'l Look) -> &'l Format {
    match column.kind {
        Kind::Date => &look.date,
        Kind::Money => &look.money,
        Kind::Text | Kind::List | Kind::Dates => &look.text,
        _ if is_typed_as_text(column, look) => &look.text,
        _ => &look.number,
    }
}
