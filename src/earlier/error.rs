//! Why an earlier fit-out is refused: nothing is written.

use thiserror::Error;

use crate::query::Wording;
use crate::rules::columns::project::COLUMNS;

/// Why an earlier fit-out is refused.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum EarlierError {
    /// It lacks a sheet that every fit-out has.
    #[error("{file} has no sheet {sheet}, so it is no fit-out that can be taken up")]
    NoFitOut {
        /// The file.
        file: String,
        /// The sheet.
        sheet: &'static str,
    },
    /// A cell of it cannot be read.
    #[error("{at}: {message}")]
    Unread {
        /// The cell, as it is shown.
        at: String,
        /// What is wrong.
        message: String,
        /// What to do.
        hint: String,
    },
    /// A cell that must say something is blank.
    #[error("{at} has no {column}")]
    Blank {
        /// The row's first cell, as it is shown.
        at: String,
        /// The column.
        column: &'static str,
    },
    /// A column is gone, or its heading is.
    #[error("{sheet} has no column {column}, so what stood in it cannot be known")]
    NoColumn {
        /// The sheet, as it is shown.
        sheet: String,
        /// The column.
        column: &'static str,
    },
    /// Two rows are about the same blind and differ.
    #[error("{first} and {second} are of the same blind, but differ")]
    Differ {
        /// The first row, as it is shown.
        first: String,
        /// The second.
        second: String,
    },
    /// Two ordered blinds of one line differ in what the line has once.
    #[error("{first} and {second} are of line {line}, whose blinds are alike, but differ")]
    DifferOnLine {
        /// The cell of the first, as it is shown.
        first: String,
        /// That of the second.
        second: String,
        /// The line.
        line: usize,
    },
    /// One line is of blinds and of spare louvers.
    #[error("{first} and {second} are both of line {line}, but one is a blind and one spare louvers")]
    TwoOfALine {
        /// The row of the blind, as it is shown.
        first: String,
        /// That of the spare louvers.
        second: String,
        /// The line.
        line: usize,
    },
    /// A piece of an ordered blind is longer than what it could be cut from.
    #[error("{at}: a piece of {length} cannot be cut from any stock length of {material}")]
    CannotBeCut {
        /// The row of the first blind of its line, as it is shown.
        at: String,
        /// The piece, as it is shown.
        length: String,
        /// The material.
        material: String,
    },
    /// Two rows are about the same visit and differ.
    #[error("{first} and {second} are of the same visit, but differ")]
    DifferOfVisit {
        /// The first row, as it is shown.
        first: String,
        /// The second.
        second: String,
    },
    /// The survey has no project name.
    #[error("the survey does not name its project, so it cannot be known that they belong together")]
    NoProject,
    /// The fit-out has none.
    #[error("{file} does not name its project, so it cannot be known that they belong together")]
    OfNoProject {
        /// The fit-out.
        file: String,
    },
    /// They are of two projects.
    #[error("{file} is of the project \"{earlier}\", but the survey is of \"{now}\"")]
    OtherProject {
        /// The fit-out.
        file: String,
        /// Its project.
        earlier: String,
        /// The survey's.
        now: String,
    },
    /// Their prices are in two currencies.
    #[error("the prices of {file} are in {earlier}, but those of the survey are in {now}")]
    OtherCurrency {
        /// The fit-out.
        file: String,
        /// Its currency.
        earlier: String,
        /// The survey's.
        now: String,
    },
    /// Too few of its openings are in the survey.
    #[error("only {found} of the {all} openings of {file} are in the survey")]
    OtherOpenings {
        /// The fit-out.
        file: String,
        /// Openings that are in both.
        found: usize,
        /// Openings of the fit-out.
        all: usize,
    },
    /// Too many of its openings have another size.
    #[error("{off} of the {all} openings that {file} and the survey share differ by more than 1 in")]
    OtherSizes {
        /// The fit-out.
        file: String,
        /// Openings that differ.
        off: usize,
        /// Openings in both.
        all: usize,
    },
}

/// How the orders of a fit-out are kept where it cannot be taken up as a whole.
const TAKE_BLINDS: &str = "copy the sheet Blinds of the fit-out there, and run without --after";

impl Wording for EarlierError {
    fn hint(&self) -> String {
        let project = COLUMNS.name.name;
        let formerly = COLUMNS.formerly.name;
        match self {
            EarlierError::NoFitOut { .. } => "give the workbook that an earlier run wrote".into(),
            EarlierError::Unread { hint, .. } => hint.clone(),
            EarlierError::Blank { .. } => {
                "fill it in as the earlier fit-out has it, or delete the whole row if it was added by hand"
                    .into()
            }
            EarlierError::NoColumn { column, .. } => {
                format!("write {column} above its column again, or put the column back")
            }
            EarlierError::TwoOfALine { .. } => "give each the line that it had when it was written".into(),
            EarlierError::CannotBeCut { .. } => {
                "add what it is cut from to Bars, or correct the row; if it is made, write made under State"
                    .into()
            }
            EarlierError::DifferOnLine { .. } => "make both cells say what was ordered".into(),
            EarlierError::Differ { .. } | EarlierError::DifferOfVisit { .. } => {
                "make both rows say the same, or delete one".into()
            }
            EarlierError::NoProject => {
                format!("enter the name next to {project} on the sheet {project} of the survey")
            }
            EarlierError::OfNoProject { .. } => format!("name it in the survey, {TAKE_BLINDS}"),
            EarlierError::OtherProject { earlier, .. } => {
                format!("if it is the same job, enter {earlier} next to {formerly} on the sheet Project")
            }
            EarlierError::OtherCurrency { earlier, .. } => {
                format!("enter {earlier} next to {} on the sheet Project", COLUMNS.currency.name)
            }
            EarlierError::OtherOpenings { .. } => {
                format!("check the survey; if it is the same job, {TAKE_BLINDS}")
            }
            EarlierError::OtherSizes { .. } => {
                format!("check the units of the survey; if they are right, {TAKE_BLINDS}")
            }
        }
    }
}
