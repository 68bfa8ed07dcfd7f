//! `Columns explained`: what each column of every sheet is and what a blank in it means, for who
//! reads the survey on paper or changes a rule.

use rust_xlsxwriter::{RowNum, Worksheet, XlsxError};

use super::Look;
use super::sheets::FOOTER;
use crate::rules::columns::RULE_SHEETS;
use crate::rules::columns::phases::PHASES;
use crate::schema::Column;
use crate::schema::openings::OPENINGS;

const HEADINGS: [(&str, u16); 4] = [("Sheet", 14), ("Column", 26), ("What it is", 66), ("A blank means", 40)];

pub(super) fn write(sheet: &mut Worksheet, look: &Look) -> Result<(), XlsxError> {
    sheet.set_name("Columns explained")?;
    for (position, (heading, width)) in (0..).zip(HEADINGS) {
        sheet.set_column_width(position, width)?;
        sheet.write_string_with_format(0, position, heading, &look.heading)?;
    }
    let mut row: RowNum = 1;
    // `Project` says the same on its own sheet.
    for table in [&OPENINGS, &PHASES].into_iter().chain(RULE_SHEETS) {
        for column in table.offered() {
            let texts = [table.sheet, column.name, column.help, column.blank];
            for (position, text) in (0..).zip(texts) {
                sheet.write_string_with_format(row, position, text, &look.wrapped)?;
            }
            sheet.set_row_height(row, LINE * lines(column) as f64)?;
            row += 1;
        }
    }
    sheet.set_freeze_panes(1, 0)?.set_repeat_rows(0, 0)?;
    sheet.set_paper_size(look.paper()).set_print_fit_to_pages(1, 0);
    sheet.set_footer(FOOTER);
    Ok(())
}

/// Height of a line of text, in points.
const LINE: f64 = 15.0;

/// Lines that the longest of its texts surely fits on.
fn lines(column: &Column) -> usize {
    let lines = |text: &str, width: u16| text.chars().count().div_ceil(usize::from(width));
    let texts = [(column.name, 1), (column.help, 2), (column.blank, 3)];
    texts.map(|(text, position)| lines(text, HEADINGS[position].1)).into_iter().max().unwrap_or(1)
}
