//! Which columns a heading that none of them knows may have been meant for: by a slip of the key, by
//! the words of a name that stand in it, in full or in short, or by a word that one column alone has.

use std::collections::{BTreeMap, BTreeSet};

use super::words::{in_full, words};
use crate::name::{fold, nearest_folded};
use crate::schema::{Column, Table};

/// Letters of the shortest word that may tell a column on its own; one more, and it may be the
/// beginning of another word (`floor`, `flooring`; but `head` is no `header`).
const TELLING: usize = 4;
/// Letters of the shortest word that a slip of the key may have made of another.
const SLIPS: usize = 5;
/// Columns that may share a word which still tells them from the others, as `header` does.
const SHARED_BY: usize = 2;
/// Words that are in so many headings of all kinds that they tell nothing beside others.
const GENERAL: [&str; 9] = ["head", "side", "level", "number", "name", "code", "type", "size", "total"];
/// Words that say of nothing what it measures.
const DIMENSIONS: [&str; 6] = ["width", "height", "depth", "length", "thickness", "elevation"];
/// Letters of the shortest name without spaces, such as a Chinese one, that is sought within a heading.
const SHORTEST_WITHIN: usize = 2;

/// The names of a table's columns, in words.
pub(super) struct Likenesses {
    names: Vec<Name>,
    /// The words of the names, with the columns that have them.
    tell: BTreeMap<String, BTreeSet<usize>>,
}

struct Name {
    column: &'static Column,
    letters: Vec<char>,
    words: Vec<String>,
}

/// How alike a heading and a name are; the greater the more.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Likeness {
    /// A word of the heading is one that few columns have.
    OneWord,
    /// The heading is a part of the name.
    PartOf,
    /// The name is a part of the heading.
    Holds,
    /// A slip or two apart.
    Slip,
}

impl Likenesses {
    pub(super) fn of(table: &'static Table) -> Likenesses {
        let mut tell: BTreeMap<String, BTreeSet<usize>> = BTreeMap::new();
        let mut names = Vec::new();
        for column in table.columns.iter().copied() {
            for name in column.names() {
                let words = in_full(words(name));
                for word in words.iter().filter(|word| word.chars().count() >= TELLING) {
                    tell.entry(word.clone()).or_default().insert(column.slot);
                }
                names.push(Name { column, letters: fold(name).chars().collect(), words });
            }
        }
        let is_general = |word: &str| GENERAL.contains(&word) || DIMENSIONS.contains(&word);
        tell.retain(|word, slots| slots.len() <= SHARED_BY && !is_general(word));
        Likenesses { names, tell }
    }

    /// The columns that a heading may have been meant for, the likeliest first, each with whether a
    /// slip of the key parts it from the heading.
    pub(super) fn of_heading(&self, heading: &str) -> Vec<(&'static Column, bool)> {
        let letters = fold(heading);
        let own = in_full(words(heading));
        let mut alike: Vec<((Likeness, usize), &'static Column)> = Vec::new();
        for name in &self.names {
            let Some(likeness) = self.likeness(name, &letters, &own) else { continue };
            let how = (likeness, name.letters.len());
            match alike.iter_mut().find(|(_, column)| column.slot == name.column.slot) {
                Some((known, _)) => *known = how.max(*known),
                None => alike.push((how, name.column)),
            }
        }
        alike.sort_by_key(|(how, column)| (std::cmp::Reverse(*how), column.slot));
        alike.into_iter().map(|(how, column)| (column, how.0 == Likeness::Slip)).collect()
    }

    fn likeness(&self, name: &Name, letters: &str, own: &[String]) -> Option<Likeness> {
        let is_slip = || nearest_folded(letters, [(&name.letters, "")]).is_some();
        let stands_in = |word: &String, among: &[String]| among.iter().any(|own| is_alike(word, own));
        let is_within = || {
            let written: String = name.letters.iter().collect();
            !written.is_ascii() && name.letters.len() >= SHORTEST_WITHIN && letters.contains(&written)
        };
        let holds = || !name.words.is_empty() && name.words.iter().all(|word| stands_in(word, own));
        let is_part = || {
            let tells =
                |word: &String| word.chars().count() >= TELLING && !DIMENSIONS.contains(&word.as_str());
            let tells = own.len() > 1 || own.iter().any(tells);
            tells && own.iter().all(|own| name.words.iter().any(|word| is_alike(word, own)))
        };
        let tells = || {
            let tells = |word: &&String| self.tell.contains_key(*word);
            name.words.iter().filter(tells).any(|word| stands_in(word, own))
        };
        if is_slip() {
            Some(Likeness::Slip)
        } else if holds() || is_within() {
            Some(Likeness::Holds)
        } else if is_part() {
            Some(Likeness::PartOf)
        } else {
            tells().then_some(Likeness::OneWord)
        }
    }
}

/// Whether a heading's word is one of a name, a slip of the key from it, one the beginning of the
/// other, or the name's word in short: `hgt` for `height`.
fn is_alike(of_name: &str, own: &str) -> bool {
    let begins = |one: &str, other: &str| {
        let rest = other.strip_prefix(one);
        rest.is_some_and(|rest| rest == "s" || one.chars().count() > TELLING)
    };
    let is_slip = || {
        own.len() >= SLIPS
            && own.chars().next() == of_name.chars().next()
            && of_name.len() >= SLIPS
            && nearest_folded(own, [(of_name.chars().collect::<Vec<char>>(), "")]).is_some()
    };
    own == of_name || begins(own, of_name) || begins(of_name, own) || is_short_for(own, of_name) || is_slip()
}

/// Whether a word is another one with no more than its first letter, some of its other consonants
/// and, where it is but two letters, the last.
fn is_short_for(short: &str, long: &str) -> bool {
    let is_vowel = |letter: char| "aeiouy".contains(letter);
    let ends_alike = short.chars().next_back() == long.chars().next_back();
    let mut rest = long.chars();
    short.len() >= 2
        && long.len() >= 2 + short.len()
        && (short.len() > 2 || ends_alike)
        && short.chars().next() == long.chars().next()
        && !short.chars().any(is_vowel)
        && short.chars().all(|letter| rest.any(|other| other == letter))
}
