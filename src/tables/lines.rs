//! A sheet's rows seen as lines of text: which cells name columns, and which hold data.

use std::collections::{BTreeMap, HashMap};

use super::meanings::Meaning;
use super::names::{Known, Names};
use super::suffix::{is_feet_and_inches, is_remark, unit_alone, without_unit};
use crate::grid::{Row, Sheet, Value};
use crate::name::narrow;
use crate::schema::Column;

/// The sheet with what each of its texts names, looked up once.
pub(super) struct Lines<'s, 'n> {
    pub sheet: &'s Sheet,
    names: &'n Names,
    met: HashMap<&'s str, Option<Known>>,
    /// Last column of each merged block of several columns, by its first cell.
    wide: BTreeMap<(u32, u16), u16>,
}

/// A run of cells on one row.
#[derive(Clone, Debug, Default)]
pub(super) struct Piece {
    /// First and last column.
    pub columns: (u16, u16),
    /// How many cells hold anything.
    pub cells: usize,
    /// How many hold what no heading does: a number, a date, or a text with a digit that names nothing.
    pub data: usize,
    /// The columns of the table that it names, with where.
    pub named: Vec<(u16, &'static Column)>,
}

impl Piece {
    /// How many different columns of the table it names.
    pub fn known(&self) -> usize {
        let mut slots: Vec<usize> = self.named.iter().map(|(_, column)| column.slot).collect();
        slots.sort_unstable();
        slots.dedup();
        slots.len()
    }

    /// Both in one.
    pub fn and(mut self, other: Piece) -> Piece {
        if self.cells == 0 {
            return other;
        }
        self.columns = (self.columns.0.min(other.columns.0), self.columns.1.max(other.columns.1));
        self.cells += other.cells;
        self.data += other.data;
        self.named.extend(other.named);
        self
    }
}

impl<'s, 'n> Lines<'s, 'n> {
    pub fn new(sheet: &'s Sheet, names: &'n Names) -> Lines<'s, 'n> {
        let wide = sheet.merged.iter().filter(|block| block.columns.1 > block.columns.0);
        let wide = wide.map(|block| ((block.rows.0, block.columns.0), block.columns.1)).collect();
        Lines { sheet, names, met: HashMap::new(), wide }
    }

    pub fn row(&self, line: usize) -> Option<&'s Row> {
        self.sheet.rows.get(line)
    }

    /// Whether a line stands directly below the one before it.
    pub fn follows(&self, line: usize) -> bool {
        let above = line.checked_sub(1).and_then(|above| self.row(above));
        above.zip(self.row(line)).is_some_and(|(above, row)| row.row == above.row + 1)
    }

    /// The cells of a line within columns, both included.
    pub fn cells(&self, line: usize, columns: (u16, u16)) -> &'s [(u16, Value)] {
        self.row(line).map_or(&[], |row| cells_in(row, columns))
    }

    /// What a text names.
    pub fn known(&mut self, text: &'s str) -> Option<Known> {
        *self.met.entry(text).or_insert_with(|| self.names.known(text))
    }

    /// The last column of the merged block of several columns that begins at a cell.
    pub fn last_merged(&self, row: u32, column: u16) -> Option<u16> {
        self.wide.get(&(row, column)).copied()
    }

    /// What a heading names.
    pub fn named(&self, heading: &str) -> Option<Known> {
        self.names.known(heading)
    }

    /// What a person says of a heading.
    pub fn said(&self, heading: &str) -> Option<Meaning> {
        self.names.said(heading)
    }

    /// What a text below others names with them. A dash, or whatever else stands for a blank, names nothing.
    pub fn compound(&self, group: &str, name: &str) -> Option<Known> {
        if !(names_anything(group) && names_anything(name)) {
            return None;
        }
        self.names.known(&format!("{} {name}", without_unit(group)))
    }

    /// What stands in some cells of a line. Most lines hold data, and of those most cells tell it
    /// at once: their texts are looked up only where headings could still outnumber the data.
    pub fn piece(&mut self, cells: &'s [(u16, Value)]) -> Piece {
        let (Some(first), Some(last)) = (cells.first(), cells.last()) else { return Piece::default() };
        let certain = cells.iter().filter(|(_, value)| !matches!(value, Value::Text(_))).count();
        let mut piece =
            Piece { columns: (first.0, last.0), cells: cells.len(), data: certain, named: Vec::new() };
        if certain * 2 > cells.len() {
            return piece;
        }
        for (column, value) in cells {
            let Value::Text(text) = value else { continue };
            let has_digit = holds_digit(text);
            if has_digit && !self.names.may_be_named(text) {
                piece.data += 1;
                continue;
            }
            match self.known(text) {
                Some(known) => piece.named.push((*column, known.column)),
                None => piece.data += usize::from(has_digit),
            }
        }
        piece
    }

    /// Whether a line says nothing but units within columns, at least one: `mm` under `Width`.
    pub fn is_units(&self, line: usize, columns: (u16, u16)) -> bool {
        let cells = self.cells(line, columns);
        let unit = |value: &Value| {
            text(value).is_some_and(|text| unit_alone(text).is_some() || is_feet_and_inches(text))
        };
        let beside = |value: &Value| text(value).is_some_and(|text| is_remark(text) || is_other_unit(text));
        cells.iter().any(|(_, value)| unit(value))
            && cells.iter().all(|(_, value)| unit(value) || beside(value))
    }

    /// The text of a line that holds but one cell, as a title does.
    pub fn title(&self, line: usize, columns: (u16, u16)) -> Option<&'s str> {
        match self.cells(line, columns) {
            [(_, value)] => text(value),
            _ => None,
        }
    }
}

/// The cells of a row within columns, both included.
pub(super) fn cells_in(row: &Row, columns: (u16, u16)) -> &[(u16, Value)] {
    let start = row.cells.partition_point(|cell| cell.0 < columns.0);
    let end = row.cells.partition_point(|cell| cell.0 <= columns.1);
    row.cells.get(start..end).unwrap_or(&[])
}

/// The text of a cell that holds one.
pub(super) fn text(value: &Value) -> Option<&str> {
    match value {
        Value::Text(text) => Some(text.trim()).filter(|text| !text.is_empty()),
        _ => None,
    }
}

pub(super) fn holds_digit(text: &str) -> bool {
    text.chars().any(|character| narrow(character).is_ascii_digit())
}

/// Whether a text has a letter, a digit, or a mark that stands for a word.
fn names_anything(text: &str) -> bool {
    text.chars().any(|character| character.is_alphanumeric() || "#№%°".contains(character))
}

/// Units of what is no length, as they stand beside those that are.
fn is_other_unit(text: &str) -> bool {
    const OTHER_UNITS: [&str; 20] = [
        "kg", "lb", "lbs", "kg/m2", "kg/m²", "m2", "m²", "sqm", "sq m", "sq ft", "ft²", "°", "deg", "min",
        "db", "w/m2k", "w/m²k", "w/(m2k)", "w/(m²k)", "%",
    ];
    let text = text.trim_matches(|character| "()[]".contains(character)).to_lowercase();
    ["-", "–", "#"].contains(&text.as_str()) || OTHER_UNITS.contains(&text.as_str())
}
