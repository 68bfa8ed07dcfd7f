//! What the survey's own room asks.

use thiserror::Error;

use crate::query::Wording;
use crate::rules::columns::project::PROJECT;
use crate::schema::Column;
use crate::schema::answers::{self, ANSWERS};
use crate::schema::openings::{CATEGORY, FLOOR, OPENING, OPENINGS, QUANTITY, RECESS_DEPTH, TYPE, TYPES};
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
    /// The example row of a blank survey is still there.
    #[error("the example row of a blank survey is left in; it is no opening")]
    Example,
    /// A table that holds no openings, beside one that does.
    #[error("a table holds no openings, so nothing is taken from it")]
    PassedOver,
    /// Types with counts, beside a table of the openings themselves.
    #[error("how many there are of a type is not used, since the openings are listed one by one")]
    CountsUnused,
    /// The name of a sheet stands for a column of floors.
    #[error("each row's floor is the name of its sheet")]
    FloorFromSheet,
    /// Rows that say that they are something else.
    #[error("rows are neither doors nor windows by their category, so they are no openings")]
    OtherCategory,
    /// A row whose category says nothing, among rows whose category does.
    #[error("the category is no known word for a door or a window; the row is taken as an opening")]
    UnknownCategory,
    /// A component without a known type.
    #[error("a component's type is not on the sheet Type, so it may be a door or a window; it is left out")]
    LostComponent,
    /// Rows with the same building, unit and id.
    #[error("another row has the same building, unit and id")]
    SameKey,
    /// Rows with the same building, unit, id and sizes.
    #[error("another row has the same building, unit, id and sizes")]
    Repeated,
    /// The type has no row; the opening has sizes of its own.
    #[error("no list of types has the type")]
    UnknownType,
    /// The type has no row, and the opening has no size of its own.
    #[error("no list of types has the type, and the row has no size of its own")]
    UnknownTypeWithoutSize,
    /// The type has several rows.
    #[error("the type is listed more than once")]
    SeveralTypes,
    /// A row of a list of types has no type.
    #[error("a row of a list of types has no type, so no opening can use it")]
    TypeWithoutName,
    /// The id, the type or the note says a size, and the size columns another.
    #[error("the {0} says another size than the size columns")]
    NameDisagrees(&'static str),
    /// A width and a height in one cell, and others in cells of their own.
    #[error("{0} says another size than the columns of width and height")]
    PairDisagrees(&'static str),
    /// A third length stands beside a width and a height.
    #[error("{0} holds a third length, which is not taken")]
    ThirdLength(&'static str),
    /// The mark lists more openings, or fewer, than the quantity says.
    #[error("the id names several openings, and the quantity is another number")]
    SeveralNamed,
    /// The note says that no blind is wanted.
    #[error("the note may mean that no blind is wanted; one is ordered")]
    Unwanted,
    /// Only one diagonal is given.
    #[error("one diagonal alone does not show whether an opening is square")]
    OneDiagonal,
}

impl Wording for SurveyQuery {
    fn fills(&self) -> Option<&'static Column> {
        match self {
            SurveyQuery::Unread(column, _) | SurveyQuery::NoSize(column) => Some(column),
            SurveyQuery::Nameless | SurveyQuery::SameKey | SurveyQuery::Repeated => Some(&OPENING),
            SurveyQuery::UnknownCategory => Some(&CATEGORY),
            SurveyQuery::SeveralNamed => Some(&QUANTITY),
            SurveyQuery::UnknownType | SurveyQuery::UnknownTypeWithoutSize => Some(&TYPE),
            SurveyQuery::Sizeless
            | SurveyQuery::Total
            | SurveyQuery::Example
            | SurveyQuery::PassedOver
            | SurveyQuery::CountsUnused
            | SurveyQuery::FloorFromSheet
            | SurveyQuery::OtherCategory
            | SurveyQuery::LostComponent
            | SurveyQuery::NameDisagrees(_)
            | SurveyQuery::PairDisagrees(_)
            | SurveyQuery::ThirdLength(_)
            | SurveyQuery::Unwanted
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
            SurveyQuery::Example => "nothing to do; an opening needs an id of its own".into(),
            SurveyQuery::PassedOver => {
                format!("if its rows are openings, name its sheet {}", OPENINGS.sheet)
            }
            SurveyQuery::CountsUnused => "nothing to do, if every opening has a row of its own".into(),
            SurveyQuery::FloorFromSheet => {
                format!("add a column {} if a name is not the floor's", FLOOR.name)
            }
            SurveyQuery::OtherCategory => "nothing to do, unless a blind is to hang at one of them".into(),
            SurveyQuery::UnknownCategory => {
                format!("write door, window or what else it is in {}", CATEGORY.name)
            }
            SurveyQuery::LostComponent => "correct its TypeName, or add the type to the sheet Type".into(),
            SurveyQuery::Repeated => {
                "an export may have repeated the row: delete one, or give each its own id".into()
            }
            SurveyQuery::SameKey => {
                "give each row an id of its own, or delete the one that is there twice".into()
            }
            SurveyQuery::UnknownType | SurveyQuery::UnknownTypeWithoutSize => {
                format!("correct the type, or add a row for it to the sheet {TYPES}")
            }
            SurveyQuery::SeveralTypes => "leave one row for each type".into(),
            SurveyQuery::TypeWithoutName => "fill in its type".into(),
            SurveyQuery::NameDisagrees(_) => "the size columns are used; correct whichever is wrong".into(),
            SurveyQuery::PairDisagrees(_) => {
                "the columns of width and height are used; correct whichever is wrong".into()
            }
            SurveyQuery::ThirdLength(_) => {
                format!("if it is the depth of the recess, write it under {}", RECESS_DEPTH.name)
            }
            SurveyQuery::SeveralNamed => {
                format!("write how many there are under {}, or give each a row of its own", QUANTITY.name)
            }
            SurveyQuery::Unwanted => "delete the row, if that is so".into(),
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
