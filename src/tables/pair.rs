//! A width and a height from one cell: they stand for cells of their own, unless there are such.
//!
//! A size in one cell becomes the row's width and height as its table is read, so nothing later
//! knows of it. Columns of their own win. Letters in the cell say which is the width, else the
//! heading does, else it is a stop, unless both are equal. A unit that one of the two names holds
//! for both; beside feet alone it may not.

use super::{Datum, Entry, Pair};
use crate::schema::Column;
use crate::schema::openings::{HEIGHT, HEIGHTS, WIDTH, WIDTHS};

/// Enters the width and the height of a pair under `Width` and `Height`, with the pair's place,
/// where the row has no cell of its own for them. `entries` are in order of their slots.
///
/// A pair that was read stays, to be compared with the row's own cells; so does one that could not
/// be read where neither length was wanted from it.
pub(super) fn spread(pair: &Column, entries: &mut Vec<(usize, Entry)>) {
    let Ok(place) = entries.binary_search_by_key(&pair.slot, |(slot, _)| *slot) else { return };
    let Entry { at, datum } = entries[place].1.clone();
    let mut wanted = Vec::with_capacity(2);
    for (column, columns) in [(&WIDTH, &WIDTHS), (&HEIGHT, &HEIGHTS)] {
        let given = |(slot, _): &(usize, Entry)| columns.iter().any(|column| column.slot == *slot);
        if entries.iter().any(given) {
            continue;
        }
        let datum = match &datum {
            Ok(Datum::Pair(Pair { width, height, .. })) => {
                Ok(Datum::Length(if column.slot == WIDTH.slot { *width } else { *height }))
            }
            Ok(_) => continue,
            Err(unread) => Err(unread.clone()),
        };
        wanted.push((column.slot, Entry { at, datum }));
    }
    if datum.is_err() && !wanted.is_empty() {
        entries.remove(place);
    }
    entries.extend(wanted);
    entries.sort_by_key(|(slot, _)| *slot);
}
