//! A table of openings or of types, its cells read.

use std::sync::Arc;

use crate::length::Unit;
use crate::schema::Column;
use crate::schema::openings::{CATEGORY, PAIRS};
use crate::tables::{ColumnRead, Datum, ReadTable, TableRow};

use super::carried::{Carried, Places};
use super::category::Category;
use super::said_blank;
use super::things::names_thing;

/// The rows of a table, and what is known of them from outside.
pub(super) struct Rows<'g> {
    /// The name of its sheet.
    pub sheet: &'g str,
    /// Its rows.
    pub read: ReadTable,
    /// The column that names a row.
    pub id: &'static Column,
    /// The floor of every row, if its sheet is one.
    pub floor: Option<&'g str>,
    /// Whether nothing but its columns says that it lists openings.
    pub is_doubtful: bool,
    /// The units that its headings of sizes name.
    pub size_units: SizeUnits,
    /// Whether every row that has a name is an opening, sized or not.
    pub all_openings: bool,
}

/// A table of openings or of types.
pub(super) struct Table {
    /// The name of its sheet.
    pub sheet: Box<str>,
    /// Its rows.
    pub read: ReadTable,
    /// Where its carried columns stand among those of the run.
    pub carried: Places,
    /// The column that names a row.
    pub id: &'static Column,
    /// The floor of every row, if its sheet is one.
    pub floor: Option<Arc<str>>,
    /// Whether nothing but its columns says that it lists openings.
    pub is_doubtful: bool,
    /// The units that its headings of sizes name.
    pub size_units: SizeUnits,
    /// Whether every row that has a name is an opening, sized or not.
    pub all_openings: bool,
}

/// The units that headings over widths, heights and both in one cell name, by the column's slot.
#[derive(Default)]
pub(super) struct SizeUnits(Vec<(usize, Unit)>);

impl FromIterator<(&'static Column, Unit)> for SizeUnits {
    fn from_iter<I: IntoIterator<Item = (&'static Column, Unit)>>(named: I) -> SizeUnits {
        SizeUnits(named.into_iter().map(|(column, unit)| (column.slot, unit)).collect())
    }
}

impl SizeUnits {
    /// What the heading of a column names.
    pub fn of(&self, column: &Column) -> Option<Unit> {
        self.0.iter().find(|(slot, _)| *slot == column.slot).map(|(_, unit)| *unit)
    }

    /// What the heading of a width and a height in one cell names.
    pub fn of_pair(&self) -> Option<Unit> {
        PAIRS.iter().find_map(|column| self.of(column))
    }
}

impl Table {
    /// Enters its carried columns among those of the run, and takes out what says nothing.
    pub fn new(rows: Rows<'_>, carried: &mut Carried) -> Table {
        let Rows { sheet, mut read, id, floor, size_units, all_openings, is_doubtful } = rows;
        let carried = carried.enter(&read);
        said_blank::take_out(&mut read);
        let floor = floor.map(Arc::from);
        Table { sheet: sheet.into(), carried, read, id, floor, size_units, all_openings, is_doubtful }
    }

    /// The unit that the heading of a column names, or that what stands for headings does.
    pub fn unit_of(&self, column: &Column) -> Option<Unit> {
        let heads = |read: &&ColumnRead| read.taken.is_some_and(|taken| taken == column);
        let named = || self.read.columns.iter().find(heads)?.unit.map(|(unit, _)| unit);
        self.size_units.of(column).or_else(named)
    }

    /// Whether any row says that it is a door, a window or another thing: then a row whose word is
    /// not known is worth a question. Else the column means something else.
    pub fn knows_categories(&self) -> bool {
        self.read.rows.iter().any(|row| category(row).is_some())
    }
}

/// What a row's own category says; a cell without a known word says nothing.
pub(super) fn category(row: &TableRow) -> Option<Category> {
    match &row.entry(&CATEGORY)?.datum {
        Ok(Datum::Text(text)) => {
            Category::named(text).or_else(|| names_thing(text).then_some(Category::Other))
        }
        _ => None,
    }
}
