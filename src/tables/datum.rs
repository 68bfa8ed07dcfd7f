//! What a datum is taken as, and how it is written for another run to read.

use std::borrow::Cow;
use std::sync::Arc;

use rust_decimal::Decimal;

use super::{Date, Datum};
use crate::length::{Length, Units};
use crate::schema::choices::Choice;

impl Datum {
    /// In words that the same column reads back as the same value; `units` are those of its lengths. A word
    /// that stands for no length is blank.
    pub fn in_full(&self, units: Units) -> Cow<'_, str> {
        let made = match self {
            Datum::Text(text) => return Cow::Borrowed(text),
            Datum::Choice(word) => return Cow::Borrowed(word),
            Datum::Length(length) => length.in_full(units),
            Datum::NoLength => String::new(),
            Datum::Pair(pair) => format!("{} x {}", pair.width.in_full(units), pair.height.in_full(units)),
            Datum::Whole(count) => count.to_string(),
            Datum::Number(number) => number.to_string(),
            Datum::Date(date) => date.to_string(),
            Datum::Dates(dates) => dates.iter().map(Date::to_string).collect::<Vec<_>>().join(", "),
            Datum::Choices(words) => words.join(", "),
            Datum::List(texts) => texts.join(", "),
        };
        Cow::Owned(made)
    }
}

/// A type that a cell's value may be taken as.
pub trait FromDatum: Sized {
    /// `None` if the value is of another kind.
    fn from_datum(datum: &Datum) -> Option<Self>;
}

impl FromDatum for Length {
    fn from_datum(datum: &Datum) -> Option<Length> {
        if let Datum::Length(length) = datum { Some(*length) } else { None }
    }
}

impl FromDatum for Decimal {
    fn from_datum(datum: &Datum) -> Option<Decimal> {
        if let Datum::Number(number) = datum { Some(*number) } else { None }
    }
}

impl FromDatum for u32 {
    fn from_datum(datum: &Datum) -> Option<u32> {
        if let Datum::Whole(count) = datum { Some(*count) } else { None }
    }
}

impl FromDatum for Date {
    fn from_datum(datum: &Datum) -> Option<Date> {
        if let Datum::Date(date) = datum { Some(*date) } else { None }
    }
}

impl FromDatum for Vec<Date> {
    fn from_datum(datum: &Datum) -> Option<Vec<Date>> {
        if let Datum::Dates(dates) = datum { Some(dates.clone()) } else { None }
    }
}

impl FromDatum for Arc<str> {
    fn from_datum(datum: &Datum) -> Option<Arc<str>> {
        if let Datum::Text(text) = datum { Some(Arc::from(&**text)) } else { None }
    }
}

impl FromDatum for Vec<Arc<str>> {
    fn from_datum(datum: &Datum) -> Option<Vec<Arc<str>>> {
        if let Datum::List(texts) = datum {
            Some(texts.iter().map(|text| Arc::from(&**text)).collect())
        } else {
            None
        }
    }
}

impl<C: Choice> FromDatum for C {
    fn from_datum(datum: &Datum) -> Option<C> {
        if let Datum::Choice(word) = datum { C::of(word) } else { None }
    }
}

impl<C: Choice> FromDatum for Vec<C> {
    fn from_datum(datum: &Datum) -> Option<Vec<C>> {
        if let Datum::Choices(words) = datum { words.iter().map(|word| C::of(word)).collect() } else { None }
    }
}
