//! Finding a table's headings in a sheet, with the units that they name.

use std::collections::BTreeMap;

use super::cell::shown;
use super::words::fold;
use crate::grid::{Row, Sheet, Value};
use crate::length::{Order, Unit, order_named};
use crate::place::column_letters;
use crate::schema::openings::{HEIGHT_BY_WIDTH, SIZE_IN_ONE, WIDTH_BY_HEIGHT};
use crate::schema::{Column, Kind, Table};

/// Rows that are searched for headings; what stands above them are titles.
pub(super) const HEADING_ROWS: usize = 50;

/// The row of headings.
pub(super) struct Headings {
    /// Its row, from 0.
    pub row: u32,
    /// The columns that hold anything, from the left.
    pub columns: Vec<Heading>,
}

/// One column's heading.
pub(super) struct Heading {
    /// Column of the sheet, from 0.
    pub column: u16,
    /// The heading as written; `column F` where cells stand under none.
    pub text: String,
    /// What the schema makes of it.
    pub known: Option<Known>,
}

/// A heading or an item that the schema knows.
#[derive(Clone, Copy)]
pub(super) struct Known {
    /// Its column of the table.
    pub column: &'static Column,
    /// The unit that the heading names.
    pub unit: Option<Unit>,
}

/// Every name and synonym of a table's columns.
pub(super) struct Names {
    folded: BTreeMap<String, &'static Column>,
}

impl Names {
    pub(super) fn of(table: &'static Table) -> Names {
        let mut folded = BTreeMap::new();
        for column in table.columns {
            for name in column.names() {
                folded.entry(fold(name)).or_insert(*column);
            }
        }
        Names { folded }
    }

    /// The column of that heading: `Width`, and if it holds lengths also `Width (in)`, `Height, mm`,
    /// `Width [cm]`, `Wall left mm`, `Width in inches`.
    pub(super) fn known(&self, heading: &str) -> Option<Known> {
        let heading = heading.trim();
        if let Some(column) = self.folded.get(&fold(heading)) {
            return Some(Known { column, unit: None });
        }
        if let Some((name, unit)) = split_unit(heading)
            && let Some(column) =
                self.folded.get(&fold(name)).or_else(|| self.folded.get(&fold(without_in(name))))
        {
            return holds_lengths(column).then_some(Known { column, unit: Some(unit) });
        }
        self.known_pair(heading)
    }

    /// `Size (W x H) mm`, `Breite x Höhe`: a heading of a width and a height in one cell that says
    /// which comes first.
    fn known_pair(&self, heading: &str) -> Option<Known> {
        let (order, rest) = order_named(heading)?;
        let rest = rest.trim_matches(|character: char| !character.is_alphanumeric());
        let unit = match Unit::named(rest.strip_prefix("in ").unwrap_or(rest)) {
            None if rest.is_empty() => None,
            None => self.known(rest).filter(|known| std::ptr::eq(known.column, &raw const SIZE_IN_ONE))?.unit,
            named => named,
        };
        let column: &'static Column = match order {
            Order::WidthFirst => &WIDTH_BY_HEIGHT,
            Order::HeightFirst => &HEIGHT_BY_WIDTH,
        };
        self.folded.contains_key(&fold(column.name)).then_some(Known { column, unit })
    }
}

/// Whether the column's numbers are in a unit of length.
pub(super) fn holds_lengths(column: &Column) -> bool {
    matches!(column.kind, Kind::Length { .. } | Kind::LengthOr { .. } | Kind::Pair(_))
}

/// `Width (in)` as `Width (` and inches.
fn split_unit(heading: &str) -> Option<(&str, Unit)> {
    let heading = heading.trim_end_matches([')', ']', ' ']);
    let starts_unit = |character: char| character.is_whitespace() || "([,:;/-".contains(character);
    let by_word = heading.rfind(starts_unit).map(|start| heading.split_at(start));
    let by_mark = heading.char_indices().next_back().map(|(start, _)| heading.split_at(start));
    [by_word, by_mark].into_iter().flatten().find_map(|(name, unit)| {
        let unit = unit.trim_start_matches(starts_unit);
        let is_mark = unit.chars().any(|character| !character.is_alphanumeric());
        let stands_apart = unit.len() < heading.len() - name.len();
        Some((name, Unit::named(unit).filter(|_| is_mark || stands_apart)?))
    })
}

/// `Width in` of `Width in mm` as `Width`.
fn without_in(name: &str) -> &str {
    let name = name.trim_end();
    name.strip_suffix("in").unwrap_or(name)
}

impl Headings {
    /// The row, among the first, with the most headings that the table knows; the first of equals.
    pub(super) fn find(sheet: &Sheet, names: &Names) -> Option<Headings> {
        let mut best: Option<(usize, &Row)> = None;
        for row in sheet.rows.iter().take(HEADING_ROWS) {
            let count = known_in(row, names);
            if count > best.map_or(0, |(most, _)| most) {
                best = Some((count, row));
            }
        }
        let (_, row) = best?;
        let mut columns: BTreeMap<u16, Heading> = BTreeMap::new();
        for (column, value) in &row.cells {
            let text = shown(value).into_owned();
            let known = names.known(&text);
            columns.insert(*column, Heading { column: *column, text, known });
        }
        let below = sheet.rows.iter().skip_while(|below| below.row <= row.row);
        for (column, _) in below.flat_map(|row| &row.cells) {
            columns.entry(*column).or_insert_with(|| Heading {
                column: *column,
                text: format!("column {}", column_letters(*column)),
                known: None,
            });
        }
        Some(Headings { row: row.row, columns: columns.into_values().collect() })
    }

    /// Whether a row below says the headings once more, as on each page of a long list.
    pub(super) fn repeated_in(&self, row: &Row) -> bool {
        let mut known = self.columns.iter().filter(|heading| heading.known.is_some());
        known.all(|heading| row.value(heading.column).is_some_and(|value| shown(value) == heading.text))
    }
}

/// How many different columns of the table a row names.
fn known_in(row: &Row, names: &Names) -> usize {
    let mut slots: Vec<usize> = row
        .cells
        .iter()
        .filter_map(|(_, value)| match value {
            Value::Text(text) => names.known(text).map(|known| known.column.slot),
            _ => None,
        })
        .collect();
    slots.sort_unstable();
    slots.dedup();
    slots.len()
}
