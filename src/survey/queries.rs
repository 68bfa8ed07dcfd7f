//! What the survey's own room asks.

use thiserror::Error;

use crate::query::Wording;
use crate::schema::Column;
use crate::schema::answers::{self, ANSWERS};
use crate::schema::openings::{OPENING, OPENINGS, TYPE, TYPES};
use crate::schema::project::PROJECT;
use crate::tables::Unread;

/// A doubt about a row of the survey, before anything is known of blinds.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum SurveyQuery {
    /// A cell says nothing; the words are those of the reader.
    #[error("{}", .1.message)]
    Unread(&'static Column, Box<Unread>),
    /// Nothing stands in any column of a size.
    #[error("no {} is given", .0.name.to_lowercase())]
    NoSize(&'static Column),
    /// A size stands in a row that names no opening.
    #[error("a size is given without an id, a unit, a room or a type")]
    Nameless,
    /// A row names an opening, but holds no size.
    #[error("nothing stands in a size cell, so the row is no opening")]
    Sizeless,
    /// A row begins with a total.
    #[error("the row begins with a total, so it is no opening")]
    Total,
    /// Rows with the same building, unit and id.
    #[error("another row has the same building, unit and id")]
    SameKey,
    /// The type has no row; the opening has sizes of its own.
    #[error("the type is not on the sheet {TYPES}")]
    UnknownType,
    /// The type has no row, and the opening has no size of its own.
    #[error("the type is not on the sheet {TYPES}, and the row has no size of its own")]
    UnknownTypeWithoutSize,
    /// The type has several rows.
    #[error("the type has more than one row on the sheet {TYPES}")]
    SeveralTypes,
    /// A row of the sheet `Types` has no type.
    #[error("a row of the sheet {TYPES} has no type, so no opening can use it")]
    TypeWithoutName,
    /// Only one diagonal is given.
    #[error("one diagonal alone does not show whether an opening is square")]
    OneDiagonal,
}

impl Wording for SurveyQuery {
    fn fills(&self) -> Option<&'static Column> {
        match self {
            SurveyQuery::Unread(column, _) | SurveyQuery::NoSize(column) => Some(column),
            SurveyQuery::Nameless | SurveyQuery::SameKey => Some(&OPENING),
            SurveyQuery::UnknownType | SurveyQuery::UnknownTypeWithoutSize => Some(&TYPE),
            SurveyQuery::Sizeless
            | SurveyQuery::Total
            | SurveyQuery::SeveralTypes
            | SurveyQuery::TypeWithoutName
            | SurveyQuery::OneDiagonal => None,
        }
    }

    fn hint(&self) -> String {
        match self {
            SurveyQuery::Unread(_, unread) => unread.hint.clone(),
            SurveyQuery::NoSize(size) => {
                format!("measure the {}, or name a type that gives it", size.name.to_lowercase())
            }
            SurveyQuery::Nameless => "fill in the opening's id, unit, room or type".into(),
            SurveyQuery::Sizeless => "measure it, if a blind is to hang there".into(),
            SurveyQuery::Total => "nothing to do, unless it is an opening: then name it otherwise".into(),
            SurveyQuery::SameKey => {
                "give each row an id of its own, or delete the one that is there twice".into()
            }
            SurveyQuery::UnknownType | SurveyQuery::UnknownTypeWithoutSize => {
                format!("correct the type, or add a row for it to the sheet {TYPES}")
            }
            SurveyQuery::SeveralTypes => "leave one row for each type".into(),
            SurveyQuery::TypeWithoutName => "fill in its type".into(),
            SurveyQuery::OneDiagonal => "measure the other one, corner to corner".into(),
        }
    }
}

/// What is said of the sheet `Answers`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub(super) enum AnswerQuery {
    #[error("a cell is taken from the sheet {}", ANSWERS.sheet)]
    Taken,
    #[error("the sheet {} has no headings {} and {}", ANSWERS.sheet, answers::COLUMN.name, answers::VALUE.name)]
    NoHeadings,
    #[error("an answer is for an opening that the survey does not have")]
    UnknownOpening,
    #[error("an answer is for a name that more than one opening has")]
    SeveralOpenings,
    #[error("an answer is for no opening, and none is listed under its query")]
    NoOpening,
    #[error("an answer is for a column that the sheet {} cannot have", OPENINGS.sheet)]
    UnknownColumn,
    #[error("an answer is for an item of the sheet {}, which {} does not reach", PROJECT.sheet, ANSWERS.sheet)]
    OfProject,
    #[error("an answer without a column changes nothing")]
    NoColumn,
}

impl Wording for AnswerQuery {
    fn hint(&self) -> String {
        match self {
            AnswerQuery::Taken => {
                format!("once it is settled, write it into {} and delete the answer", OPENINGS.sheet)
            }
            AnswerQuery::NoHeadings => "copy the whole sheet Queries, with its headings".into(),
            AnswerQuery::UnknownOpening | AnswerQuery::SeveralOpenings => {
                "name it as the sheet Queries does, or by a cell of its row, such as Openings!A12".into()
            }
            AnswerQuery::NoOpening => format!("fill in {}", answers::OPENING.name),
            AnswerQuery::UnknownColumn => "write the heading as a blank survey does".into(),
            AnswerQuery::OfProject => format!("write it beside the item on the sheet {}", PROJECT.sheet),
            AnswerQuery::NoColumn => {
                "nothing to do, if it is a remark; else write in the survey what it says".into()
            }
        }
    }
}
