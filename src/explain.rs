//! One opening, by any of its names, with every step of every number and all that is asked about it.

use thiserror::Error;

use crate::query::{GatheredQuery, OpeningIndex, QueryPlace, Wording};
use crate::report::Report;
use crate::survey::{Identity, Survey};
use crate::tables;
use crate::worked::Step;

/// Openings named where a name does not say which one is meant.
const NAMES_SHOWN: usize = 6;

/// Why a name does not lead to an opening.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum FindError {
    /// No opening has the name.
    #[error("no opening is called {wanted}")]
    Unknown {
        /// The name.
        wanted: String,
        /// The name that comes nearest, if one is near.
        nearest: Option<String>,
    },
    /// Several openings have it.
    #[error("{wanted} is the name of {} openings", .names.len())]
    Several {
        /// The name.
        wanted: String,
        /// Their own names, in survey order.
        names: Vec<String>,
    },
}

impl Wording for FindError {
    fn hint(&self) -> String {
        match self {
            FindError::Unknown { nearest: Some(nearest), .. } => format!("did you mean {nearest}?"),
            FindError::Unknown { nearest: None, .. } => {
                "write it as the sheet Openings shows it: id, unit/id or building/unit/id".into()
            }
            FindError::Several { names, .. } => {
                let shown = names.iter().take(NAMES_SHOWN).map(String::as_str).collect::<Vec<_>>().join(", ");
                let more = if names.len() > NAMES_SHOWN { " and others" } else { "" };
                format!("write one of {shown}{more}")
            }
        }
    }
}

/// Finds an opening by the name it is shown by, else by `building/unit/id`, `unit/id` or `id`
/// where that is the name of one opening alone.
///
/// # Errors
/// [`FindError`] where the name leads to no opening, or to several.
pub fn find(survey: &Survey, wanted: &str) -> Result<OpeningIndex, FindError> {
    let shown = survey.openings.iter().position(|opening| *opening.who.name == *wanted);
    if let Some(index) = shown {
        return Ok(index);
    }
    let called: Vec<OpeningIndex> = survey
        .openings
        .iter()
        .enumerate()
        .filter(|(_, opening)| longer_names(&opening.who).iter().any(|name| name == wanted))
        .map(|(index, _)| index)
        .collect();
    match called[..] {
        [index] => Ok(index),
        [] => Err(FindError::Unknown { wanted: wanted.to_owned(), nearest: nearest(survey, wanted) }),
        _ => {
            let names = called.iter().map(|&index| survey.openings[index].who.name.to_string()).collect();
            Err(FindError::Several { wanted: wanted.to_owned(), names })
        }
    }
}

/// `id`, `unit/id` and `building/unit/id`.
fn longer_names(who: &Identity) -> [String; 3] {
    let Identity { building, unit, written, .. } = who;
    [written.to_string(), format!("{unit}/{written}"), format!("{building}/{unit}/{written}")]
}

fn nearest(survey: &Survey, wanted: &str) -> Option<String> {
    let shown = survey.openings.iter().map(|opening| &*opening.who.name);
    tables::nearest(wanted, shown).map(str::to_owned)
}

/// Everything about one opening.
#[derive(Debug)]
pub struct Explanation<'a> {
    /// Who it is.
    pub who: &'a Identity,
    /// `sized`, `provisional` or `held`.
    pub state: &'static str,
    /// Every step of every number, those that lead to one number together.
    pub numbers: Vec<Number<'a>>,
    /// What is asked about it: the query, and its place at this opening.
    pub queries: Vec<(&'a GatheredQuery, &'a QueryPlace)>,
}

/// The steps that lead to one number, the last of them its value.
#[derive(Debug)]
pub struct Number<'a> {
    /// What it is, such as `width`.
    pub of: &'static str,
    /// The steps. Never empty.
    pub steps: Vec<Step<'a>>,
}

/// Explains one opening of the report.
pub fn explain<'a>(report: &'a Report<'_>, opening: OpeningIndex) -> Explanation<'a> {
    let mut numbers: Vec<Number<'a>> = Vec::new();
    for step in report.working(opening) {
        match numbers.last_mut() {
            Some(number) if number.of == step.of => number.steps.push(step),
            _ => numbers.push(Number { of: step.of, steps: vec![step] }),
        }
    }
    let places = report.queries.iter().flat_map(|query| query.places.iter().map(move |place| (query, place)));
    Explanation {
        who: &report.survey.openings[opening].who,
        state: report.state(opening).word(),
        numbers,
        queries: places.filter(|(_, place)| place.opening == Some(opening)).collect(),
    }
}
