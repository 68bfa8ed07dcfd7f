//! Which rows are openings.
//!
//! Same key: building, unit and id, without regard to case or spacing, over all surveys of the run.
//! Where every size is the same too, the hint is that an export may have repeated the row.

use crate::name;
use crate::place::CellRef;
use crate::schema::Column;
use crate::schema::openings::{EXAMPLE_ID, HEIGHTS, KIND, OPENING, ROOM, TYPE, UNIT, WIDTHS};
use crate::tables::{Datum, Entry, ReadTable, TableRow};

use super::category::Category;
use super::joined::Joined;
use super::table::category;
use super::totals::is_total;
use super::types::Lookup;

/// What a row of an opening table is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Standing {
    /// It has a name or a place, and a size or a type that is to give it one.
    Opening,
    /// It has a size, but nothing that says which opening it is.
    Nameless,
    /// It has an id or a type, but nothing in a size cell.
    Sizeless,
    /// It begins with a total, or says so where a kind or a size belongs, with sizes or without.
    Total,
    /// It is the example row of a blank survey, left in.
    Example,
    /// It has a size, but says that it is neither a door nor a window.
    OtherCategory,
    /// None of these: a heading of its own, a blank line, a remark.
    Other,
}

/// Decides what a row is. A type that no list of types has was meant to give a size, so
/// its rows are openings all the same: a slip in a type must not drop them.
pub(super) fn standing(table: &ReadTable, joined: Joined<'_>, lookup: &Lookup<'_>) -> Standing {
    let row = joined.row;
    if is_example(row) {
        return Standing::Example;
    }
    let marked = row.entry(&OPENING).is_some() || row.entry(&TYPE).is_some();
    let named = marked || row.entry(&UNIT).is_some() || row.entry(&ROOM).is_some();
    let measured = joined.has_size() || lookup.is_lost();
    if (measured || marked) && (begins_with_total(table, row) || says_total(row)) {
        return Standing::Total;
    }
    if !measured {
        return if marked { Standing::Sizeless } else { Standing::Other };
    }
    match (category(row), named) {
        (Some(Category::Other), _) => Standing::OtherCategory,
        (_, true) => Standing::Opening,
        (_, false) => Standing::Nameless,
    }
}

fn is_example(row: &TableRow) -> bool {
    let id = row.entry(&OPENING).map(|entry| &entry.datum);
    matches!(id, Some(Ok(Datum::Text(id))) if name::same_name(id, EXAMPLE_ID))
}

fn begins_with_total(table: &ReadTable, row: &TableRow) -> bool {
    let own = |at: &CellRef| (at.sheet, at.row) == (row.at.sheet, row.at.row);
    let known = row.entries().filter(|(_, entry)| own(&entry.at));
    let known = known.filter_map(|(_, entry)| Some((entry.at.column, written(entry)?)));
    let carried = table.carried.iter().zip(&row.carried);
    let carried = carried.filter(|(_, text)| !text.is_empty()).map(|((_, at), text)| (at.column, &**text));
    known.chain(carried).min_by_key(|(column, _)| *column).is_some_and(|(_, text)| is_total(text))
}

/// Whether a total stands under the kind or a size of a row without an id, behind a floor or a unit.
fn says_total(row: &TableRow) -> bool {
    let says = |column: &Column| row.entry(column).and_then(written).is_some_and(is_total);
    let says_in_sizes = || WIDTHS.iter().chain(&HEIGHTS).any(|size| says(size));
    row.entry(&OPENING).is_none() && (says(&KIND) || says_in_sizes())
}

/// A cell's text, whether its column can hold it or not.
fn written(entry: &Entry) -> Option<&str> {
    match &entry.datum {
        Ok(Datum::Text(text)) => Some(text),
        Ok(_) => None,
        Err(unread) => Some(unread.written.trim_matches('"')),
    }
}
