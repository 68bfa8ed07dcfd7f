//! One opening, by any of its names, with every step of every number and all that is asked about it.

use thiserror::Error;

use crate::name;
use crate::query::{GatheredQuery, OpeningIndex, QueryPlace, Wording};
use crate::report::Report;
use crate::sourcing::Candidate;
use crate::survey::{Identity, Survey};
use crate::worked::{Number, Step};

/// Openings named where a name does not say which one is meant.
const NAMES_SHOWN: usize = 6;

/// Why a name does not lead to an opening.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum FindError {
    /// No opening has the name.
    #[error("there is no opening {wanted}")]
    Unknown {
        /// The name.
        wanted: String,
        /// The name that comes nearest, if one is near.
        nearest: Option<String>,
        /// The openings of the unit that it begins with, if it begins with one.
        in_unit: Option<InUnit>,
    },
    /// Several openings have it.
    #[error("{} openings are called {wanted}", .names.len())]
    Several {
        /// The name.
        wanted: String,
        /// Their own names, in survey order.
        names: Vec<String>,
    },
}

/// Openings of one unit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct InUnit {
    /// The unit.
    pub unit: String,
    /// Their names, in survey order. Never empty.
    pub names: Vec<String>,
}

impl Wording for FindError {
    fn hint(&self) -> String {
        match self {
            FindError::Unknown { nearest: Some(nearest), .. } => format!("did you mean {nearest}?"),
            FindError::Unknown { in_unit: Some(InUnit { unit, names }), .. } => {
                format!("the openings of unit {unit} are {}", listed(names))
            }
            FindError::Unknown { .. } => {
                "give its id, unit/id or building/unit/id, as on the sheet Openings of the fit-out".into()
            }
            FindError::Several { names, .. } => format!("give one of {}", listed(names)),
        }
    }
}

fn listed(names: &[String]) -> String {
    let shown = names.iter().take(NAMES_SHOWN).map(String::as_str).collect::<Vec<_>>().join(", ");
    let more = names.len().saturating_sub(NAMES_SHOWN);
    if more == 0 { shown } else { format!("{shown} and {more} more") }
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
        .filter(|(_, opening)| may_be_called(&opening.who, wanted))
        .map(|(index, _)| index)
        .collect();
    match called[..] {
        [index] => Ok(index),
        [] => Err(FindError::Unknown {
            wanted: wanted.to_owned(),
            nearest: nearest(survey, wanted),
            in_unit: in_unit(survey, wanted),
        }),
        _ => {
            let names = called.iter().map(|&index| survey.openings[index].who.name.to_string()).collect();
            Err(FindError::Several { wanted: wanted.to_owned(), names })
        }
    }
}

/// Whether the name is the opening's id, `unit/id` or `building/unit/id`.
fn may_be_called(who: &Identity, wanted: &str) -> bool {
    let (building, unit, id) = (&who.building, who.shown_unit(), &who.written);
    *wanted == **id || wanted == format!("{unit}/{id}") || wanted == format!("{building}/{unit}/{id}")
}

/// The name that differs in case alone, else the one that is probably meant.
fn nearest(survey: &Survey, wanted: &str) -> Option<String> {
    let shown = survey.openings.iter().map(|opening| &*opening.who.name);
    let same = shown.clone().find(|name| name::same_name(name, wanted));
    same.or_else(|| name::nearest(wanted, shown)).map(str::to_owned)
}

fn in_unit(survey: &Survey, wanted: &str) -> Option<InUnit> {
    let (unit, _) = wanted.rsplit_once('/')?;
    let of_unit = survey.openings.iter().filter(|opening| opening.who.shown_unit() == unit);
    let names: Vec<String> = of_unit.map(|opening| opening.who.name.to_string()).collect();
    (!names.is_empty()).then(|| InUnit { unit: unit.to_owned(), names })
}

/// Everything about one opening.
#[derive(Debug)]
pub struct Explanation<'a> {
    /// Who it is.
    pub who: &'a Identity,
    /// `sized`, `provisional` or `held`.
    pub state: &'static str,
    /// Every step of every number, those that lead to one number together.
    pub numbers: Vec<Working<'a>>,
    /// Every way to get its blinds that was looked at, the one taken first; empty where it is held.
    pub candidates: Vec<Candidate<'a>>,
    /// What is asked about it: the query, and its place at this opening.
    pub queries: Vec<(&'a GatheredQuery, &'a QueryPlace)>,
}

/// The steps that lead to one number, the last of them its value.
#[derive(Debug)]
pub struct Working<'a> {
    /// The number.
    pub of: Number,
    /// The steps. Never empty.
    pub steps: Vec<Step<'a>>,
}

/// Explains one opening of the report.
pub fn explain<'a>(report: &'a Report<'_>, opening: OpeningIndex) -> Explanation<'a> {
    let mut numbers: Vec<Working<'a>> = Vec::new();
    for step in report.working(opening) {
        // A number stands where its last step is, below the numbers that it was worked out from.
        let begun = numbers.iter().position(|number| number.of == step.of);
        let mut number = begun.map_or(Working { of: step.of, steps: Vec::new() }, |at| numbers.remove(at));
        number.steps.push(step);
        numbers.push(number);
    }
    let places = report
        .queries
        .iter()
        .chain(&report.accepted)
        .flat_map(|query| query.places.iter().map(move |place| (query, place)));
    Explanation {
        who: &report.survey.openings[opening].who,
        state: report.state(opening).word(),
        numbers,
        candidates: report.candidates(opening),
        queries: places.filter(|(_, place)| place.opening == Some(opening)).collect(),
    }
}
