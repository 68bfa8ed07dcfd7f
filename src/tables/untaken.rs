//! What is asked about a heading that no column of `Openings` takes, so that no default stands in
//! for what someone wrote under it.
//!
//! Asked about is one that resembles a column's names, one over cells that can only be lengths, and
//! one over a column's choice words. It is a check; it is a stop for the table where the column that
//! it resembles decides a size, a mount or a count, the table has no such column, and its cells can
//! be read as one. Nothing is asked where nothing is written below, nor where a name or a remark is
//! resembled that the table has: none of those is taken for a default. `Frame width` beside a width
//! is the frame's, and `Glass type` no type of an opening. What is not asked about is told in a note.

use std::sync::LazyLock;

use super::cell::{read_value, shown};
use super::lines::holds_digit;
use super::measure::unit_in;
use super::queries::SheetQuery;
use super::resemble::Likenesses;
use super::suffix::unit_at_end;
use super::words::words;
use crate::grid::Value;
use crate::length::Unit;
use crate::schema::groups::is_anothers;
use crate::schema::openings::{CATEGORY, KIND, OPENINGS, WIDTH};
use crate::schema::{Column, Kind};

/// Cells under a heading that are looked at: what they are shows in the first of them.
pub(super) const LOOKED_AT: usize = 1_000;

static OF_OPENINGS: LazyLock<Likenesses> = LazyLock::new(|| Likenesses::of(&OPENINGS));

/// The column of `Openings` that a heading which none of them knows resembles most.
pub fn nearest_column(heading: &str) -> Option<&'static Column> {
    OF_OPENINGS.of_heading(heading).first().map(|(column, _)| *column)
}

/// What a table knows of a heading that no column takes.
pub(super) struct Untaken<'t> {
    /// The columns that the table has.
    has: Vec<&'t Column>,
}

/// What becomes of such a heading.
#[derive(Default)]
pub(super) struct Judgement {
    /// The column that it resembles most.
    pub nearest: Option<&'static Column>,
    /// What is asked; `None` if nothing is.
    pub asked: Option<SheetQuery>,
}

impl<'t> Untaken<'t> {
    pub(super) fn new(has: Vec<&'t Column>) -> Untaken<'t> {
        Untaken { has }
    }

    /// Judges a heading by its words, if it has any, and by the first cells that stand under it.
    pub(super) fn judge(&self, heading: &str, is_written: bool, cells: &[&Value]) -> Judgement {
        if cells.is_empty() {
            return Judgement::default();
        }
        let own = words(heading);
        let resembled = if is_written { OF_OPENINGS.of_heading(heading) } else { Vec::new() };
        let of_words =
            || OPENINGS.columns.iter().copied().filter(|column| self.is_over_words_of(column, cells));
        let could_be = |(column, is_slip): &(&'static Column, bool)| *is_slip || could_hold(column, cells);
        let mut likely: Vec<&'static Column> =
            resembled.iter().filter(|known| could_be(known)).map(|(column, _)| *column).collect();
        likely.extend(of_words());
        let nearest = likely.first().copied().or(resembled.first().map(|(column, _)| *column));

        let is_told = |column: &&&Column| {
            let anothers = is_anothers(&own, column);
            match column.kind {
                Kind::Text => self.has(column) || anothers,
                _ => {
                    anothers
                        && (self.has(column)
                            || !(column.decides || are_mostly(cells, |cell| reads(column, cell))))
                }
            }
        };
        let doubted: Vec<&'static Column> =
            likely.iter().filter(|column| !is_told(column)).copied().collect();
        let written = heading.to_owned();
        let decides = |column: &&&'static Column| {
            let is_its_own = !is_anothers(&own, column) && !is_of_another_dimension(&own, column);
            column.decides && !self.has(column) && is_its_own && are_mostly(cells, |cell| reads(column, cell))
        };
        let asked = if let Some(column) = doubted.iter().find(decides) {
            Some(SheetQuery::HeadingDecides { written, nearest: column.name })
        } else if let Some(first) = doubted.first() {
            let missing = doubted.iter().find(|column| !self.has(column));
            Some(SheetQuery::HeadingUnread { written, nearest: missing.unwrap_or(first).name })
        } else if likely.is_empty() && self.is_over_lengths(heading, cells) {
            Some(SheetQuery::HeadingOverLengths { written })
        } else {
            None
        };
        Judgement { nearest, asked }
    }

    /// Whether the table says the same in a column of its own.
    fn has(&self, column: &Column) -> bool {
        let has = |wanted: &Column| self.has.iter().any(|known| known.slot == wanted.slot);
        has(column) || (column.slot == KIND.slot && has(&CATEGORY))
    }

    /// Whether all cells are among a missing column's words. `yes` and `no` are everybody's words.
    fn is_over_words_of(&self, column: &Column, cells: &[&Value]) -> bool {
        let Kind::Choice(words) = column.kind else { return false };
        !words.own.contains(&"yes")
            && !self.has(column)
            && !cells.is_empty()
            && cells.iter().all(|cell| matches!(cell, Value::Text(_)) && reads(column, cell))
    }

    fn is_over_lengths(&self, heading: &str, cells: &[&Value]) -> bool {
        let names_unit = unit_at_end(heading).next().is_some();
        let is_number = |cell: &Value| matches!(cell, Value::Number(_));
        let in_feet_or_fractions = |cell: &Value| match cell {
            Value::Text(text) => text.contains(['\'', '"', '/', '½', '¼', '¾', '⅛', '⅜', '⅝', '⅞']),
            _ => false,
        };
        let is_length = |cell: &Value| {
            unit_in(cell).is_some()
                || (names_unit && is_number(cell))
                || (in_feet_or_fractions(cell) && reads(&WIDTH, cell))
        };
        are_mostly(cells, is_length)
    }
}

/// Whether a heading says another dimension than the names of a column that say one: a sill's width
/// is not its height.
fn is_of_another_dimension(words: &[String], column: &Column) -> bool {
    const DIMENSIONS: [&str; 5] = ["width", "height", "depth", "thickness", "length"];
    let names = |dimension: &str| column.names().any(|name| name.to_lowercase().contains(dimension));
    let own: Vec<&str> =
        DIMENSIONS.into_iter().filter(|known| words.iter().any(|word| word == known)).collect();
    DIMENSIONS.into_iter().any(names) && !own.is_empty() && !own.iter().any(|dimension| names(dimension))
}

/// Whether any cell could be one of the column's: a length has a digit in it, and a word is one of
/// its words or none at all.
fn could_hold(column: &Column, cells: &[&Value]) -> bool {
    match column.kind {
        Kind::Length { .. } | Kind::LengthOr { .. } | Kind::Pair(_) | Kind::Whole { .. } => {
            cells.iter().any(|cell| holds_digit(&shown(cell)))
        }
        _ => true,
    }
}

/// Whether a cell can be read as the column's; a length in whichever unit.
fn reads(column: &Column, cell: &Value) -> bool {
    let units: &[Unit] = match column.holds_lengths() {
        true => &[Unit::Inch, Unit::Millimeter, Unit::Meter],
        false => &[Unit::Millimeter],
    };
    units.iter().any(|bare| read_value(cell, column, None, *bare).is_ok())
}

fn are_mostly(cells: &[&Value], is: impl Fn(&Value) -> bool) -> bool {
    !cells.is_empty() && 2 * cells.iter().filter(|cell| is(cell)).count() >= cells.len()
}
