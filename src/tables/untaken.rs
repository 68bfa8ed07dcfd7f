//! What is asked about a heading that no column of `Openings` takes, so that no default stands in
//! for what someone wrote under it.
//!
//! Asked about is one that resembles a column's names, one over cells that can only be lengths, and
//! one over a column's choice words. It is a check; it is a stop for the table where the column that
//! it resembles decides a size, a mount or a count, the table has no such column, and its cells can
//! be read as one. Nothing is asked where nothing is written below, nor where a name or a remark is
//! resembled that the table has: none of those is taken for a default. `Frame width` beside a width
//! is the frame's, and `Glass type` no type of an opening. `Columns read` lists all of them.

use std::sync::LazyLock;

use super::cell::{read_value, shown};
use super::lines::holds_digit;
use super::measure::unit_in;
use super::queries::SheetQuery;
use super::resemble::{DIMENSIONS, Likeness, Likenesses};
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
    /// The column that it is probably meant for, if the table has no such column.
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
        let under = Under { words: words(heading), cells };
        let doubted = self.doubted(heading, is_written, &under);
        let decides = |doubted: &&Doubted| self.is_decided_by(doubted, &under);
        let missing = |doubted: &&Doubted| !self.has(doubted.column);
        let written = heading.to_owned();
        let asked = if let Some(Doubted { column, .. }) = doubted.iter().find(decides) {
            Some((SheetQuery::HeadingDecides { written, nearest: column.name }, Some(*column)))
        } else if let Some(Doubted { column, .. }) = doubted.iter().find(missing).or(doubted.first()) {
            Some((SheetQuery::HeadingUnread { written, nearest: column.name }, Some(*column)))
        } else if is_over_lengths(heading, cells) && !self.is_of_a_part(heading, &under) {
            Some((SheetQuery::HeadingOverLengths { written }, None))
        } else {
            None
        };
        let (asked, nearest) = asked.unzip();
        Judgement { nearest: nearest.flatten().filter(|column| !self.has(column)), asked }
    }

    /// The columns that it may have been meant for, and that must be asked about, the likeliest first.
    fn doubted(&self, heading: &str, is_written: bool, under: &Under<'_>) -> Vec<Doubted> {
        let is_of_openings = is_written && !says_another_fact(&under.words);
        let resembled = if is_of_openings { OF_OPENINGS.of_heading(heading) } else { Vec::new() };
        let resembled = resembled
            .into_iter()
            .filter(|(column, likeness)| *likeness == Likeness::Slip || under.could_be_of(column))
            .map(|(column, likeness)| Doubted {
                column,
                by_words_below: false,
                is_sure: likeness > Likeness::OneWord,
            });
        let over_words =
            OPENINGS.columns.iter().copied().filter(|column| self.is_over_words_of(column, under));
        let over_words = over_words.map(|column| Doubted { column, by_words_below: true, is_sure: true });
        let is_told = |doubted: &Doubted| {
            let Doubted { column, by_words_below, .. } = *doubted;
            let anothers = is_anothers(&under.words, column) && !by_words_below;
            match column.kind {
                Kind::Text => self.has(column) || anothers,
                _ => anothers && (self.has(column) || !(column.decides || under.reads_as(column))),
            }
        };
        over_words.chain(resembled).filter(|doubted| !is_told(doubted)).collect()
    }

    /// Whether a default would decide a size, a mount or a count where someone wrote the column.
    fn is_decided_by(&self, doubted: &Doubted, under: &Under<'_>) -> bool {
        let Doubted { column, by_words_below, is_sure } = *doubted;
        let is_its_own = by_words_below
            || (!is_anothers(&under.words, column) && !is_of_another_dimension(&under.words, column));
        column.decides && is_sure && !self.has(column) && is_its_own && under.reads_as(column)
    }

    /// Whether it is a part's own, beside the opening's: `Frame width` beside a width.
    fn is_of_a_part(&self, heading: &str, under: &Under<'_>) -> bool {
        let resembled = OF_OPENINGS.of_heading(heading);
        resembled.first().is_some_and(|(column, _)| self.has(column) && is_anothers(&under.words, column))
    }

    /// Whether the table says the same in a column of its own.
    fn has(&self, column: &Column) -> bool {
        let has = |wanted: &Column| self.has.iter().any(|known| known.slot == wanted.slot);
        has(column) || (column.slot == KIND.slot && has(&CATEGORY))
    }

    /// Whether all cells are among a missing column's words. `yes` and `no` are everybody's words.
    fn is_over_words_of(&self, column: &Column, under: &Under<'_>) -> bool {
        let Kind::Choice(words) = column.kind else { return false };
        !words.own.contains(&"yes")
            && !is_anothers(&under.words, column)
            && !self.has(column)
            && under.cells.iter().all(|cell| matches!(cell, Value::Text(_)) && reads(column, cell))
    }
}

/// A column that a heading may have been meant for.
#[derive(Clone, Copy)]
struct Doubted {
    column: &'static Column,
    /// Whether all its cells are among the column's words, whatever it says itself.
    by_words_below: bool,
    /// Whether it says more than a word that the column has.
    is_sure: bool,
}

/// A heading's words, and the cells under it; never none.
struct Under<'u> {
    words: Vec<String>,
    cells: &'u [&'u Value],
}

impl Under<'_> {
    /// Whether any cell could be one of the column's: a length has a digit in it.
    fn could_be_of(&self, column: &Column) -> bool {
        match column.kind {
            Kind::Length { .. } | Kind::LengthOr { .. } | Kind::Pair(_) | Kind::Whole { .. } => {
                self.cells.iter().any(|cell| holds_digit(&shown(cell)))
            }
            _ => true,
        }
    }

    /// Whether most cells can be read as the column's.
    fn reads_as(&self, column: &Column) -> bool {
        are_mostly(self.cells, |cell| reads(column, cell))
    }
}

fn is_over_lengths(heading: &str, cells: &[&Value]) -> bool {
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

/// Whether a heading names a value of the glass, the sound or the heat that schedules list beside
/// sizes: no size, mount or count has such a name (common practice, no source).
fn says_another_fact(words: &[String]) -> bool {
    const FACTS: [&str; 6] = ["stc", "oitc", "shgc", "vlt", "value", "rating"];
    words.iter().any(|word| FACTS.contains(&word.as_str()))
}

/// Whether a heading says another dimension than the names of a column that say one: a sill's width
/// is not its height.
fn is_of_another_dimension(words: &[String], column: &Column) -> bool {
    // An elevation is a height.
    let dimensions = || DIMENSIONS.into_iter().filter(|dimension| *dimension != "elevation");
    let names = |dimension: &str| column.names().any(|name| name.to_lowercase().contains(dimension));
    let says = |dimension: &str| words.iter().any(|word| word == dimension);
    dimensions().any(names)
        && dimensions().any(says)
        && !dimensions().any(|known| says(known) && names(known))
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
    2 * cells.iter().filter(|cell| is(cell)).count() >= cells.len()
}
