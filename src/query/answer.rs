//! What people answered, and what became of it.
//!
//! A check or a note may be accepted: what the survey says stands, and the query is listed apart,
//! with who accepted it and when. That ends the count and never a caution: whoever makes or hangs
//! the blind still reads it. It holds while the query says the same as when it was accepted; where
//! its figures differ, better or worse, it is asked again with both, for which figure is the worse
//! is not for a word to say. A stop is never accepted.

use std::collections::BTreeMap;

use super::{Entry, OpeningIndex, Query, Severity, queries};
use crate::date::Date;
use crate::name::folded;
use crate::place::CellRef;

/// Every query of this room.
pub(crate) const QUERIES: &[&[Entry]] = &[AcceptQuery::ENTRIES];

queries! {
    /// What is asked about an answer that accepts.
    pub(super) enum AcceptQuery {
        Stop: Check, "stop-accepted",
            "an answer accepts a stop, which needs a value or a change in the survey"
            => "do what the stop asks for";
    }
}

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

/// Stands between a query's figures and those at which it was accepted.
const ACCEPTED_AT: &str = "; accepted at: ";

impl Answer {
    /// What was asked: the query's code, or its words where the code was not copied.
    pub fn asked(&self) -> String {
        if self.code.is_empty() { folded(&self.query) } else { self.code.clone() }
    }

    /// The figures that were accepted.
    fn details_then(&self) -> &str {
        self.details.split(ACCEPTED_AT).next().unwrap_or_default()
    }

    /// Whether an acceptance holds where the query's figures are these: those that were accepted, or
    /// none were copied.
    fn holds_for(&self, details: &str) -> bool {
        self.details.is_empty() || self.details_then() == details
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

/// Where an answer and a query meet: what was asked, the column, and the opening or else the cell.
type Key = (String, String, Result<OpeningIndex, String>);

/// Marks the queries that the answers accept, and says of each accepting answer what became of it.
/// `cell` shows a cell as the sheet `Queries` does: where a query is about no opening, the answer
/// names its cell.
pub fn accept(queries: &mut Vec<Query>, answers: &mut [Answer], cell: impl Fn(CellRef) -> String) {
    let mut waiting: BTreeMap<Key, Vec<usize>> = BTreeMap::new();
    let accepting = |(_, answer): &(usize, &Answer)| answer.taken == Taken::Accepted;
    for (at, answer) in answers.iter().enumerate().filter(accepting) {
        let places = [answer.of.map(Ok), Some(Err(answer.opening.clone()))];
        for place in places.into_iter().flatten() {
            waiting.entry((answer.asked(), answer.column.clone(), place)).or_default().push(at);
        }
    }
    if waiting.is_empty() {
        return;
    }
    let mut refused = Vec::new();
    let mut met = vec![Taken::NoLongerAsked; answers.len()];
    for query in queries.iter_mut() {
        let place = query.opening.ok_or_else(|| query.at.map_or_else(String::new, &cell));
        let asked = [query.code.to_owned(), folded(&query.message)];
        let column = query.fills.unwrap_or_default();
        let mut places =
            asked.into_iter().filter_map(|asked| waiting.get(&(asked, column.to_owned(), place.clone())));
        let Some(places) = places.next() else { continue };
        let latest = || places.iter().rev().copied();
        let Some(at) = latest().find(|at| answers[*at].holds_for(&query.detail)).or_else(|| latest().next())
        else {
            continue;
        };
        for other in latest().filter(|other| *other != at) {
            met[other] = Taken::Replaced;
        }
        let answer = &answers[at];
        met[at] = match query.severity {
            Severity::Stop => {
                refused.push(answer.at);
                Taken::NotUsed
            }
            _ if answer.holds_for(&query.detail) => {
                query.accepted = Some(Acceptance { by: answer.by.clone(), on: answer.on });
                Taken::Accepted
            }
            _ => {
                query.detail = format!("{}{ACCEPTED_AT}{}", query.detail, answer.details_then());
                Taken::NotUsed
            }
        };
    }
    queries.extend(refused.into_iter().map(|at| Query::new(&AcceptQuery::Stop, Some(at))));
    for (answer, met) in answers.iter_mut().zip(met) {
        if answer.taken == Taken::Accepted {
            answer.taken = met;
        }
    }
}
