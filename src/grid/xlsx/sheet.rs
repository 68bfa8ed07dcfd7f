//! One sheet's cells and merged blocks, in one pass.

use quick_xml::events::{BytesStart, Event};

use super::Shared;
use super::strings::{rich_text_into, unescaped};
use super::styles::Shown;
use super::xml::{Attributes, Damage, breaks_off, skip, text_into};
use crate::grid::error::Problem;
use crate::grid::guard::{Budget, Part, in_order};
use crate::grid::number::{date, decimal};
use crate::grid::{Block, Hidden, Row, Value};
use crate::place::{LONGEST_TEXT, MOST_COLUMNS, MOST_ROWS};

/// What a sheet holds.
#[derive(Default)]
pub(in crate::grid) struct SheetCells {
    /// Rows with at least one cell that holds something, in order.
    pub rows: Vec<Row>,
    /// Merged blocks, in order of their first cell.
    pub merged: Vec<Block>,
    /// Rows and columns that it does not show.
    pub hidden: Hidden,
}

/// Reads a sheet to its end.
pub(super) fn read<'w>(
    part: Part<'w>,
    name: &'w str,
    shared: &'w Shared,
    budget: &mut Budget,
) -> Result<SheetCells, Damage> {
    let mut walk = Walk { part, name, shared, buffer: Vec::new(), text: String::new() };
    let mut sheet = SheetCells::default();
    let mut row = Row { row: 0, cells: Vec::new() };
    let mut column = 0;
    let mut buffer = Vec::new();
    loop {
        buffer.clear();
        match walk.part.read_event_into(&mut buffer)? {
            Event::Start(element) => match element.local_name().as_ref() {
                "row" => {
                    column = 0;
                    if let Some(number) = row_number(&element)? {
                        row.row = number.checked_sub(1).ok_or_else(|| walk.outside("row 0"))?;
                    }
                }
                "c" => {
                    let head = walk.head(&element, row.row, column)?;
                    if head.row != row.row {
                        sheet.rows.extend(finished(&mut row, head.row));
                    }
                    column = u32::from(head.column) + 1;
                    if let Some(value) = walk.value(head)? {
                        budget.spend(&value)?;
                        row.cells.push((head.column, value));
                    }
                }
                "mergeCell" => {
                    let reference = Attributes::of(&element)?.text("ref")?;
                    sheet.merged.extend(block(&reference));
                }
                _ => {}
            },
            Event::End(element) => match element.local_name().as_ref() {
                "row" => {
                    let next = row.row.saturating_add(1);
                    sheet.rows.extend(finished(&mut row, next));
                }
                "worksheet" => break,
                _ => {}
            },
            Event::Eof => return Err(breaks_off()),
            _ => {}
        }
    }
    in_order(&mut sheet.rows);
    sheet.merged.sort_unstable_by_key(|block| (block.rows.0, block.columns.0));
    Ok(sheet)
}

/// The row so far, if it holds anything; the next one is begun.
fn finished(row: &mut Row, next: u32) -> Option<Row> {
    let cells = Vec::with_capacity(row.cells.len());
    let done = std::mem::replace(row, Row { row: next, cells });
    (!done.cells.is_empty()).then_some(done)
}

/// A row's own number, from 1, if it has one.
fn row_number(element: &BytesStart) -> Result<Option<u32>, Damage> {
    for attribute in element.attributes().with_checks(false) {
        let attribute = attribute?;
        if attribute.key.as_ref() == "r" {
            let number = attribute.value.parse();
            return number.map(Some).map_err(|_| Damage::Xml("a row without a number".into()));
        }
    }
    Ok(None)
}

/// Where a cell stands, and how its value is stored and shown.
#[derive(Clone, Copy)]
struct Head {
    row: u32,
    column: u16,
    stored: Stored,
    shown: Shown,
}

/// How a cell's value is stored.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Stored {
    Number,
    SharedText,
    Text,
    Truth,
    Error,
    IsoDate,
    Unknown,
}

impl Stored {
    fn named(name: &str) -> Stored {
        match name {
            "n" => Stored::Number,
            "s" => Stored::SharedText,
            "str" | "inlineStr" => Stored::Text,
            "b" => Stored::Truth,
            "e" => Stored::Error,
            "d" => Stored::IsoDate,
            _ => Stored::Unknown,
        }
    }
}

/// A reader on its way through a sheet, with room for what it reads.
struct Walk<'w> {
    part: Part<'w>,
    name: &'w str,
    shared: &'w Shared,
    buffer: Vec<u8>,
    text: String,
}

impl Walk<'_> {
    fn outside(&self, address: &str) -> Damage {
        Damage::Limit(Problem::OutsideGrid { sheet: self.name.to_owned(), address: address.to_owned() })
    }

    /// Reads a cell's attributes; without an address of its own it is the next one in its row.
    fn head(&self, element: &BytesStart, row: u32, column: u32) -> Result<Head, Damage> {
        let (mut address, mut stored, mut style) = (None, Stored::Number, 0);
        for attribute in element.attributes().with_checks(false) {
            let attribute = attribute?;
            match attribute.key.as_ref() {
                "r" => address = Some(attribute.value),
                "t" => stored = Stored::named(&attribute.value),
                "s" => style = attribute.value.parse().unwrap_or(0),
                _ => {}
            }
        }
        let (row, column) = match &address {
            Some(address) => cell_position(address).ok_or_else(|| self.outside(address))?,
            None => (row, column),
        };
        let within = row < MOST_ROWS && column < u32::from(MOST_COLUMNS);
        let column = u16::try_from(column).ok().filter(|_| within).ok_or_else(|| {
            self.outside(address.as_deref().unwrap_or(&format!(
                "row {}, column {}",
                row.saturating_add(1),
                column + 1
            )))
        })?;
        let shown = self.shared.styles.get(style).copied().unwrap_or_default();
        Ok(Head { row, column, stored, shown })
    }

    /// Reads a cell to its end; `None` if it holds nothing but a format.
    fn value(&mut self, head: Head) -> Result<Option<Value>, Damage> {
        self.text.clear();
        let (mut has_formula, mut has_value) = (false, false);
        loop {
            self.buffer.clear();
            match self.part.read_event_into(&mut self.buffer)? {
                Event::Start(element) => match element.local_name().as_ref() {
                    "v" => {
                        has_value = true;
                        text_into(&mut self.part, &mut self.buffer, &mut self.text)?;
                    }
                    "is" => {
                        has_value = true;
                        rich_text_into(&mut self.part, &mut self.buffer, &mut self.text)?;
                    }
                    "f" => {
                        has_formula = true;
                        skip(&mut self.part, &mut self.buffer)?;
                    }
                    _ => skip(&mut self.part, &mut self.buffer)?,
                },
                Event::End(_) => break,
                Event::Eof => return Err(breaks_off()),
                _ => {}
            }
        }
        // A formula may result in an empty text, but not in an empty number.
        let has_result = has_value && (head.stored == Stored::Text || !self.text.is_empty());
        Ok(match (has_result, has_formula) {
            (true, _) => self.stored_value(head),
            (false, true) => Some(Value::NoResult),
            (false, false) => None,
        })
    }

    /// The value that the text stands for. What cannot be made out is an error in its cell.
    fn stored_value(&self, head: Head) -> Option<Value> {
        let text = self.text.as_str();
        let value = match head.stored {
            Stored::Number => match head.shown {
                Shown::Date => date(text, self.shared.epoch),
                Shown::Plain => decimal(text).map_or_else(|| unreadable(text), Value::Number),
                Shown::Percent => decimal(text)
                    .and_then(|share| share.checked_mul(rust_decimal::Decimal::ONE_HUNDRED))
                    .map_or_else(|| unreadable(text), |percent| Value::Percent(percent.normalize())),
            },
            Stored::SharedText => match text.parse().ok().and_then(|at: usize| self.shared.strings.get(at)) {
                Some(text) => return written(text.clone()),
                None => unreadable(text),
            },
            Stored::Text => return written(unescaped(text)),
            Stored::Truth => match text.trim() {
                "1" | "true" | "TRUE" => Value::Truth(true),
                "0" | "false" | "FALSE" => Value::Truth(false),
                _ => unreadable(text),
            },
            Stored::IsoDate => Value::Date(text.into()),
            Stored::Error | Stored::Unknown => unreadable(text),
        };
        Some(value)
    }
}

/// What stands in a cell and is no value.
fn unreadable(text: &str) -> Value {
    Value::Error(text.chars().take(40).collect::<String>().into())
}

/// A text, unless it is blank or longer than a cell can hold.
fn written(text: Box<str>) -> Option<Value> {
    if text.trim().is_empty() {
        return None;
    }
    if text.len() > LONGEST_TEXT && text.encode_utf16().count() > LONGEST_TEXT {
        return Some(Value::Error(format!("a text of more than {LONGEST_TEXT} characters").into()));
    }
    Some(Value::Text(text))
}

/// Row and column, from 0, of an address such as `F42`, in any case and with or without `$`.
fn cell_position(address: &str) -> Option<(u32, u32)> {
    let (mut column, mut row) = (0_u32, 0_u32);
    for byte in address.bytes() {
        match byte {
            b'$' => {}
            b'A'..=b'Z' | b'a'..=b'z' if row == 0 => {
                let letter = u32::from(byte.to_ascii_uppercase() - b'A') + 1;
                column = column.checked_mul(26)?.checked_add(letter)?;
            }
            b'0'..=b'9' => row = row.checked_mul(10)?.checked_add(u32::from(byte - b'0'))?,
            _ => return None,
        }
    }
    Some((row.checked_sub(1)?, column.checked_sub(1)?))
}

/// The block of `A1:B3`; `None` if that is no block within the grid.
fn block(reference: &str) -> Option<Block> {
    let (first, last) = reference.split_once(':')?;
    let (first, last) = (cell_position(first)?, cell_position(last)?);
    let within = first.0 <= last.0 && first.1 <= last.1 && last.0 < MOST_ROWS;
    let column = |column: u32| u16::try_from(column).ok().filter(|column| *column < MOST_COLUMNS);
    within.then_some(Block { rows: (first.0, last.0), columns: (column(first.1)?, column(last.1)?) })
}

#[cfg(test)]
mod tests {
    use super::cell_position;

    #[test]
    fn addresses_are_read_from_zero() {
        let cases = [
            ("A1", Some((0, 0))),
            ("xfd1048576", Some((1_048_575, 16_383))),
            ("$B$3", Some((2, 1))),
            ("A0", None),
            ("A", None),
            ("7", None),
            ("A1B", None),
            ("A99999999999", None),
            ("", None),
        ];
        for (address, position) in cases {
            assert_eq!(cell_position(address), position, "{address}");
        }
    }
}
