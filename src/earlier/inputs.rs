//! What people typed on the `Cost summary` of an earlier fit-out: each figure that is not the one which
//! was printed, and stands folded away beside it. A cleared one is typed too: it is unknown now.
//!
//! Both are read as any spreadsheet program stored them, so they are compared to its 15 digits.

use rust_decimal::Decimal;

use super::{EarlierError, is_or_continues};
use crate::grid::{Grid, Row, Sheet, Value};
use crate::length::Unit;
use crate::place::{CellRef, Sheets};
use crate::rules::{Figure, TypedFigure, is_same};
use crate::schema::Column;
use crate::schema::cost_summary::{
    COST_SUMMARY, KNOWN_AS, MINUTES, PRINTED_QUANTITY, PRINTED_RATE, QUANTITY, RATE,
};
use crate::tables::{Datum, read_value};

/// Every figure that was typed, from the top.
pub(super) fn read(grid: &Grid, sheets: &Sheets) -> Result<Vec<TypedFigure>, EarlierError> {
    let mut typed = Vec::new();
    for sheet in grid.sheets.iter().filter(|sheet| is_or_continues(&sheet.name, COST_SUMMARY.sheet)) {
        let Some(read) = Read::of(sheet, sheets) else { continue };
        for row in sheet.rows.iter().take_while(|row| !read.is_below(row)) {
            read.typed_in(row, &mut typed)?;
        }
    }
    Ok(typed)
}

/// A sheet under its headings, which every other table on it comes below.
struct Read<'s> {
    sheet: &'s Sheet,
    sheets: &'s Sheets,
    /// The row of the headings.
    top: u32,
    known_as: u16,
    printed_quantity: u16,
    printed_rate: u16,
    quantity: u16,
    minutes: u16,
    rate: u16,
}

impl<'s> Read<'s> {
    /// `None` for a sheet without printed figures, of an earlier version.
    fn of(sheet: &'s Sheet, sheets: &'s Sheets) -> Option<Read<'s>> {
        let headings = sheet.rows.iter().find(|row| under(row, &KNOWN_AS).is_some())?;
        Some(Read {
            sheet,
            sheets,
            top: headings.row,
            known_as: under(headings, &KNOWN_AS)?,
            printed_quantity: under(headings, &PRINTED_QUANTITY)?,
            printed_rate: under(headings, &PRINTED_RATE)?,
            quantity: under(headings, &QUANTITY)?,
            minutes: under(headings, &MINUTES)?,
            rate: under(headings, &RATE)?,
        })
    }

    /// Whether another table begins here: its own words stand where a row has its name, which is an item
    /// and its unit.
    fn is_below(&self, row: &Row) -> bool {
        let named = row.value(self.known_as).filter(|_| row.row > self.top);
        matches!(named, Some(Value::Text(name)) if !name.contains(", "))
    }

    fn typed_in(&self, row: &Row, typed: &mut Vec<TypedFigure>) -> Result<(), EarlierError> {
        let Some(Value::Text(known_as)) = row.value(self.known_as).filter(|_| row.row > self.top) else {
            return Ok(());
        };
        // Times are changed as minutes; their hours follow.
        let quantity = match known_as.ends_with(IN_MINUTES) {
            true => (self.minutes, &MINUTES),
            false => (self.quantity, &QUANTITY),
        };
        let figures = [
            (Figure::Quantity, self.printed_quantity, quantity),
            (Figure::Rate, self.printed_rate, (self.rate, &RATE)),
        ];
        for (figure, beside, (column, of)) in figures {
            let Some(beside) = row.value(beside) else { continue };
            let at = self.sheet.at(row.row, column);
            // What was printed is a number, or the word for one that was not known.
            let printed = number(beside, of).unwrap_or(None);
            let now = row.value(column).map_or(Ok(None), |value| number(value, of));
            let now = now.map_err(|(message, hint)| self.unread(at, message, hint))?;
            if !is_same(printed, now) {
                let known_as = known_as.to_string();
                typed.push(TypedFigure { known_as, figure, printed, typed: now, at });
            }
        }
        Ok(())
    }

    fn unread(&self, at: CellRef, message: String, hint: String) -> EarlierError {
        EarlierError::Unread { at: self.sheets.show(at), message, hint }
    }
}

/// How the name of a row ends whose quantity is minutes.
const IN_MINUTES: &str = ", min";

/// The column under a heading; a currency may stand behind its name.
fn under(row: &Row, column: &Column) -> Option<u16> {
    let names_it = |value: &Value| match value {
        Value::Text(text) => text.split(" (").next().is_some_and(|name| name.trim() == column.name),
        _ => false,
    };
    row.cells.iter().find(|(_, value)| names_it(value)).map(|(column, _)| *column)
}

/// The number of a cell: a percentage as a share. An error is what is wrong, and what to do.
fn number(value: &Value, column: &Column) -> Result<Option<Decimal>, (String, String)> {
    match value {
        // What is left of a cell that was cleared with spaces.
        Value::Text(text) if text.trim().is_empty() => return Ok(None),
        Value::Percent(percent) => return Ok(Some(*percent / Decimal::ONE_HUNDRED)),
        _ => {}
    }
    match read_value(value, column, None, Unit::Millimeter) {
        Ok(Datum::Number(number)) => Ok(Some(number)),
        Ok(_) => Ok(None),
        Err(unread) => Err((unread.in_words(), unread.hint)),
    }
}
