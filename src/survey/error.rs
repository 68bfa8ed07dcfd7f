//! Why nothing can be made of a survey at all.

use thiserror::Error;

use crate::query::Wording;
use crate::schema::headings::HEADINGS;
use crate::schema::openings::{HEIGHT, OPENING, OPENINGS, QUANTITY, UNIT, WIDTH};

use super::Why;

/// Most blinds in one run; one more stops it.
pub const MOST_BLINDS: u64 = 1_000_000;
/// Most cells of openings in one run that cannot be read; one more stops it. Each is asked about, and nobody
/// answers so many.
pub const MOST_UNREAD: usize = 500_000;

/// Why nothing can be made of a survey at all: the run stops and writes nothing.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum SurveyError {
    /// No sheet holds a table of openings.
    #[error("{survey} has no table of openings{}", reasons(.looked_at))]
    NoOpenings {
        /// The file.
        survey: String,
        /// Each of its tables, and each of its sheets without one.
        looked_at: Vec<LookedAt>,
    },
    /// The sheets that should hold openings hold none.
    #[error("{survey} lists no openings{}", listed(.sheets))]
    NoRows {
        /// The file.
        survey: String,
        /// The sheets that were read.
        sheets: Vec<String>,
    },
    /// More blinds than one run may have.
    #[error("the surveys ask for {blinds} blinds; one run can have at most {MOST_BLINDS}")]
    TooManyBlinds {
        /// Blinds asked for.
        blinds: u64,
    },
    /// More cells that cannot be read than one run may ask about.
    #[error(
        "{cells} cells of openings cannot be read, most of them under {column}; one run can have at most {MOST_UNREAD}"
    )]
    TooManyUnread {
        /// How many.
        cells: usize,
        /// The column that has most of them.
        column: &'static str,
    },
}

/// A table, or a sheet without one, and why it holds no openings.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LookedAt {
    /// The sheet, or the table's first heading where a sheet has several: `Floor 2!A14`.
    pub place: String,
    /// Why it is passed over.
    pub why: Why,
    /// What may be its headings and is not known.
    pub unknown: Vec<UnknownHeading>,
}

/// A heading that is not known, where that may be why a table was passed over.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("{heading}{}", nearest.map_or_else(String::new, |column| format!(" ({column}?)")))]
pub struct UnknownHeading {
    /// Its sheet.
    pub sheet: String,
    /// The heading as written.
    pub heading: String,
    /// The column that it resembles most.
    pub nearest: Option<&'static str>,
}

impl Wording for SurveyError {
    fn hint(&self) -> String {
        match self {
            SurveyError::NoOpenings { .. } => format!(
                "give the table headings such as {}, {}, {} and {} (in a workbook, on a sheet {}), or say on a sheet {} what its own mean",
                OPENING.name, UNIT.name, WIDTH.name, HEIGHT.name, OPENINGS.sheet, HEADINGS.sheet
            ),
            SurveyError::NoRows { .. } => {
                "an opening needs an id, a unit, a room or a type, and a width or a height".into()
            }
            SurveyError::TooManyBlinds { .. } => {
                format!("check the column {}, or run the surveys separately", QUANTITY.name)
            }
            SurveyError::TooManyUnread { column, .. } => {
                format!(
                    "check what stands under {column}, or say on a sheet {} what it means",
                    HEADINGS.sheet
                )
            }
        }
    }
}

fn reasons(looked_at: &[LookedAt]) -> String {
    /// Tables whose reasons fit on a line.
    const SHOWN: usize = 3;
    let reasons = looked_at.iter().take(SHOWN).map(|table| {
        let unknown: Vec<String> = table.unknown.iter().map(ToString::to_string).collect();
        let unknown = match unknown.as_slice() {
            [] => String::new(),
            unknown => format!(" (headings that are not known: {})", unknown.join(", ")),
        };
        format!("{} {}{unknown}", table.place, table.why)
    });
    let reasons = reasons.collect::<Vec<_>>().join("; ");
    match looked_at.len() {
        0 => reasons,
        1..=SHOWN => format!(": {reasons}"),
        all => format!(": {reasons}; and {} more sheets or tables without", all - SHOWN),
    }
}

fn listed(sheets: &[String]) -> String {
    if sheets.is_empty() { String::new() } else { format!(" on {}", sheets.join(", ")) }
}
