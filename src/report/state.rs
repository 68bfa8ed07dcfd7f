//! What became of each opening, and of the job as a whole.

use super::Report;
use crate::query::OpeningIndex;
use crate::sizing::Release;

/// What became of an opening.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum State {
    /// Sized and released.
    Sized,
    /// Sized, but not to be made yet: not measured with a tape, or a floor's thickness is unknown.
    Provisional,
    /// Held back by a stop.
    Held,
}

impl State {
    /// The word that every output uses.
    pub const fn word(self) -> &'static str {
        match self {
            State::Sized => "sized",
            State::Provisional => "provisional",
            State::Held => "held",
        }
    }
}

impl Report<'_> {
    /// What became of an opening.
    pub fn state(&self, opening: OpeningIndex) -> State {
        match self.blinds.get(opening).and_then(Option::as_ref).map(|blind| blind.sizing.release) {
            Some(Release::Make) => State::Sized,
            Some(Release::Provisional) => State::Provisional,
            None => State::Held,
        }
    }

    /// Whether nothing is held and nothing provisional, every row with a size is an opening, and every
    /// ordered blind has one.
    pub fn complete(&self) -> bool {
        self.counts.held == 0
            && self.counts.provisional == 0
            && self.nameless_rows() == 0
            && self.frozen.astray == 0
    }

    /// Rows with a size but nothing that says which opening it is: a stop each, and in no list.
    pub fn nameless_rows(&self) -> u64 {
        self.counts.rows.saturating_sub(self.survey.openings.len() as u64)
    }

    /// `2 rows do not say which opening they are`; `None` if every row does.
    pub fn nameless(&self) -> Option<String> {
        match self.nameless_rows() {
            0 => None,
            1 => Some("1 row does not say which opening it is".to_owned()),
            rows => Some(format!("{rows} rows do not say which opening they are")),
        }
    }

    /// `2 ordered blinds have no opening`; `None` if every one has.
    pub fn astray(&self) -> Option<String> {
        match self.frozen.astray {
            0 => None,
            1 => Some("1 ordered blind has no opening".to_owned()),
            blinds => Some(format!("{blinds} ordered blinds have no opening")),
        }
    }

    /// What the verdict means for whoever would order now.
    pub fn advice(&self) -> &'static str {
        if self.complete() {
            "Every opening is sized and can be ordered."
        } else if self.counts.held > 0 || self.nameless_rows() > 0 || self.frozen.astray > 0 {
            "Not everything can be ordered: answer the stops on Queries, then run again."
        } else {
            "Some blinds cannot be made yet: clear the checks on provisional openings, then run again."
        }
    }

    /// `COMPLETE`, or `INCOMPLETE` and what is missing.
    pub fn verdict(&self) -> String {
        if self.complete() {
            return "COMPLETE".to_owned();
        }
        let counted =
            format!("INCOMPLETE: {} held, {} provisional", self.counts.held, self.counts.provisional);
        [counted].into_iter().chain(self.nameless()).chain(self.astray()).collect::<Vec<_>>().join(", ")
    }
}
