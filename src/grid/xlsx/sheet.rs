//! One sheet's cells and merged blocks, in one pass.

use super::Shared;
use super::strings::{rich_text_into, unescaped};
use crate::grid::Value;
use crate::grid::cells::{Intake, SheetCells, text, two_values, unreadable};
use crate::grid::error::Damage;
use crate::grid::shown::Shown;
use crate::grid::xml::{Element, Step, Xml};

/// Reads a sheet to its end.
pub(super) fn read(xml: &mut Xml<'_>, mut sheet: Intake<'_>, shared: &Shared) -> Result<SheetCells, Damage> {
    // Where a cell without an address, and a row without a number, stand.
    let (mut row, mut column, mut next_row) = (0_u32, 0_u32, 0_u32);
    let mut text = String::new();
    let whole = xml.begin("worksheet")?;
    while let Some(step) = xml.step(whole)? {
        let Step::Element(element) = step else { continue };
        match element.name() {
            "row" => {
                let head = RowHead::of(&element)?;
                row = match head.number {
                    Some(number) => number.checked_sub(1).ok_or_else(|| sheet.outside("row 0"))?,
                    None => next_row,
                };
                (column, next_row) = (0, row.saturating_add(1));
                if head.hidden {
                    sheet.hide_rows(row, row);
                }
            }
            "c" => {
                let head = Head::of(&element, (row, column), &sheet, shared)?;
                (row, column, next_row) = (head.row, u32::from(head.column) + 1, head.row + 1);
                if let Some(value) = value(xml, head, shared, &mut text)? {
                    sheet.take((head.row, head.column), value)?;
                }
            }
            "col" => hide_columns(&element, &mut sheet)?,
            "mergeCell" => {
                if let Some((rows, columns)) = block(&element.attribute("ref")?) {
                    sheet.merge(rows, columns);
                }
            }
            _ => {}
        }
    }
    sheet.finish()
}

/// Notes columns that are hidden.
fn hide_columns(element: &Element<'_>, sheet: &mut Intake<'_>) -> Result<(), Damage> {
    if is_true(&element.attribute("hidden")?) || is_zero(&element.attribute("width")?) {
        let (first, last) = (element.attribute("min")?.parse(), element.attribute("max")?.parse());
        if let (Ok(first @ 1..), Ok(last @ 1..)) = (first, last) {
            sheet.hide_columns(first - 1, last - 1_u32);
        }
    }
    Ok(())
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
    fn of(element: &Element<'_>) -> Result<RowHead, Damage> {
        let mut head = RowHead::default();
        for attribute in element.attributes() {
            let (name, value) = attribute?;
            match name {
                "r" => {
                    let number = value.parse();
                    let number =
                        number.map_err(|_| Damage::Broken("it has a row without a number".into()))?;
                    head.number = Some(number);
                }
                "hidden" => head.hidden |= is_true(&value),
                "ht" => head.hidden |= is_zero(&value),
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

impl Head {
    /// Reads a cell's attributes; without an address of its own it is the next one in its row.
    fn of(
        element: &Element<'_>,
        next: (u32, u32),
        sheet: &Intake<'_>,
        shared: &Shared,
    ) -> Result<Head, Damage> {
        let (mut address, mut stored, mut style) = (None, Stored::Number, 0);
        for attribute in element.attributes() {
            let (name, value) = attribute?;
            match name {
                "r" => address = Some(value),
                "t" => stored = Stored::named(&value),
                "s" => style = value.parse().unwrap_or(0),
                _ => {}
            }
        }
        let (row, column) = match &address {
            Some(address) => {
                let position = cell_position(address);
                let position = position.and_then(|(row, column)| sheet.position(row, column).ok());
                position.ok_or_else(|| sheet.outside(address))?
            }
            None => sheet.position(next.0, next.1)?,
        };
        let shown = shared.styles.get(style).copied().unwrap_or_default();
        Ok(Head { row, column, stored, shown })
    }
}

/// Reads a cell to its end; `None` if it holds nothing but a format. `text` is room for its text.
///
/// A cell has one value, as `v` or as `is`. Some writers give it both ways; that is one value if they
/// are the same.
fn value(xml: &mut Xml<'_>, head: Head, shared: &Shared, text: &mut String) -> Result<Option<Value>, Damage> {
    text.clear();
    let mut again = String::new();
    let (mut has_formula, mut has_value) = (false, false);
    let cell = xml.open();
    while let Some(step) = xml.step(cell)? {
        let Step::Element(element) = step else { continue };
        match element.name() {
            "v" => {
                has_value = true;
                xml.text_into(if text.is_empty() { text } else { &mut again })?;
            }
            "is" => {
                has_value = true;
                rich_text_into(xml, if text.is_empty() { text } else { &mut again })?;
            }
            name => {
                has_formula |= name == "f";
                xml.skip()?;
            }
        }
    }
    if !again.is_empty() && again != *text {
        return Ok(Some(two_values()));
    }
    // A formula may result in an empty text, but not in an empty number.
    let has_result = has_value && (head.stored == Stored::Text || !text.is_empty());
    Ok(match (has_result, has_formula) {
        (true, _) => stored_value(head, text, shared),
        (false, true) => Some(Value::NoResult),
        (false, false) => None,
    })
}

/// The value that the text stands for. What cannot be made out is an error in its cell.
fn stored_value(head: Head, stored: &str, shared: &Shared) -> Option<Value> {
    Some(match head.stored {
        Stored::Number => head.shown.written(stored, shared.epoch),
        Stored::SharedText => match stored.parse().ok().and_then(|at: usize| shared.strings.get(at)) {
            Some(known) => return text(known.clone()),
            None => unreadable(stored),
        },
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
