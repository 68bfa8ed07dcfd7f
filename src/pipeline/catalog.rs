//! Every query that a run may raise.

use crate::cost;
use crate::days;
use crate::fitting;
use crate::frozen;
use crate::phases;
use crate::query::{self, Entry};
use crate::rules;
use crate::sizing;
use crate::sourcing;
use crate::survey;
use crate::tables;

/// Every query that a run may raise, room by room. The compiler calls the entries of a room dead
/// that is missing here.
pub fn catalog() -> Vec<Entry> {
    let rooms = [
        query::QUERIES,
        tables::QUERIES,
        survey::QUERIES,
        rules::QUERIES,
        frozen::QUERIES,
        sizing::QUERIES,
        sourcing::QUERIES,
        fitting::QUERIES,
        days::QUERIES,
        cost::QUERIES,
        phases::QUERIES,
    ];
    rooms.concat().concat()
}
