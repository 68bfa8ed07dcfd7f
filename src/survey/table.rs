//! A table of openings or of types, its cells read.

use std::sync::Arc;

use crate::length::Unit;
use crate::schema::Column;
use crate::schema::openings::CATEGORY;
use crate::tables::{Datum, ReadTable, TableRow};

use super::carried::{Carried, Places};
use super::category::Category;
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
}

impl Table {
    /// Enters its carried columns among those of the run.
    pub fn new(rows: Rows<'_>, carried: &mut Carried) -> Table {
        let Rows { sheet, read, id, floor, is_doubtful } = rows;
        let carried = carried.enter(&read);
        Table { sheet: sheet.into(), carried, read, id, floor: floor.map(Arc::from), is_doubtful }
    }

    /// The unit that the heading of a column names.
    pub fn unit_of(&self, column: &Column) -> Option<Unit> {
        self.read.columns.iter().find(|read| read.taken.is_some_and(|taken| taken.slot == column.slot))?.unit
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
