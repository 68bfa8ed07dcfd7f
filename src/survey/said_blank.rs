//! Words by which a cell that may be blank says that there is nothing to say, or nothing yet.
//!
//! A dash and `n/a` are blanks, with one note for a table. What is still to be confirmed is a blank
//! with a check. So is `none` where a blank is taken for something (`Wall left`, `Product`): it may
//! mean 0, or that nothing is wanted; in a name it is a blank like a dash. A word of the column's
//! own stays what it is (`Opening leaf`: `none`), and a window that is `fixed` opens in no way.
//!
//! In a size, or a count, these words stay what cannot be read: there a blank is no answer. A `TBC`
//! for a type stays a type that no list has, so that a row without sizes is not lost by it, and a
//! note stays a note. In rule sheets, where a blank is a default, they cannot be read either; a
//! price, which may be unknown, is then unknown and not 0.

use std::collections::BTreeMap;

use crate::length::Length;
use crate::place::CellRef;
use crate::query::Query;
use crate::schema::openings::{NOTE, OPENINGS, OPENS, TYPE};
use crate::schema::{Column, Kind, WhenUnread};
use crate::tables::{Datum, Entry, ReadTable};

use super::queries::SurveyQuery;

/// What such a word says.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Said {
    /// That there is nothing.
    Nothing,
    /// None, where a blank is taken for something.
    None,
    /// That it is not known yet.
    NotYet,
}

/// Leaves the cells of a table of openings or types that say nothing blank, and says which.
pub(super) fn take_out(table: &mut ReadTable) {
    let mut met: BTreeMap<(Said, usize), Met> = BTreeMap::new();
    for row in &mut table.rows {
        let said: Vec<(Said, &'static Column, CellRef, String)> = row
            .entries()
            .filter_map(|(slot, entry)| {
                let column = *OPENINGS.columns.get(slot)?;
                let word = word_of(entry)?;
                Some((said(word, column)?, column, entry.at, word.to_owned()))
            })
            .collect();
        for (said, column, at, word) in said {
            row.leave_out(column);
            met.entry((said, column.slot))
                .or_insert_with(|| Met { word, column, first: at, count: 0 })
                .count += 1;
        }
    }
    let nothing: Vec<&Met> =
        met.iter().filter(|((said, _), _)| *said == Said::Nothing).map(|(_, met)| met).collect();
    if let Some(first) = nothing.iter().map(|met| met.first).min() {
        let columns: Vec<String> = nothing.iter().map(|met| met.to_string()).collect();
        table.queries.push(Query::new(&SurveyQuery::SaidBlank, Some(first)).with_detail(columns.join("; ")));
    }
    for ((said, _), met) in &met {
        let asked = match said {
            Said::Nothing => continue,
            Said::None => SurveyQuery::SaidNone { column: met.column },
            Said::NotYet => SurveyQuery::NotYetKnown { column: met.column },
        };
        table.queries.push(Query::new(&asked, Some(met.first)).with_detail(met.to_string()));
    }
}

/// The cells of one column that say the same.
struct Met {
    /// The first of their words.
    word: String,
    column: &'static Column,
    first: CellRef,
    count: usize,
}

impl std::fmt::Display for Met {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let cells = if self.count == 1 { "cell" } else { "cells" };
        write!(f, "{}: \"{}\", {} {cells}", self.column.name, self.word, self.count)
    }
}

/// What a cell says that is a text, or that could not be read as anything else.
fn word_of(entry: &Entry) -> Option<&str> {
    match &entry.datum {
        Ok(Datum::Text(text)) => Some(text),
        Err(unread) => unread.written.strip_prefix('"')?.strip_suffix('"'),
        Ok(_) => None,
    }
}

fn said(word: &str, column: &Column) -> Option<Said> {
    /// Longer texts are no such word.
    const LONGEST: usize = 16;
    if word.is_empty() || word.len() > LONGEST || column.slot == NOTE.slot || holds_size(column.kind) {
        return None;
    }
    let word = word.trim().to_lowercase();
    let of_opens = column.slot == OPENS.slot
        && matches!(&*word, "none" | "nil" | "fixed" | "fixed light" | "does not open");
    let may_be_unknown = column.slot != TYPE.slot;
    match word.as_str() {
        _ if of_opens => Some(Said::Nothing),
        "n/a" | "n.a." => Some(Said::Nothing),
        dashes if dashes.chars().all(|c| matches!(c, '-' | '\u{2010}'..='\u{2015}' | '\u{2212}')) => {
            Some(Said::Nothing)
        }
        "none" | "nil" if is_name(column) => Some(Said::Nothing),
        "none" | "nil" => Some(Said::None),
        "tbc" | "tbd" | "t.b.c." | "t.b.d." if may_be_unknown => Some(Said::NotYet),
        marks if may_be_unknown && marks.chars().all(|c| matches!(c, '?' | '？')) => Some(Said::NotYet),
        _ => None,
    }
}

/// A size, or a count: a blank there is no answer, or would be taken for 1.
fn holds_size(kind: Kind) -> bool {
    match kind {
        Kind::Length { least, .. } => least > Length::ZERO,
        Kind::Pair(_) | Kind::Whole { .. } => true,
        _ => false,
    }
}

/// A name, of which a blank is none.
fn is_name(column: &Column) -> bool {
    column.kind == Kind::Text && (column.unread == WhenUnread::Unknown || column.slot == TYPE.slot)
}
