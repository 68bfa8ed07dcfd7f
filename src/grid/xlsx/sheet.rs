//! One sheet's cells and merged blocks, in one pass.

use quick_xml::events::{BytesStart, Event};

use super::Shared;
use super::strings::{rich_text_into, unescaped};
use crate::grid::Value;
use crate::grid::cells::{Intake, SheetCells, text, unreadable};
use crate::grid::error::Damage;
use crate::grid::guard::Part;
use crate::grid::shown::Shown;
use crate::grid::xml::{Attributes, skip, text_into};

/// Reads a sheet to its end.
pub(super) fn read(part: Part<'_>, sheet: Intake<'_>, shared: &Shared) -> Result<SheetCells, Damage> {
    let mut walk = Walk { part, sheet, shared, buffer: Vec::new(), text: String::new() };
    let (mut row, mut column) = (0_u32, 0_u32);
    let mut buffer = Vec::new();
    loop {
        buffer.clear();
        match walk.part.read_event_into(&mut buffer)? {
            Event::Start(element) => match element.local_name().as_ref() {
                "row" => {
                    column = 0;
                    let head = RowHead::of(&element)?;
                    if let Some(number) = head.number {
                        row = number.checked_sub(1).ok_or_else(|| walk.sheet.outside("row 0"))?;
                    }
                    if head.hidden {
                        walk.sheet.hide_rows(row, row);
                    }
                }
                "c" => {
                    let head = walk.head(&element, row, column)?;
                    (row, column) = (head.row, u32::from(head.column) + 1);
                    if let Some(value) = walk.value(head)? {
                        walk.sheet.take((head.row, head.column), value)?;
                    }
                }
                "col" => walk.column(&element)?,
                "mergeCell" => {
                    let reference = Attributes::of(&element)?.text("ref")?;
                    if let Some((rows, columns)) = block(&reference) {
                        walk.sheet.merge(rows, columns);
                    }
                }
                _ => {}
            },
            Event::End(element) => match element.local_name().as_ref() {
                "row" => row = row.saturating_add(1),
                "worksheet" => return Ok(walk.sheet.finish()),
                _ => {}
            },
            Event::Eof => return Err(Damage::breaks_off()),
            _ => {}
        }
    }
}

/// What a row says of itself.
#[derive(Default)]
struct RowHead {
    /// Its own number, from 1, if it has one.
    number: Option<u32>,
    /// Hidden by hand, by a filter or in a group that is folded away.
    hidden: bool,
}

impl RowHead {
    fn of(element: &BytesStart) -> Result<RowHead, Damage> {
        let mut head = RowHead::default();
        for attribute in element.attributes().with_checks(false) {
            let attribute = attribute?;
            match attribute.key.as_ref() {
                "r" => {
                    let number = attribute.value.parse();
                    let number = number.map_err(|_| Damage::Broken("a row without a number".into()))?;
                    head.number = Some(number);
                }
                "hidden" => head.hidden |= is_true(&attribute.value),
                "ht" => head.hidden |= is_zero(&attribute.value),
                _ => {}
            }
        }
        Ok(head)
    }
}

fn is_true(flag: &str) -> bool {
    matches!(flag, "1" | "true")
}

/// A row or a column of no height or width is as hidden as any.
fn is_zero(size: &str) -> bool {
    size.parse() == Ok(0.0)
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
    sheet: Intake<'w>,
    shared: &'w Shared,
    buffer: Vec<u8>,
    text: String,
}

impl Walk<'_> {
    /// Notes columns that are hidden.
    fn column(&mut self, element: &BytesStart) -> Result<(), Damage> {
        let attributes = Attributes::of(element)?;
        if is_true(&attributes.text("hidden")?) || is_zero(&attributes.text("width")?) {
            let (first, last) = (attributes.text("min")?.parse(), attributes.text("max")?.parse());
            if let (Ok(first @ 1..), Ok(last @ 1..)) = (first, last) {
                self.sheet.hide_columns(first - 1, last - 1_u32);
            }
        }
        Ok(())
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
            Some(address) => {
                let position = cell_position(address);
                let position = position.and_then(|(row, column)| self.sheet.position(row, column).ok());
                position.ok_or_else(|| self.sheet.outside(address))?
            }
            None => self.sheet.position(row, column)?,
        };
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
                Event::Eof => return Err(Damage::breaks_off()),
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
        let stored = self.text.as_str();
        Some(match head.stored {
            Stored::Number => head.shown.written(stored, self.shared.epoch),
            Stored::SharedText => {
                match stored.parse().ok().and_then(|at: usize| self.shared.strings.get(at)) {
                    Some(shared) => return text(shared.clone()),
                    None => unreadable(stored),
                }
            }
            Stored::Text => return text(unescaped(stored)),
            Stored::Truth => match stored.trim() {
                "1" | "true" | "TRUE" => Value::Truth(true),
                "0" | "false" | "FALSE" => Value::Truth(false),
                _ => unreadable(stored),
            },
            Stored::IsoDate => Value::Date(stored.into()),
            Stored::Error | Stored::Unknown => unreadable(stored),
        })
    }
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

/// First and last row, first and last column of `A1:B3`.
fn block(reference: &str) -> Option<((u32, u32), (u32, u32))> {
    let (first, last) = reference.split_once(':')?;
    let (first, last) = (cell_position(first)?, cell_position(last)?);
    Some(((first.0, last.0), (first.1, last.1)))
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
