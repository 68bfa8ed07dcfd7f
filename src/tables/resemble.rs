//! Which columns a heading that none of them knows may have been meant for: by a slip of the key, by
//! the words of a name that stand in it, in full or in short, or by a word that few columns have.

use std::collections::{BTreeMap, BTreeSet};

use super::words::{in_full, words};
use crate::name::{fold, is_a_slip};
use crate::schema::synonyms::RESEMBLING;
use crate::schema::{Column, Table};

/// Letters of the shortest word that may tell a column on its own; one more, and it may be the
/// beginning of another word (`floor`, `flooring`; but `head` is no `header`).
const TELLING: usize = 4;
/// Letters of the shortest word that a slip of the key may have made of another.
const SLIPS: usize = 5;
/// Columns that may share a word which still tells them from the others, as `header` does.
const SHARED_BY: usize = 2;
/// Words that are in so many headings of all kinds that they tell nothing beside others.
const GENERAL: [&str; 23] = [
    "head",
    "side",
    "level",
    "number",
    "name",
    "code",
    "type",
    "size",
    "total",
    "structural",
    "rough",
    "masonry",
    "finished",
    "nominal",
    "overall",
    "window",
    "windows",
    "door",
    "doors",
    "opening",
    "openings",
    "material",
    "materials",
];
/// Words that say of nothing what it measures.
pub(super) const DIMENSIONS: [&str; 6] = ["width", "height", "depth", "length", "thickness", "elevation"];
/// Letters of the shortest name without spaces, such as a Chinese one, that is sought within a heading.
const SHORTEST_WITHIN: usize = 2;

/// The names of a table's columns, in words.
pub(super) struct Likenesses {
    names: Vec<Name>,
    /// The words that few columns have.
    telling: BTreeSet<String>,
}

struct Name {
    column: &'static Column,
    letters: Vec<char>,
    words: Vec<Word>,
    /// Whether it is sought within a heading's letters, as a name without spaces is.
    is_sought_within: bool,
}

/// A word with its letters.
struct Word {
    text: String,
    letters: Vec<char>,
}

/// How alike a heading and a name are; the greater the more.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Likeness {
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
        let mut slots: BTreeMap<String, BTreeSet<usize>> = BTreeMap::new();
        let mut names = Vec::new();
        let own = table.columns.iter().flat_map(|column| column.names().map(move |name| (*column, name)));
        let resembling =
            RESEMBLING.iter().flat_map(|(column, names)| names.iter().map(move |name| (*column, *name)));
        for (column, name) in own.chain(resembling) {
            let words = Word::all(name);
            for word in words.iter().filter(|word| word.letters.len() >= TELLING) {
                slots.entry(word.text.clone()).or_default().insert(column.slot);
            }
            let letters: Vec<char> = fold(name).chars().collect();
            let is_sought_within = letters.len() >= SHORTEST_WITHIN && !letters.iter().all(char::is_ascii);
            names.push(Name { column, letters, words, is_sought_within });
        }
        let tells = |word: &str| !GENERAL.contains(&word) && !DIMENSIONS.contains(&word);
        let few = slots.into_iter().filter(|(word, slots)| slots.len() <= SHARED_BY && tells(word));
        Likenesses { names, telling: few.map(|(word, _)| word).collect() }
    }

    /// The columns that a heading may have been meant for, each with how alike it is, the likeliest
    /// first.
    pub(super) fn of_heading(&self, heading: &str) -> Vec<(&'static Column, Likeness)> {
        let letters = fold(heading);
        let as_letters: Vec<char> = letters.chars().collect();
        let own = Word::all(heading);
        let mut alike: Vec<((Likeness, usize), &'static Column)> = Vec::new();
        for name in &self.names {
            let Some(likeness) = self.likeness(name, (&letters, &as_letters), &own) else { continue };
            let how = (likeness, name.letters.len());
            match alike.iter_mut().find(|(_, column)| column.slot == name.column.slot) {
                Some((known, _)) => *known = how.max(*known),
                None => alike.push((how, name.column)),
            }
        }
        alike.sort_by_key(|(how, column)| (std::cmp::Reverse(*how), column.slot));
        alike.into_iter().map(|(how, column)| (column, how.0)).collect()
    }

    fn likeness(
        &self,
        name: &Name,
        (letters, as_letters): (&str, &[char]),
        own: &[Word],
    ) -> Option<Likeness> {
        let stands_in = |word: &Word| own.iter().any(|own| is_alike(word, own));
        let is_within =
            || name.is_sought_within && letters.contains(&name.letters.iter().collect::<String>());
        let is_part = || {
            let is_of_anything =
                |word: &str| DIMENSIONS.contains(&word) || ["material", "materials"].contains(&word);
            let says_something = |word: &Word| word.letters.len() >= TELLING && !is_of_anything(&word.text);
            let is_of_name = |own: &Word| name.words.iter().any(|word| is_alike(word, own));
            (own.len() > 1 || own.iter().any(says_something)) && own.iter().all(is_of_name)
        };
        let has_a_telling_word =
            || name.words.iter().any(|word| self.telling.contains(&word.text) && stands_in(word));
        if is_a_slip(as_letters, &name.letters) {
            Some(Likeness::Slip)
        } else if is_within() || (!name.words.is_empty() && name.words.iter().all(stands_in)) {
            Some(Likeness::Holds)
        } else if is_part() {
            Some(Likeness::PartOf)
        } else {
            has_a_telling_word().then_some(Likeness::OneWord)
        }
    }
}

impl Word {
    /// The words of a name or a heading, those in short written out.
    fn all(text: &str) -> Vec<Word> {
        in_full(words(text)).into_iter().map(|text| Word { letters: text.chars().collect(), text }).collect()
    }
}

/// Whether a heading's word is one of a name, a slip of the key from it, one the beginning of the
/// other, or the name's word in short: `hgt` for `height`.
fn is_alike(of_name: &Word, own: &Word) -> bool {
    let begins = |one: &Word, other: &Word| {
        let rest = other.text.strip_prefix(one.text.as_str());
        rest.is_some_and(|rest| rest == "s" || one.letters.len() > TELLING)
    };
    let is_slip = || {
        own.letters.len() >= SLIPS
            && own.letters.first() == of_name.letters.first()
            && of_name.letters.len() >= SLIPS
            && is_a_slip(&own.letters, &of_name.letters)
    };
    own.text == of_name.text
        || begins(own, of_name)
        || begins(of_name, own)
        || is_short_for(&own.letters, &of_name.letters)
        || is_slip()
}

/// Whether a word is another one in short: its beginning (`anz`), or some of its letters from the
/// first to the last (`brustg`), or without vowels some of its letters from the first (`hgt`).
fn is_short_for(short: &[char], long: &[char]) -> bool {
    const LEAST: usize = 3;
    let is_vowel = |letter: &char| "aeiouy".contains(*letter);
    let is_begun = short.len() == LEAST && long.starts_with(short);
    let ends_alike = short.last() == long.last();
    let has_vowels = short.iter().any(is_vowel);
    let in_order = || {
        let mut rest = long.iter();
        short.iter().all(|letter| rest.any(|other| other == letter))
    };
    short.len() >= 2
        && long.len() >= 2 + short.len()
        && short.first() == long.first()
        && (is_begun
            || (ends_alike && (!has_vowels || short.len() > LEAST) && in_order())
            || (short.len() >= LEAST && !has_vowels && in_order()))
}
