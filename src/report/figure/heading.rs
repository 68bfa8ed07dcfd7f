//! How a sheet shows a figure: under which heading, and in which words.

use std::borrow::Cow;
use std::rc::Rc;

use super::{Field, Figure, Key, Value};
use crate::length::Length;
use crate::query::OpeningIndex;

/// The heading of a column, and what each row has under it.
pub struct Heading<'r, T> {
    /// The key of its figure.
    pub key: &'static str,
    /// Its words, without a unit.
    pub words: Cow<'static, str>,
    /// Whether it is to be seen first.
    pub strong: bool,
    /// Characters at which a longer text wraps, where those are not the usual ones.
    pub widest: Option<usize>,
    /// Whether the column is left out where it is blank in every row.
    pub optional: bool,
    /// What a row has under it.
    pub said: Rc<dyn Fn(T) -> Said<'r> + 'r>,
}

/// What a sheet says in a cell.
pub enum Said<'r> {
    /// A figure; a blank for none.
    Figure(Value<'r>),
    /// A length as a decimal number, also where others stand as fractions.
    Decimal(Length),
    /// That a figure which there is is not known.
    Unknown,
    /// Text that leads to another place of the workbook.
    Leading(Lead, Cow<'r, str>),
}

/// Where a text leads.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lead {
    /// To the page of an opening's unit.
    Page(OpeningIndex),
    /// To an opening's row.
    Opening(OpeningIndex),
    /// To a unit's page, by the unit's place in the list of units.
    Unit(usize),
    /// To an order line, by its number from 1.
    Line(usize),
    /// To the first label of an order line, by its number from 1.
    Labels(usize),
}

/// A figure as it is declared.
pub struct Entry<'r, T, V> {
    key: Key,
    get: fn(T) -> V,
    heading: Option<Heading<'r, T>>,
}

impl<'r, T: Copy + 'r, V: Figure<'r>> Entry<'r, T, V> {
    /// A figure that no sheet shows, within no bounds but those of its type.
    pub fn new(name: &'static str, note: &'static str, get: fn(T) -> V) -> Entry<'r, T, V> {
        Entry { key: Key { name, note: note.trim(), kind: V::kind() }, get, heading: None }
    }

    /// A sheet shows it under the words of its key.
    pub fn shown(self) -> Entry<'r, T, V> {
        let name = self.key.name;
        let words = ["_mm", "_kg", "_deg"].iter().find_map(|unit| name.strip_suffix(unit)).unwrap_or(name);
        let mut words = words.replace('_', " ");
        if let Some(first) = words.get_mut(..1) {
            first.make_ascii_uppercase();
        }
        self.under(words.into())
    }

    /// A sheet shows it under these words.
    pub fn headed(self, words: &'static str) -> Entry<'r, T, V> {
        self.under(words.into())
    }

    fn under(self, words: Cow<'static, str>) -> Entry<'r, T, V> {
        let get = self.get;
        let said = Rc::new(move |row| Said::of(get(row)));
        let key = self.key.name;
        let heading = Heading { key, words, strong: false, widest: None, optional: false, said };
        Entry { heading: Some(heading), ..self }
    }

    /// To be seen first.
    pub fn strong(self) -> Entry<'r, T, V> {
        self.set(|heading| heading.strong = true)
    }

    /// Text wraps only at so many characters.
    pub fn wide(self, characters: usize) -> Entry<'r, T, V> {
        self.set(|heading| heading.widest = Some(characters))
    }

    /// Its column is left out where it is blank in every row.
    pub fn unless_blank(self) -> Entry<'r, T, V> {
        self.set(|heading| heading.optional = true)
    }

    /// A sheet says it in words of its own.
    pub fn worded<S: Into<Said<'r>>>(self, words: impl Fn(T, V) -> S + 'r) -> Entry<'r, T, V> {
        let get = self.get;
        self.set(|heading| heading.said = Rc::new(move |row| words(row, get(row)).into()))
    }

    fn set(mut self, change: impl FnOnce(&mut Heading<'r, T>)) -> Entry<'r, T, V> {
        debug_assert!(self.heading.is_some(), "{} has no heading yet", self.key.name);
        self.heading.as_mut().map(change);
        self
    }

    /// A number above zero.
    pub fn above_zero(mut self) -> Entry<'r, T, V> {
        let kind = self.key.kind.single();
        (kind.least, kind.above) = (None, Some(0));
        self
    }

    /// A number of at least so much.
    pub fn at_least(mut self, least: u64) -> Entry<'r, T, V> {
        self.key.kind.single().least = Some(least);
        self
    }

    /// A number of at most so much.
    pub fn at_most(mut self, most: u64) -> Entry<'r, T, V> {
        self.key.kind.single().most = Some(most);
        self
    }

    /// A list of at least so many.
    pub fn at_least_so_many(mut self, fewest: u64) -> Entry<'r, T, V> {
        self.key.kind.fewest = Some(fewest);
        self
    }

    /// One of these words.
    pub fn one_of(mut self, words: &[&'static str]) -> Entry<'r, T, V> {
        let kind = self.key.kind.single();
        (kind.types, kind.words) = (Vec::new(), words.to_vec());
        self
    }

    /// A text that looks like this.
    pub fn like(mut self, pattern: &'static str) -> Entry<'r, T, V> {
        self.key.kind.single().pattern = Some(pattern);
        self
    }

    /// The figure as a row's writers take it.
    pub fn finish(self) -> Field<'r, T> {
        let get = self.get;
        let headings = match self.heading {
            Some(heading) => vec![heading],
            None => V::headings(Rc::new(move |row| Some(get(row)))),
        };
        Field { key: self.key, headings }
    }
}

impl<'r, T: Copy + 'r, V: Figure<'r>> Entry<'r, T, Option<V>> {
    /// A sheet says `unknown` where there is none.
    pub fn or_unknown(self) -> Entry<'r, T, Option<V>> {
        self.or_unknown_if(|_| true)
    }

    /// A sheet says `unknown` where there is none, in rows in which there could be one.
    pub fn or_unknown_if(self, applies: impl Fn(T) -> bool + 'r) -> Entry<'r, T, Option<V>> {
        self.worded(move |row, figure| match figure {
            None if applies(row) => Said::Unknown,
            figure => Said::of(figure),
        })
    }
}

impl<'r, T: Copy + 'r> Entry<'r, T, Length> {
    /// A sheet says `none` for a length of 0.
    pub fn none_at_zero(self) -> Entry<'r, T, Length> {
        self.worded(|_, length| match length {
            Length::ZERO => Said::from("none"),
            length => Said::of(length),
        })
    }
}

impl<'r, T: Copy + 'r> Heading<'r, T> {
    /// The same heading over a row that this one's row is within.
    pub(super) fn within<U: Copy + 'r>(self, of: Rc<dyn Fn(U) -> Option<T> + 'r>) -> Heading<'r, U> {
        let inner = self.said;
        let said = Rc::new(move |row| of(row).map_or(Said::Figure(Value::Null), |within| inner(within)));
        let Heading { key, words, strong, widest, optional, .. } = self;
        Heading { key, words, strong, widest, optional, said }
    }
}

impl<'r> Said<'r> {
    /// A figure as it is.
    pub fn of(figure: impl Figure<'r>) -> Said<'r> {
        Said::Figure(figure.value())
    }
}

impl<'r> From<&'r str> for Said<'r> {
    fn from(text: &'r str) -> Said<'r> {
        Said::of(text)
    }
}

impl From<String> for Said<'_> {
    fn from(text: String) -> Self {
        Said::of(text)
    }
}
