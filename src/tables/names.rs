//! What one heading names: a column of the table, and perhaps the unit of its numbers.
//!
//! `No.` behind a type is a count where nothing else counts and its whole numbers do not rise from
//! row to row; else it is the opening's id.

use std::collections::{BTreeMap, BTreeSet};

use super::meanings::{Meaning, Said};
use super::suffix::{unit_alone, unit_at_end, without_remark, without_unit};
use super::words::{in_full, spelled_out, without_marks, words};
use crate::length::{PairOrder, Unit, order_named};
use crate::name::{fold, narrow, nearest_folded, squeezed};
use crate::schema::openings::{HEIGHT_BY_WIDTH, SIZE_IN_ONE, WIDTH_BY_HEIGHT};
use crate::schema::{Column, Kind, Table};

/// Longer texts, in bytes, are remarks.
const LONGEST_HEADING: usize = 120;

/// Letters of the shortest name, but for a column's own, that a slip is held against.
const SHORTEST_SUGGESTED: usize = 6;

/// Marks that stand for feet or inches.
const UNIT_MARKS: [char; 6] = ['"', '\'', '″', '′', '”', '’'];

/// A heading or an item that the schema knows.
#[derive(Clone, Copy)]
pub(super) struct Known {
    /// Its column of the table.
    pub column: &'static Column,
    /// The unit that the heading names.
    pub unit: Option<Unit>,
    /// 0 for the column's own name, then its other names from the best.
    pub rank: usize,
}

/// Every name and synonym of a table's columns.
pub(super) struct Names {
    by_letters: BTreeMap<String, (&'static Column, usize)>,
    /// The same by their words in alphabetical order.
    by_words: BTreeMap<Vec<String>, (&'static Column, usize)>,
    /// What stands before the first digit of the names that have one.
    before_digits: BTreeSet<String>,
    /// Every name with its folded letters.
    folded: Vec<(Vec<char>, &'static str)>,
    /// What a person says of headings, by their squeezed letters: it comes before every name.
    said: BTreeMap<String, Meaning>,
}

impl Names {
    pub(super) fn of(table: &'static Table) -> Names {
        Names::with(table, BTreeMap::new())
    }

    /// The same where a person says of some headings what they mean.
    pub(super) fn with(table: &'static Table, said: BTreeMap<String, Meaning>) -> Names {
        let mut names = Names {
            by_letters: BTreeMap::new(),
            by_words: BTreeMap::new(),
            before_digits: BTreeSet::new(),
            folded: Vec::new(),
            said,
        };
        let ranked = || {
            let columns = table.columns.iter().copied();
            columns.flat_map(|column| column.names().enumerate().map(move |name| (column, name)))
        };
        // A name as it is written comes before another one without its marks.
        for (column, (rank, name)) in ranked() {
            let letters = fold(name);
            names.before_digits.extend(before_digit(&letters).map(str::to_owned));
            // A short name abroad is a slip away from many a word that means something else.
            if rank == 0 || letters.chars().count() >= SHORTEST_SUGGESTED {
                names.folded.push((letters.chars().collect(), name));
            }
            names.by_letters.entry(letters).or_insert((column, rank));
        }
        for (column, (rank, name)) in ranked() {
            let letters = fold(name);
            for letters in [without_marks(&letters), spelled_out(&letters)] {
                names.by_letters.entry(letters).or_insert((column, rank));
            }
            for words in [words(name), in_full(words(name))] {
                names.by_words.entry(in_order(words)).or_insert((column, rank));
            }
        }
        names
    }

    /// Whether a text with a digit may name a column, as `Diagonal 1` does and `W1` does not.
    pub(super) fn may_be_named(&self, text_with_digit: &str) -> bool {
        before_digit(text_with_digit).is_some_and(|before| self.before_digits.contains(&fold(before)))
    }

    /// The name, if any, that a heading or item was probably meant to be.
    pub(super) fn nearest(&self, written: &str) -> Option<&'static str> {
        let nearest =
            |written| nearest_folded(written, self.folded.iter().map(|(letters, name)| (letters, *name)));
        nearest(written).or_else(|| nearest(without_unit(written)))
    }

    /// What a person says of a heading. An answer says something of one that is not known alone.
    pub(super) fn said(&self, heading: &str) -> Option<Meaning> {
        if self.said.is_empty() {
            return None;
        }
        let meaning = self.said.get(&squeezed(heading)).copied()?;
        (meaning.said == Said::OnHeadings || self.known_by_name(heading).is_none()).then_some(meaning)
    }

    /// The column of that heading: `Width`, `WIDTH:`, `OpeningWidth`, `Comments (text)`, and if it
    /// holds lengths also `Width (in)`, `Height, mm`, `Width_mm`, `Width in inches`.
    pub(super) fn known(&self, heading: &str) -> Option<Known> {
        if let Some(meaning) = self.said(heading) {
            let own = self.known_by_name(heading).filter(|known| Some(known.column) == meaning.column);
            let unit = meaning.unit.or_else(|| own?.unit).or_else(|| Some(unit_at_end(heading).next()?.1));
            return meaning.column.map(|column| Known { column, unit, rank: 0 });
        }
        self.known_by_name(heading)
    }

    fn known_by_name(&self, heading: &str) -> Option<Known> {
        if heading.len() > LONGEST_HEADING {
            return None;
        }
        let heading: String = heading.trim().chars().map(narrow).collect();
        let alone = || self.named(&heading).map(|(column, rank)| Known { column, unit: None, rank });
        // The marks of feet and inches are set aside with the other punctuation.
        let known = match heading.ends_with(UNIT_MARKS) {
            true => self.with_unit(&heading).or_else(alone),
            false => alone().or_else(|| self.with_unit(&heading)),
        };
        let known = known.or_else(|| self.known_pair(&heading));
        known.or_else(|| self.known_by_name(without_remark(&heading)?))
    }

    /// `Size (W x H) mm`, `Breite x Höhe`: a heading of a width and a height in one cell that says
    /// which comes first.
    fn known_pair(&self, heading: &str) -> Option<Known> {
        let (order, rest) = order_named(heading)?;
        let rest = rest.trim_matches(|character: char| !character.is_alphanumeric());
        let unit = match unit_alone(rest) {
            None if rest.is_empty() => None,
            None => self.known_by_name(rest).filter(|known| *known.column == SIZE_IN_ONE)?.unit,
            named => named,
        };
        let column: &'static Column = match order {
            PairOrder::WidthFirst => &WIDTH_BY_HEIGHT,
            PairOrder::HeightFirst => &HEIGHT_BY_WIDTH,
        };
        let known = self.by_letters.contains_key(&fold(column.name));
        known.then_some(Known { column, unit, rank: 0 })
    }

    fn named(&self, name: &str) -> Option<(&'static Column, usize)> {
        let letters = fold(name);
        let by_letters =
            self.by_letters.get(&letters).or_else(|| self.by_letters.get(&without_marks(&letters)));
        let own = words(name);
        let by_words = || self.by_words.get(&in_order(own.clone()));
        let in_full = || self.by_words.get(&in_order(in_full(own.clone())));
        by_letters.or_else(by_words).or_else(in_full).copied().or_else(|| self.said_twice(&own))
    }

    /// `Anzahl Stk.`: words that each name the same column. Of a column of texts such words may be
    /// the things that it tells apart, as in `Window / Door`.
    fn said_twice(&self, words: &[String]) -> Option<(&'static Column, usize)> {
        let (first, others) = words.split_first().filter(|(_, others)| !others.is_empty())?;
        let known = self.by_letters.get(first).filter(|(column, _)| column.kind != Kind::Text)?;
        let same = |word| self.by_letters.get(word).is_some_and(|(column, _)| column.slot == known.0.slot);
        others.iter().all(same).then_some(*known)
    }

    fn with_unit(&self, heading: &str) -> Option<Known> {
        unit_at_end(heading).find_map(|(name, unit)| {
            let named = || self.named(name).or_else(|| self.named(without_remark(name)?));
            let (column, rank) = named().filter(|(column, _)| column.holds_lengths())?;
            Some(Known { column, unit: Some(unit), rank })
        })
    }
}

/// What stands before a text's first digit; `None` without a digit.
fn before_digit(text: &str) -> Option<&str> {
    text.find(|character| narrow(character).is_ascii_digit()).map(|digit| &text[..digit])
}

fn in_order(mut words: Vec<String>) -> Vec<String> {
    words.sort_unstable();
    words
}
