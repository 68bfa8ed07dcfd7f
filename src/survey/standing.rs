//! Which rows are openings.

use crate::place::CellRef;
use crate::schema::openings::{EXAMPLE_ID, OPENING, ROOM, TYPE, UNIT};
use crate::tables::{self, Datum, ReadTable, TableRow};

use super::joined::Joined;
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
    /// It begins with a total.
    Total,
    /// It is the example row of a blank survey, left in.
    Example,
    /// None of these: a heading of its own, a blank line, a remark.
    Other,
}

/// Decides what a row is. A type that is not on the sheet `Types` was meant to give a size, so
/// its rows are openings all the same: a slip in a type must not drop them.
pub(super) fn standing(table: &ReadTable, joined: Joined<'_>, lookup: &Lookup<'_>) -> Standing {
    let row = joined.row;
    if is_example(row) {
        return Standing::Example;
    }
    let marked = row.entry(&OPENING).is_some() || row.entry(&TYPE).is_some();
    let named = marked || row.entry(&UNIT).is_some() || row.entry(&ROOM).is_some();
    if !joined.has_size() && !lookup.is_lost() {
        return if marked { Standing::Sizeless } else { Standing::Other };
    }
    match (begins_with_total(table, row), named) {
        (true, _) => Standing::Total,
        (false, true) => Standing::Opening,
        (false, false) => Standing::Nameless,
    }
}

fn is_example(row: &TableRow) -> bool {
    let id = row.entry(&OPENING).map(|entry| &entry.datum);
    matches!(id, Some(Ok(Datum::Text(id))) if tables::same_name(id, EXAMPLE_ID))
}

fn begins_with_total(table: &ReadTable, row: &TableRow) -> bool {
    let own = |at: &CellRef| (at.sheet, at.row) == (row.at.sheet, row.at.row);
    let known = row.entries().filter_map(|(_, entry)| match &entry.datum {
        Ok(Datum::Text(text)) if own(&entry.at) => Some((entry.at.column, &**text)),
        _ => None,
    });
    let carried = table.carried.iter().zip(&row.carried);
    let carried = carried.filter(|(_, text)| !text.is_empty()).map(|((_, at), text)| (at.column, &**text));
    known.chain(carried).min_by_key(|(column, _)| *column).is_some_and(|(_, text)| is_total(text))
}

/// `Total`, `Sub-total:`, `Grand total`, `Total of floor 3`, and `Floor 3 total` as spreadsheets
/// write it themselves.
fn is_total(text: &str) -> bool {
    const TOTALS: [&str; 4] = ["total", "totals", "subtotal", "subtotals"];
    let total = |word: &str| TOTALS.iter().any(|known| word.eq_ignore_ascii_case(known));
    let mut words = text.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty());
    let Some(first) = words.next() else { return false };
    let second = words.next();
    let last = words.next_back().or(second).unwrap_or(first);
    let before_total = ["sub", "grand"].iter().any(|word| first.eq_ignore_ascii_case(word));
    total(first) || total(last) || (before_total && second.is_some_and(total))
}

#[cfg(test)]
mod tests {
    use super::is_total;

    #[test]
    fn a_total_is_known_by_its_first_or_last_word() {
        for total in ["Total", "TOTALS:", "Sub-total", "Subtotal floor 3", "Grand total 12", "12-04 Total"] {
            assert!(is_total(total), "{total}");
        }
        for other in ["W1", "Totally glazed", "Sub floor", "Grand hall", "East total wall", ""] {
            assert!(!is_total(other), "{other}");
        }
    }
}
