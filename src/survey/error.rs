//! Why nothing can be made of a survey at all.

use thiserror::Error;

use crate::query::Wording;
use crate::schema::openings::{OPENING, OPENINGS, QUANTITY, UNIT};

use super::Why;

/// Most blinds in one run; one more stops it.
pub const MOST_BLINDS: u64 = 1_000_000;

/// Why nothing can be made of a survey at all: the run stops and writes nothing.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum SurveyError {
    /// No sheet holds a table of openings.
    #[error("{survey} holds no table of openings{}", reasons(.looked_at))]
    NoOpenings {
        /// The file.
        survey: String,
        /// Each of its tables, and each of its sheets without one.
        looked_at: Vec<LookedAt>,
    },
    /// The sheets that should hold openings hold none.
    #[error("{survey} holds no opening{}", listed(.sheets))]
    NoRows {
        /// The file.
        survey: String,
        /// The sheets that were read.
        sheets: Vec<String>,
    },
    /// More blinds than one run may have.
    #[error("the surveys ask for {blinds} blinds, and one run may have {MOST_BLINDS}")]
    TooManyBlinds {
        /// Blinds asked for.
        blinds: u64,
    },
}

/// A table, or a sheet without one, and why it holds no openings.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LookedAt {
    /// The sheet, or the table's first heading where a sheet has several: `Floor 2!A14`.
    pub place: String,
    /// Why it is passed over.
    pub why: Why,
}

impl Wording for SurveyError {
    fn hint(&self) -> String {
        match self {
            SurveyError::NoOpenings { .. } => format!(
                "name the sheet of openings {}, with headings such as {}, {}, Width and Height",
                OPENINGS.sheet, OPENING.name, UNIT.name
            ),
            SurveyError::NoRows { .. } => {
                "an opening needs an id, a unit, a room or a type, and a width or a height".into()
            }
            SurveyError::TooManyBlinds { .. } => {
                format!("look at the column {}, or run the surveys one by one", QUANTITY.name)
            }
        }
    }
}

fn reasons(looked_at: &[LookedAt]) -> String {
    let reasons = looked_at.iter().map(|table| format!("{} {}", table.place, table.why));
    let reasons = reasons.collect::<Vec<_>>().join("; ");
    if reasons.is_empty() { reasons } else { format!(": {reasons}") }
}

fn listed(sheets: &[String]) -> String {
    if sheets.is_empty() { String::new() } else { format!(" on {}", sheets.join(", ")) }
}
