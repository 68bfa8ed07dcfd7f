//! What several answers for one cell come to. They are the same, or the one with the latest date is
//! used; else they hold the opening. An answer to the very query that two others differ, or that a
//! cell has changed, settles that.

use crate::place::Sheets;
use crate::query::{Answer, Query, Taken};
use crate::schema::Column;
use crate::tables::{Datum, Entry, Fault, Unread};

use super::{AnswerQuery, RowKey, doubt};

/// Codes of the queries about answers for one cell: whoever answers one of them has seen the others.
const OF_ANSWERS: [&str; 3] = ["answer-outdated", "answers-differ", "answer-for-one-of-several"];

/// An answer on its way to its cell.
pub(super) struct Candidate {
    /// Its position among the answers.
    pub at: usize,
    pub column: &'static Column,
    pub says: Says,
}

/// What it says of the cell.
pub(super) enum Says {
    /// What stands there instead.
    Value(Entry),
    /// That it stands as it is.
    AsItIs,
    /// What the cell says by now.
    Settled(Datum),
    /// What cannot be used, and must not be passed over: the cell, which holds the opening.
    Outdated(Entry),
    /// Nothing that can be used; the query says why.
    Unreadable(Query),
}

impl Candidate {
    /// What the cell would come to; `None` if it stands as it is.
    fn outcome(&self) -> Option<Result<&Datum, ()>> {
        match &self.says {
            Says::Value(entry) => Some(entry.datum.as_ref().map_err(|_| ())),
            Says::Settled(datum) => Some(Ok(datum)),
            Says::Outdated(_) => Some(Err(())),
            Says::AsItIs | Says::Unreadable(_) => None,
        }
    }
}

/// The cell that the answers for it come to; `None` if it stands as it is. Each answer is told what
/// became of it, and what must be asked is raised.
pub(super) fn agreed(
    candidates: Vec<Candidate>,
    answers: &mut [(Answer, Option<RowKey>)],
    sheets: &Sheets,
    raised: &mut Vec<Query>,
) -> Option<(&'static Column, Entry)> {
    let column = candidates.first()?.column;
    let (unreadable, usable): (Vec<Candidate>, Vec<Candidate>) =
        candidates.into_iter().partition(|candidate| matches!(candidate.says, Says::Unreadable(_)));
    let last_usable = usable.iter().map(|candidate| candidate.at).max();
    for Candidate { at, says, .. } in unreadable {
        match (says, last_usable > Some(at)) {
            (_, true) => answers[at].0.taken = Taken::Replaced,
            (Says::Unreadable(query), false) => raised.push(query),
            (_, false) => {}
        }
    }
    let asked = |candidate: &Candidate, answers: &[(Answer, Option<RowKey>)]| answers[candidate.at].0.asked();
    let fills = |candidate: &&Candidate| !matches!(candidate.says, Says::AsItIs);
    let answered: Vec<String> =
        usable.iter().filter(fills).map(|candidate| asked(candidate, answers)).collect();
    let settles = |candidate: &Candidate| OF_ANSWERS.contains(&answers[candidate.at].0.code.as_str());
    let any_settles = usable.iter().any(settles);
    // That a cell stands as it is contradicts a value only where both answer one query.
    let is_rival = |candidate: &Candidate| {
        settles(candidate)
            || !any_settles && (fills(&candidate) || answered.contains(&asked(candidate, answers)))
    };
    let (rivals, others): (Vec<Candidate>, Vec<Candidate>) =
        usable.into_iter().partition(|candidate| is_rival(candidate));
    for other in &others {
        let is_accepted = matches!(other.says, Says::AsItIs) && !any_settles;
        answers[other.at].0.taken = if is_accepted { Taken::Accepted } else { Taken::Replaced };
    }
    let Some(winner) = winner(&rivals, answers) else {
        let first = rivals.first()?;
        let query = AnswerQuery::Differ { column: column.name };
        let each = rivals.iter().map(|rival| &answers[rival.at].0);
        let each = each.map(|Answer { answer, at, .. }| format!("\"{answer}\" ({})", sheets.show(*at)));
        let datum =
            Err(Box::new(Unread::of(&query, Fault::Contradicted, each.collect::<Vec<_>>().join(", "))));
        let at = answers[first.at].0.at;
        return Some((column, Entry { at, datum }));
    };
    for rival in &rivals {
        let answer = &mut answers[rival.at].0;
        let detail = format!("{}: {}", column.name, answer.answer);
        if rival.outcome() != winner.outcome() {
            answer.taken = Taken::Replaced;
            raised.push(doubt(AnswerQuery::Replaced, answer.at, detail));
            continue;
        }
        answer.taken = match rival.says {
            Says::Value(_) => Taken::Value,
            Says::AsItIs => Taken::Accepted,
            Says::Settled(_) => Taken::Settled,
            Says::Outdated(_) | Says::Unreadable(_) => Taken::NotUsed,
        };
        match answer.taken {
            Taken::Settled => raised.push(doubt(AnswerQuery::Settled, answer.at, detail)),
            Taken::Value if std::ptr::eq(rival, winner) => {
                raised.push(doubt(AnswerQuery::Taken, answer.at, detail));
            }
            _ => {}
        }
    }
    match &winner.says {
        Says::Value(entry) | Says::Outdated(entry) => Some((column, entry.clone())),
        Says::AsItIs | Says::Settled(_) | Says::Unreadable(_) => None,
    }
}

/// The answer that is used: any of those that say the same, else the one with the latest date.
fn winner<'c>(rivals: &'c [Candidate], answers: &[(Answer, Option<RowKey>)]) -> Option<&'c Candidate> {
    let first = rivals.first()?;
    if rivals.iter().all(|rival| rival.outcome() == first.outcome()) {
        return Some(first);
    }
    let on = |rival: &Candidate| answers[rival.at].0.on;
    let dated = rivals.iter().all(|rival| on(rival).is_some());
    let latest = rivals.iter().map(on).max()?;
    let mut latest = rivals.iter().filter(|rival| on(rival) == latest);
    let winner = latest.next().filter(|_| dated)?;
    latest.all(|other| other.outcome() == winner.outcome()).then_some(winner)
}
