//! Accepting a query: what the survey says stands.
//!
//! A check or a note may be accepted: what the survey says stands, and the query is listed apart,
//! with who accepted it and when. That ends the count and never a caution: whoever makes or hangs
//! the blind still reads it. It holds while the query's figures are the same or better; where they
//! are worse, or nothing says which way a figure is worse, it is asked again with both. A stop is
//! never accepted.

use std::collections::BTreeMap;

use super::queries::AcceptQuery;
use super::{Acceptance, Answer, OpeningIndex, Query, Severity, Taken};
use crate::name::folded;
use crate::place::CellRef;

/// Stands between a query's figures and those at which it was accepted.
pub(super) const ACCEPTED_AT: &str = "; accepted at: ";

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
        let Some(at) =
            latest().find(|at| answers[*at].holds_for(query.code, &query.detail)).or_else(|| latest().next())
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
            _ if answer.holds_for(query.code, &query.detail) => {
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
