//! What a cell that is written but cannot be read does to its opening.

use crate::query::Severity;
use crate::schema::Column;
use crate::schema::openings::{
    BUILDING, DIAGONAL_1, DIAGONAL_2, FLOOR, HEAD_HEIGHT, HEADER_HEIGHT, NOTE, OPENING, OPENING_LEAF, OPENS,
    PAIRS, PHASE, RECESS_DEPTH, ROOM, SUBSTRATE, UNIT,
};
use crate::tables::Fault;

#[derive(Clone, Copy)]
enum WhenUnread {
    /// It holds the opening: a blank would be taken for a value that decides what is made or how
    /// it hangs, and that is not what was written.
    Holds,
    /// It holds the opening, unless it is an error or a formula without a result: that says
    /// nothing, so the value is unknown as a blank is, with a check.
    HoldsIfItSays,
    /// A check: a blank is unknown too, or the text is only a name.
    Unknown,
}

/// The one table of what unreadable cells do, widths and heights apart.
fn when_unread(column: &Column) -> WhenUnread {
    let among = |columns: &[&Column]| columns.iter().any(|known| known.slot == column.slot);
    if among(&[
        &OPENING,
        &BUILDING,
        &FLOOR,
        &UNIT,
        &ROOM,
        &PHASE,
        &NOTE,
        &HEAD_HEIGHT,
        &OPENING_LEAF,
        &SUBSTRATE,
    ]) {
        WhenUnread::Unknown
    } else if among(&PAIRS) {
        // It gives no size here, for the row has cells of its own for both; see `tables`.
        WhenUnread::Unknown
    } else if among(&[&RECESS_DEPTH, &DIAGONAL_1, &DIAGONAL_2, &HEADER_HEIGHT, &OPENS]) {
        WhenUnread::HoldsIfItSays
    } else {
        WhenUnread::Holds
    }
}

/// How grave an unreadable cell is in a column of `Openings` that is no width or height. A
/// negative number and answers that differ always hold, and so does a date where an id or a unit belongs.
pub(super) fn severity(column: &Column, fault: Fault) -> Severity {
    let is_key = [&OPENING, &UNIT].iter().any(|key| key.slot == column.slot);
    match (when_unread(column), fault) {
        (_, Fault::Negative | Fault::Contradicted) | (WhenUnread::Holds, _) => Severity::Stop,
        (WhenUnread::HoldsIfItSays, Fault::NoResult) => Severity::Check,
        (WhenUnread::HoldsIfItSays, _) => Severity::Stop,
        (WhenUnread::Unknown, Fault::Date) if is_key => Severity::Stop,
        (WhenUnread::Unknown, _) => Severity::Check,
    }
}
