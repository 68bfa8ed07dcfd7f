//! How a number was reached. A stage is one function over a [`Record`]: it notes its steps and
//! its queries there and returns the very values it noted, so an explanation cannot drift from
//! the number. Steps are kept only where someone will read them; a building of 100,000 openings
//! is sized with a silent record, and each opening's steps are worked again when they are shown.

mod number;

pub use number::Number;

use std::borrow::Cow;

use rust_decimal::Decimal;

use crate::angle::Angle;
use crate::force;
use crate::length::{Length, Shown, Units};
use crate::place::{CellRef, Sheets};
use crate::query::{Asks, Held, OpeningIndex, Query, Severity};
use crate::rounding::half_away;
use crate::weight;

/// A rule's value together with its name, such as `louver-89.side_clearance`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Rule<T> {
    /// What the rule says.
    pub value: T,
    /// Item and key, as `Rules used` lists them.
    pub name: String,
}

impl<T> std::ops::Deref for Rule<T> {
    type Target = T;
    fn deref(&self) -> &T {
        &self.value
    }
}

/// Where a step's figure comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Source<'r> {
    /// A cell of the survey.
    Cell(CellRef),
    /// A rule, by its name.
    Rule(&'r str),
    /// The steps above it alone.
    Above,
}

impl<'r> Source<'r> {
    /// The cell's address or the rule's name; `None` for the steps above it alone.
    pub fn show(self, sheets: &Sheets) -> Option<Cow<'r, str>> {
        match self {
            Source::Cell(cell) => Some(Cow::Owned(sheets.show(cell))),
            Source::Rule(name) => Some(Cow::Borrowed(name)),
            Source::Above => None,
        }
    }
}

impl<'r, T> From<&'r Rule<T>> for Source<'r> {
    fn from(rule: &'r Rule<T>) -> Source<'r> {
        Source::Rule(&rule.name)
    }
}

impl From<CellRef> for Source<'_> {
    fn from(cell: CellRef) -> Self {
        Source::Cell(cell)
    }
}

/// A value that a step may have.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Amount {
    /// A length.
    Length(Length),
    /// A count of parts, people or screws.
    Count(i64),
    /// Kilograms.
    Mass(Decimal),
    /// Newtons.
    Force(Decimal),
    /// A part of a whole: 1 for all of it.
    Share(Decimal),
    /// Degrees.
    Angle(Angle),
    /// A choice, such as `inside`.
    Word(&'static str),
}

impl Amount {
    /// The value with its unit, as a sentence says it.
    pub fn show(&self, units: Units) -> String {
        match self {
            Amount::Length(length) => length.shown(units).to_string(),
            Amount::Count(count) => count.to_string(),
            Amount::Mass(kilograms) => {
                format!("{} {}", half_away(weight::beside(*kilograms, units), 3), weight::symbol(units))
            }
            Amount::Force(newtons) => {
                format!("{} {}", half_away(force::beside(*newtons, units), 1), force::symbol(units))
            }
            Amount::Share(share) => format!("{} %", half_away(*share * Decimal::ONE_HUNDRED, 1)),
            Amount::Angle(angle) => format!("{angle} deg"),
            Amount::Word(word) => (*word).to_owned(),
        }
    }
}

impl From<Length> for Amount {
    fn from(length: Length) -> Amount {
        Amount::Length(length)
    }
}

impl From<Angle> for Amount {
    fn from(angle: Angle) -> Amount {
        Amount::Angle(angle)
    }
}

impl From<i64> for Amount {
    fn from(count: i64) -> Amount {
        Amount::Count(count)
    }
}

impl From<u32> for Amount {
    fn from(count: u32) -> Amount {
        Amount::Count(i64::from(count))
    }
}

impl From<&'static str> for Amount {
    fn from(word: &'static str) -> Amount {
        Amount::Word(word)
    }
}

/// One step on the way to a number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Step<'r> {
    /// The number it leads to; the last step of it is its value.
    pub of: Number,
    /// What was done: `minus clearance, both sides`.
    pub step: &'static str,
    /// Where the figure comes from.
    pub from: Source<'r>,
    /// The value after this step.
    pub value: Amount,
}

/// What a stage notes about one opening beside its result.
#[derive(Debug)]
pub struct Record<'r> {
    opening: OpeningIndex,
    row: CellRef,
    units: Units,
    queries: Vec<Query>,
    steps: Option<Vec<Step<'r>>>,
}

impl<'r> Record<'r> {
    /// A record that keeps queries only. `row` is where a query points that has no cell of its own.
    pub fn silent(opening: OpeningIndex, row: CellRef, units: Units) -> Record<'r> {
        Record { opening, row, units, queries: Vec::new(), steps: None }
    }

    /// A record that keeps every step as well.
    pub fn with_steps(opening: OpeningIndex, row: CellRef, units: Units) -> Record<'r> {
        Record { steps: Some(Vec::new()), ..Record::silent(opening, row, units) }
    }

    /// Notes a step and hands back its value.
    pub fn step<T>(&mut self, of: Number, step: &'static str, from: impl Into<Source<'r>>, value: T) -> T
    where
        T: Clone + Into<Amount>,
    {
        if let Some(steps) = &mut self.steps {
            steps.push(Step { of, step, from: from.into(), value: value.clone().into() });
        }
        value
    }

    /// A record of the same opening that is thrown away: for trying whether something would do.
    pub fn trial(&self) -> Record<'r> {
        Record::silent(self.opening, self.row, self.units)
    }

    /// The units in which the survey's reader sees lengths.
    pub const fn units(&self) -> Units {
        self.units
    }

    /// A length as the survey's reader sees it, for a query's words.
    pub fn shown(&self, length: Length) -> Shown {
        length.shown(self.units)
    }

    /// Raises a stop, which holds the opening back; `detail` is what is special to this opening, or empty.
    pub fn hold(&mut self, asked: &dyn Asks, at: Option<CellRef>, detail: impl Into<String>) -> Held {
        let severity = self.raise(asked, at, detail.into());
        debug_assert_eq!(severity, Severity::Stop, "{asked} holds nothing back");
        Held(())
    }

    /// Raises a stop of a whole table for this opening.
    pub fn hold_as(&mut self, stop: &Query) -> Held {
        debug_assert_eq!(stop.severity, Severity::Stop, "{} holds nothing back", stop.message);
        self.queries.push(stop.clone().about(self.opening));
        Held(())
    }

    /// Raises a check or a note; `detail` is what is special to this opening, or empty.
    pub fn ask(&mut self, asked: &dyn Asks, at: Option<CellRef>, detail: impl Into<String>) {
        let severity = self.raise(asked, at, detail.into());
        debug_assert_ne!(severity, Severity::Stop, "{asked} holds the opening back");
    }

    fn raise(&mut self, asked: &dyn Asks, at: Option<CellRef>, detail: String) -> Severity {
        let query = Query::new(asked, Some(at.unwrap_or(self.row)));
        let severity = query.severity;
        self.queries.push(query.about(self.opening).with_detail(detail));
        severity
    }

    /// The queries raised, and the steps if they were kept.
    pub fn finish(self) -> (Vec<Query>, Vec<Step<'r>>) {
        (self.queries, self.steps.unwrap_or_default())
    }
}
