//! `As surveyed`: every opening as it was taken, with its type and its answers, under the columns of
//! `Openings`. A later run reads it back.

use std::borrow::Cow;

use crate::earlier::answered_in_words;
use crate::query::OpeningIndex;
use crate::report::Report;
use crate::schema::Column;
use crate::survey::Opening;

/// One opening as it was taken.
#[derive(Clone, Copy)]
pub struct SurveyedRow<'r> {
    report: &'r Report<'r>,
    index: OpeningIndex,
    opening: &'r Opening,
}

impl<'r> SurveyedRow<'r> {
    /// Every opening, in survey order.
    pub fn all(report: &'r Report<'r>) -> impl Iterator<Item = SurveyedRow<'r>> + Clone {
        let openings = report.survey.openings.iter().enumerate();
        openings.map(move |(index, opening)| SurveyedRow { report, index, opening })
    }

    /// Which opening it is.
    pub fn index(self) -> OpeningIndex {
        self.index
    }

    /// Its name on every other sheet.
    pub fn shown(self) -> &'r str {
        &self.opening.who.name
    }

    /// The file that it was read from.
    pub fn survey(self) -> &'r str {
        &self.opening.who.survey
    }

    /// The cell that its row is known by.
    pub fn row(self) -> String {
        self.report.sheets.show(self.opening.who.at)
    }

    /// What was taken under a column of `Openings`; empty for a blank.
    pub fn taken(self, column: &Column) -> Cow<'r, str> {
        self.opening.taken(column)
    }

    /// The columns that an answer has filled.
    pub fn answered(self) -> String {
        answered_in_words(|column| self.opening.as_read.is_answered(column))
    }
}
