//! Whether an earlier fit-out and a survey belong together. Both name the same project, or the survey
//! says what it was called formerly; their prices are in one currency; and at least half of the openings
//! that the fit-out has blinds for are in the survey.

use std::collections::HashSet;

use super::{Earlier, EarlierError, opening_key};
use crate::name::same_name;
use crate::rules::Project;
use crate::survey::Survey;

/// Refuses a fit-out of another job.
///
/// # Errors
/// [`EarlierError`], which says what to type if they belong together all the same.
pub fn check(earlier: &Earlier, survey: &Survey, project: &Project) -> Result<(), EarlierError> {
    let named = earlier.project();
    if earlier.file.is_empty() {
        return Ok(());
    }
    let file = || earlier.file.clone();
    if named.trim().is_empty() {
        return Err(EarlierError::NoProject { whose: file() });
    }
    if project.name.trim().is_empty() {
        return Err(EarlierError::NoProject { whose: "the survey".to_owned() });
    }
    if !same_name(named, &project.name) && !same_name(named, &project.formerly) {
        let (earlier, now) = (named.to_owned(), project.name.clone());
        return Err(EarlierError::OtherProject { file: file(), earlier, now });
    }
    let (then, now) = (earlier.currency(), project.currency.code());
    if !then.is_empty() && !same_name(then, now) {
        return Err(EarlierError::OtherCurrency { file: file(), earlier: then.into(), now: now.into() });
    }
    let now: HashSet<String> = survey
        .openings
        .iter()
        .filter(|opening| !opening.who.written.is_empty())
        .map(|opening| opening_key(&opening.who.building, &opening.who.unit, &opening.who.written))
        .collect();
    let then: HashSet<String> = earlier.blinds.iter().filter_map(super::KeptBlind::key).collect();
    let found = then.iter().filter(|key| now.contains(*key)).count();
    match 2 * found < then.len() {
        true => Err(EarlierError::OtherOpenings { file: file(), found, all: then.len() }),
        false => Ok(()),
    }
}
