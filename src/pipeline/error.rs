//! Why a run stops altogether: nothing is written.

use thiserror::Error;

use crate::cutting::CutFault;
use crate::earlier::EarlierError;
use crate::grid::GridError;
use crate::invariants::Breach;
use crate::place::Sheets;
use crate::query::{self, GatheredQuery, Wording, did_you_mean_or};
use crate::rules::RulesError;
use crate::survey::{SurveyError, UnitsError};

/// Why a run stops altogether.
#[derive(Debug, Error)]
pub enum RunError {
    /// A file cannot be read.
    #[error(transparent)]
    Grid(#[from] GridError),
    /// It is not known what a bare number is in.
    #[error(transparent)]
    Units(#[from] UnitsError),
    /// The files hold no openings, or too many.
    #[error(transparent)]
    Survey(#[from] SurveyError),
    /// More memory would be needed than a run takes, [`MOST_MEMORY`](super::MOST_MEMORY).
    #[error("this survey is larger than this program takes: {what}")]
    TooLarge {
        /// What it has so many of, in words.
        what: String,
    },
    /// The rule sheets cannot be used.
    #[error("the rule sheets cannot be used")]
    RuleSheets {
        /// What is wrong with them, by cause.
        queries: Vec<GatheredQuery>,
        /// The sheets that the queries point into.
        sheets: Sheets,
    },
    /// The built-in rules cannot be used: a fault of the program.
    #[error("{message}")]
    BuiltInRules {
        /// What is wrong with them.
        message: String,
    },
    /// The earlier fit-out cannot be taken up.
    #[error(transparent)]
    Earlier(#[from] EarlierError),
    /// No choice of the sheet `Options` has the name that is asked for.
    #[error("there is no option {wanted}")]
    UnknownOption {
        /// The name.
        wanted: String,
        /// The one that comes nearest.
        nearest: Option<String>,
        /// Those that there are.
        options: Vec<String>,
    },
    /// What a choice of the sheet `Options` has of its own stops the run.
    #[error("option {option}: {error}")]
    InOption {
        /// Its name.
        option: String,
        /// Why.
        error: Box<RunError>,
    },
    /// The order asks for what cannot be cut: a fault of the program.
    #[error(transparent)]
    Cutting(#[from] CutFault),
    /// The result contradicts the openings, the rules or itself: a fault of the program.
    #[error(transparent)]
    Breach(#[from] Breach),
}

impl RunError {
    /// What is wrong with the rules; its queries point into `sheets`.
    pub(super) fn of_rules(error: RulesError, sheets: Sheets) -> RunError {
        match error {
            RulesError::Sheets(queries) => {
                RunError::RuleSheets { queries: query::gather(queries, |_| 1), sheets }
            }
            RulesError::BuiltIn { .. } => RunError::BuiltInRules { message: error.to_string() },
        }
    }
}

impl Wording for RunError {
    fn hint(&self) -> String {
        match self {
            RunError::Grid(error) => error.hint().into(),
            RunError::Units(error) => error.hint(),
            RunError::Survey(error) => error.hint(),
            RunError::Earlier(error) => error.hint(),
            RunError::InOption { error, .. } => error.hint(),
            RunError::TooLarge { .. } => {
                "split it by building or by floor, and run each part by itself".into()
            }
            RunError::UnknownOption { options, .. } if options.is_empty() => {
                "list the options on a sheet Options of the survey, a name on each row".into()
            }
            RunError::UnknownOption { nearest, options, .. } => {
                did_you_mean_or(nearest.as_deref(), &format!("the options are {}", options.join(", ")))
            }
            RunError::RuleSheets { .. } => {
                "correct each cell named above, or clear it to use the default".into()
            }
            RunError::BuiltInRules { .. } | RunError::Cutting(_) | RunError::Breach(_) => {
                "this is a bug: please report it, with the survey if you can".into()
            }
        }
    }
}
