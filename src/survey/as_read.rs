//! What the survey itself says in a cell, as it is shown under `As read`, and whether it still does; and
//! what is taken from the row in the end, with its type and its answers.

use std::borrow::Cow;
use std::sync::Arc;

use rust_decimal::Decimal;

use crate::grid::Value;
use crate::length::{Length, Unit, Units};
use crate::name::same_name;
use crate::schema::answers::{BLANK, of_type};
use crate::schema::openings::OPENINGS;
use crate::schema::{Column, Kind};
use crate::tables::steel::names_mil;
use crate::tables::{Datum, read_value, shown, unit_in};

/// What the cells of an opening say, by column.
#[derive(Clone, Debug, Default)]
pub struct AsRead {
    /// What its own row and its type say, one text after another in the order of the columns.
    own: Box<str>,
    /// The slot of the column of each of these texts, and where it ends.
    ends: Box<[(u16, u32)]>,
    /// What is taken where that is anything else: most cells are taken as they are.
    taken: Box<[Taken]>,
}

/// What is taken under a column.
#[derive(Clone, Debug)]
pub(super) struct Taken {
    pub slot: u16,
    /// Whether an answer says it.
    pub answered: bool,
    /// What it is, to be read back as the same; empty for nothing.
    pub text: Arc<str>,
}

impl AsRead {
    /// The cells that say something, by the slot of their column and in its order; and what is taken where
    /// that is not what they say.
    pub(super) fn new(own: &[(u16, Cow<'_, str>)], taken: Vec<Taken>) -> AsRead {
        let mut texts = String::with_capacity(own.iter().map(|(_, text)| text.len()).sum());
        let mut ends = Vec::with_capacity(own.len());
        for (slot, text) in own {
            texts.push_str(text);
            // No row holds so many letters.
            ends.push((*slot, u32::try_from(texts.len()).unwrap_or(u32::MAX)));
        }
        AsRead { own: texts.into(), ends: ends.into(), taken: taken.into() }
    }

    /// What the survey says under a column of that name: `(blank)` where it says nothing.
    pub fn under(&self, column: &str) -> &str {
        let column = OPENINGS.columns.iter().find(|known| known.name == column);
        column.and_then(|column| self.own(column)).unwrap_or(BLANK)
    }

    /// What is taken under a column of `Openings`, exact and with its unit; empty for a blank.
    pub fn taken(&self, column: &Column) -> &str {
        let taken = self.taken_instead(column).map(|taken| &*taken.text);
        taken.or_else(|| self.own(column)).unwrap_or_default()
    }

    /// Whether an answer says what is taken under a column.
    pub fn is_answered(&self, column: &Column) -> bool {
        self.taken_instead(column).is_some_and(|taken| taken.answered)
    }

    fn own(&self, column: &Column) -> Option<&str> {
        let place = self.ends.iter().position(|(slot, _)| usize::from(*slot) == column.slot)?;
        let end = |place: usize| usize::try_from(self.ends[place].1).ok();
        let begin = place.checked_sub(1).map_or(Some(0), end)?;
        self.own.get(begin..end(place)?)
    }

    fn taken_instead(&self, column: &Column) -> Option<&Taken> {
        self.taken.iter().find(|taken| usize::from(taken.slot) == column.slot)
    }
}

/// What a row says in a column, whatever was answered.
#[derive(Clone, Debug)]
pub(super) enum Own<'s> {
    /// Nothing.
    Blank,
    /// What the row of that type says.
    OfType(String),
    /// What stands in its own cell, and what that says; with a second cell beside it, such as inches
    /// beside feet, the two together.
    Cell(&'s Value, Option<&'s Datum>),
}

impl<'s> Own<'s> {
    /// As `As read` shows it. A bare length has its unit, so that the same text means the same later.
    pub fn shown(&self, column: &Column, heading: Option<Unit>, bare: Unit) -> Cow<'s, str> {
        let (value, datum) = match self {
            Own::Blank => return BLANK.into(),
            Own::OfType(name) => return of_type(name).into(),
            Own::Cell(value, datum) => (*value, *datum),
        };
        let written = shown(value);
        let Some(Datum::Length(length)) = datum else { return written };
        let unit = heading.unwrap_or(bare);
        let names_unit = unit_in(value).is_some();
        if column.kind == Kind::SteelThickness {
            // A bare number may be in mil there, and stands for it nowhere else.
            let says_it_alone = names_unit || names_mil(&written);
            return if says_it_alone { written } else { length.in_full(unit.shown_in()).into() };
        }
        let says_it_alone = match value {
            Value::Number(number) => {
                Length::of(*number, unit) == Some(*length) && !may_be_thousands(*number, unit)
            }
            _ => read_value(value, column, heading, bare).ok().as_ref() == datum,
        };
        if !says_it_alone {
            return length.in_full(unit.shown_in()).into();
        }
        if names_unit { written } else { format!("{written} {unit}").into() }
    }

    /// What it says, if it can be read.
    pub fn datum(&self) -> Option<&Datum> {
        match self {
            Own::Cell(_, datum) => *datum,
            Own::Blank | Own::OfType(_) => None,
        }
    }
}

/// Whether a number, once it is text with its unit, could also be read as thousands: `12.345 mm`.
fn may_be_thousands(number: Decimal, unit: Unit) -> bool {
    unit.shown_in() == Units::Millimeters && number.normalize().scale() == 3
}

/// Whether a cell still says what it said when it was asked about: in the same words, or in others
/// that mean the same. Nothing under `As read` is compared with nothing.
pub(super) fn is_same(
    as_read: &str,
    own: &Own<'_>,
    column: &Column,
    heading: Option<Unit>,
    bare: Unit,
) -> bool {
    if as_read.is_empty() || same_name(as_read, &own.shown(column, heading, bare)) {
        return true;
    }
    let then = read_value(&Value::Text(as_read.into()), column, heading, bare).ok();
    then.is_some() && then.as_ref() == own.datum()
}
