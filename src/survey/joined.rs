//! A row with its type behind it: the row wins, cell by cell.

use crate::schema::Column;
use crate::schema::openings::{
    HEIGHT, HEIGHT_LEFT, HEIGHT_MIDDLE, HEIGHT_RIGHT, OPENINGS, WIDTH, WIDTH_BOTTOM, WIDTH_MIDDLE, WIDTH_TOP,
};
use crate::tables::{Entry, TableRow};

use super::category::Category;
use super::measured::Spot;
use super::table::category;

/// A row of `Openings` and the row of `Types` that fills its blanks.
#[derive(Clone, Copy)]
pub(super) struct Joined<'t> {
    pub row: &'t TableRow,
    pub of_type: Option<&'t TableRow>,
}

impl<'t> Joined<'t> {
    /// The cell under a column that is no size: the row's own, else its type's.
    pub fn entry(&self, column: &Column) -> Option<&'t Entry> {
        self.row.entry(column).or_else(|| self.of_type?.entry(column))
    }

    /// The cell that is taken under a column, of a size also where one replaces several.
    pub fn taken(self, column: &Column) -> Option<&'t Entry> {
        match [&WIDTHS, &HEIGHTS].into_iter().find(|size| size.has(column)) {
            Some(size) => {
                size.entries(self).find(|(known, _)| known.slot == column.slot).map(|(_, entry)| entry)
            }
            None => self.entry(column),
        }
    }

    /// Every cell that holds something, the row's own first. Of a size, the type's cells that the
    /// row replaces are among them.
    pub fn entries(self) -> impl Iterator<Item = (&'static Column, &'t Entry)> {
        let row = self.row;
        let with_column = |(slot, entry)| Some((*OPENINGS.columns.get(slot)?, entry));
        let own = row.entries().filter_map(with_column);
        let of_type = self.of_type.into_iter().flat_map(TableRow::entries).filter_map(with_column);
        own.chain(of_type.filter(|(column, _)| row.entry(column).is_none()))
    }

    /// The columns under which the row, its type, or the survey itself says anything, in their order.
    pub fn columns(self) -> impl Iterator<Item = &'static Column> {
        let of_type = self.of_type.into_iter().flat_map(TableRow::slots);
        let mut slots: Vec<usize> = self.row.slots().chain(of_type).collect();
        slots.sort_unstable();
        slots.dedup();
        slots.into_iter().filter_map(|slot| OPENINGS.columns.get(slot).copied())
    }

    /// What the row is said to be, by itself or by its type.
    pub fn category(&self) -> Option<Category> {
        category(self.row).or_else(|| category(self.of_type?))
    }

    /// Whether every width and height of another row is the same, cell by cell.
    pub fn same_sizes(&self, other: Joined<'_>) -> bool {
        [&WIDTHS, &HEIGHTS].into_iter().all(|size| {
            let data = |joined| size.entries(joined).map(|entry| &entry.1.datum);
            data(*self).eq(data(other))
        })
    }

    /// Whether anything stands in a size cell of the row or of its type.
    pub fn has_size(&self) -> bool {
        let stands = |row: &TableRow, size: &Size| size.columns().any(|column| row.entry(column).is_some());
        let sized = |row| stands(row, &WIDTHS) || stands(row, &HEIGHTS);
        sized(self.row) || self.of_type.is_some_and(sized)
    }
}

/// Width or height: one column for all of it, or up to three places.
pub(super) struct Size {
    /// The column for all of it.
    pub whole: &'static Column,
    places: [(Spot, &'static Column); 3],
}

pub(super) static WIDTHS: Size = Size {
    whole: &WIDTH,
    places: [(Spot::Top, &WIDTH_TOP), (Spot::Middle, &WIDTH_MIDDLE), (Spot::Bottom, &WIDTH_BOTTOM)],
};
pub(super) static HEIGHTS: Size = Size {
    whole: &HEIGHT,
    places: [(Spot::Left, &HEIGHT_LEFT), (Spot::Middle, &HEIGHT_MIDDLE), (Spot::Right, &HEIGHT_RIGHT)],
};

impl Size {
    /// Whether a column is one of this size.
    pub fn has(&self, column: &Column) -> bool {
        self.columns().any(|known| known.slot == column.slot)
    }

    /// Every column of this size.
    pub fn columns(&self) -> impl Iterator<Item = &'static Column> {
        std::iter::once(self.whole).chain(self.places.map(|(_, column)| column))
    }

    /// Where along the opening a column of this size is measured; `None` for the one for all of it.
    pub fn spot(&self, column: &Column) -> Option<Spot> {
        self.places.iter().find(|(_, place)| place.slot == column.slot).map(|(spot, _)| *spot)
    }

    /// The cells that give this size, in column order. `Width` alone means three equal widths, so
    /// a row's `Width` replaces all of its type's, and three places of the row its type's `Width`.
    pub fn entries<'t>(&self, joined: Joined<'t>) -> impl Iterator<Item = (&'static Column, &'t Entry)> {
        let own = |column: &Column| joined.row.entry(column).is_some();
        let whole = own(self.whole);
        let every_place = whole || self.places.iter().all(|(_, place)| own(place));
        self.columns().filter_map(move |column| {
            let replaced = if column.slot == self.whole.slot { every_place } else { whole };
            let of_type = joined.of_type.filter(|_| !replaced);
            Some((column, joined.row.entry(column).or_else(|| of_type?.entry(column))?))
        })
    }
}
