//! What people answered, as they wrote it, and what became of it.

use super::OpeningIndex;
use super::accept::ACCEPTED_AT;
use crate::date::Date;
use crate::length::{Length, readings};
use crate::name::folded;
use crate::place::CellRef;

/// One answer, as it was written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Answer {
    /// The code of the query; empty where it was not copied.
    pub code: String,
    /// The words of the query.
    pub query: String,
    /// The opening, or the cell, that it is for.
    pub opening: String,
    /// That opening, where it is one of the survey.
    pub of: Option<OpeningIndex>,
    /// What it fills; empty if nothing would.
    pub column: String,
    /// What the survey said when it was asked.
    pub as_read: String,
    /// The answer.
    pub answer: String,
    /// Who answered.
    pub by: String,
    /// When.
    pub on: Option<Date>,
    /// The figures of the query when it was asked.
    pub details: String,
    /// The cell of the answer.
    pub at: CellRef,
    /// What became of it.
    pub taken: Taken,
}

impl Answer {
    /// What was asked: the query's code, or its words where the code was not copied.
    pub fn asked(&self) -> String {
        if self.code.is_empty() { folded(&self.query) } else { self.code.clone() }
    }

    /// The figures that were accepted.
    pub(super) fn details_then(&self) -> &str {
        self.details.split(ACCEPTED_AT).next().unwrap_or_default()
    }

    /// Whether an acceptance of this query holds where its figures are these: those that were
    /// accepted, or better ones; or none were copied.
    pub(super) fn holds_for(&self, code: &str, details: &str) -> bool {
        let then = self.details_then();
        self.details.is_empty() || then == details || is_better(code, then, details)
    }
}

/// What became of an answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Taken {
    /// It stands in place of the survey's cell, or says what a heading means.
    Value,
    /// What the survey says is accepted.
    Accepted,
    /// A later answer stands in its place.
    Replaced,
    /// The survey says the same now.
    Settled,
    /// Nothing asks for it.
    NoLongerAsked,
    /// It cannot be used; a query says why.
    NotUsed,
}

impl Taken {
    /// Each as it is shown.
    pub const WORDS: [&str; 6] = [
        Taken::Value.words(),
        Taken::Accepted.words(),
        Taken::Replaced.words(),
        Taken::Settled.words(),
        Taken::NoLongerAsked.words(),
        Taken::NotUsed.words(),
    ];

    /// As it is shown.
    pub const fn words(self) -> &'static str {
        match self {
            Taken::Value => "value",
            Taken::Accepted => "accepted",
            Taken::Replaced => "replaced",
            Taken::Settled => "settled in the survey",
            Taken::NoLongerAsked => "no longer asked",
            Taken::NotUsed => "not used",
        }
    }
}

/// Who accepted a query, and when.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Acceptance {
    /// Who; empty if nobody signed.
    pub by: String,
    /// When, if it was said.
    pub on: Option<Date>,
}

impl Acceptance {
    /// `accepted by R. Moss, 2026-03-04`, as much of it as there is.
    pub fn words(&self) -> String {
        let by = if self.by.is_empty() { String::new() } else { format!(" by {}", self.by) };
        let on = self.on.map_or_else(String::new, |on| format!(", {on}"));
        format!("accepted{by}{on}")
    }
}

/// Whether a query's one figure is now no worse than it was.
fn is_better(code: &str, then: &str, now: &str) -> bool {
    const MORE_IS_WORSE: [&str; 3] = ["out-of-square", "width-spread", "height-spread"];
    const LESS_IS_WORSE: [&str; 2] = ["left-overlap-too-small", "right-overlap-too-small"];
    let length = |text| match readings(text).as_slice() {
        [reading] => Length::of(reading.value, reading.unit?),
        _ => None,
    };
    let Some((then, now)) = length(then).zip(length(now)) else { return false };
    (MORE_IS_WORSE.contains(&code) && now <= then) || (LESS_IS_WORSE.contains(&code) && now >= then)
}
