//! A table's columns as data: a heading, and what each row has under it.
//!
//! Columns that are blank for the whole job are left out where they are optional (`unless_blank`):
//! those that were carried through, places, phase, note, lead times, and what one mount or one
//! control has alone. What is asked of every blind keeps its column.

use std::borrow::Cow;

use super::Press;
use super::cell::Cell;
use super::look::Tone;
use super::widths::{NARROWEST, WIDEST};
use crate::report::expr::Address;
use crate::report::figure::{Heading, Lead, Row, Said};

/// One column of a table: its heading, and its cell in a row.
pub(super) struct Column<'p, T> {
    pub(super) heading: Cow<'p, str>,
    pub(super) value: Box<dyn Fn(T) -> Cell<'p> + 'p>,
    pub(super) tone: Tone,
    /// The rows in which it is a box to write in.
    pub(super) boxed: Box<dyn Fn(T) -> bool + 'p>,
    /// Its look in a row, where that is not the row's own.
    pub(super) marked: Box<dyn Fn(T) -> Option<Tone> + 'p>,
    /// Most digits wide; longer text wraps.
    pub(super) widest: usize,
    /// Characters that it holds at the least.
    pub(super) narrowest: usize,
    /// Columns of the sheet that it stands over.
    pub(super) over: u16,
    /// Whether it is left out where no row has anything in it.
    optional: bool,
}

impl<'p, T> Column<'p, T> {
    /// A column; `value` gives its cell in a row.
    pub(super) fn new<V: Into<Cell<'p>>>(
        heading: impl Into<Cow<'p, str>>,
        value: impl Fn(T) -> V + 'p,
    ) -> Column<'p, T> {
        Column {
            heading: heading.into(),
            value: Box::new(move |row| value(row).into()),
            tone: Tone::Body,
            boxed: Box::new(|_| false),
            marked: Box::new(|_| None),
            widest: WIDEST,
            narrowest: NARROWEST,
            over: 1,
            optional: false,
        }
    }

    /// The column that a figure of a row asks for; `address` is where a text leads to.
    fn of(
        heading: Heading<'p, T>,
        press: &'p Press<'p>,
        address: impl Fn(Lead) -> Option<Address> + 'p,
    ) -> Column<'p, T>
    where
        T: 'p,
    {
        let words = in_its_unit(press, heading.key, heading.words);
        let said = heading.said;
        let value = move |row| cell_of(said(row), &address);
        Column {
            tone: if heading.strong { Tone::Strong } else { Tone::Body },
            widest: heading.widest.unwrap_or(WIDEST),
            optional: heading.optional,
            ..Column::new(words, value)
        }
    }

    /// The same column, left out by [`in_use`] where it is blank in every row.
    pub(super) fn unless_blank(mut self) -> Column<'p, T> {
        self.optional = true;
        self
    }

    /// The same column, to be seen first.
    pub(super) fn strong(mut self) -> Column<'p, T> {
        self.tone = Tone::Strong;
        self
    }

    /// The same column, with a box of so many characters to write in.
    pub(super) fn written_in(self, characters: usize) -> Column<'p, T> {
        self.written_in_where(characters, |_| true)
    }

    /// The same column, with a box of so many characters in the rows that want one.
    pub(super) fn written_in_where(
        mut self,
        characters: usize,
        wanted: impl Fn(T) -> bool + 'p,
    ) -> Column<'p, T> {
        self.boxed = Box::new(wanted);
        self.narrowest = characters;
        self
    }

    /// The same column, in some rows with a look of its own.
    pub(super) fn marked(mut self, tone: impl Fn(T) -> Option<Tone> + 'p) -> Column<'p, T> {
        self.marked = Box::new(tone);
        self
    }

    /// The same column, over so many columns of the sheet.
    pub(super) fn over(self, columns: u16) -> Column<'p, T> {
        Column { over: columns, ..self }
    }

    /// The same column, wrapping only at so many characters.
    pub(super) fn wide(mut self, characters: usize) -> Column<'p, T> {
        self.widest = characters;
        self
    }
}

/// The cell of what a sheet says; `address` is where a text leads to.
pub(super) fn cell_of<'p>(said: Said<'p>, address: &impl Fn(Lead) -> Option<Address>) -> Cell<'p> {
    match said {
        Said::Figure(value) => value.into(),
        Said::Decimal(length) => Cell::Decimal(length),
        Said::Unknown => Cell::Unknown,
        Said::Leading(lead, text) => match address(lead) {
            Some(address) => Cell::Link(address, text),
            None => Cell::Text(text),
        },
    }
}

/// The words over a figure, with its unit.
pub(super) fn in_its_unit(press: &Press<'_>, key: &str, words: Cow<'static, str>) -> Cow<'static, str> {
    match key {
        key if key.ends_with("_mm") => press.lengths(&words).into(),
        key if key.ends_with("_kg") => press.weights(&words).into(),
        _ => words,
    }
}

/// The columns that a row asks for; `address` is where a text leads to.
pub(super) fn columns_of<'p, R: Row<'p>>(
    press: &'p Press<'p>,
    address: impl Fn(Lead) -> Option<Address> + Copy + 'p,
) -> Vec<Column<'p, R>> {
    let headings = R::fields().into_iter().flat_map(|field| field.headings);
    headings.map(|heading| Column::of(heading, press, address)).collect()
}

/// The columns of which some row has something, beside those that always stand. The rows are gone
/// through once, and only as far as some column is still blank.
pub(super) fn in_use<'p, T: Copy>(
    columns: Vec<Column<'p, T>>,
    rows: impl Iterator<Item = T>,
) -> Vec<Column<'p, T>> {
    let mut blank: Vec<bool> = columns.iter().map(|column| column.optional).collect();
    for row in rows {
        if !blank.contains(&true) {
            break;
        }
        for (blank, column) in blank.iter_mut().zip(&columns).filter(|(blank, _)| **blank) {
            *blank = (column.value)(row).is_blank();
        }
    }
    columns.into_iter().zip(blank).filter(|(_, blank)| !blank).map(|(column, _)| column).collect()
}

/// How many columns of the sheet a table takes.
pub(super) fn span<T>(columns: &[Column<'_, T>]) -> u16 {
    columns.iter().map(|column| column.over).sum()
}
