//! Whether an earlier fit-out and a survey belong together. Both name the same project, or the survey
//! says what it was called formerly; their prices are in one currency; at least half of the openings of the
//! fit-out are in the survey; and of those in both, fewer than half have another size. An opening that was
//! held and had no size to compare counts as one that has not.

use std::collections::HashMap;

use super::{Earlier, EarlierError, KeptOpening, least, opening_key};
use crate::length::Length;
use crate::name::same_name;
use crate::rules::Project;
use crate::schema::openings::{HEIGHTS, WIDTHS};
use crate::survey::{Opening, Survey};

/// A least width or height that is off by more is another size: a tape that is read anew is not.
const ANOTHER_SIZE: Length = Length::inches(1);

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
        return Err(EarlierError::OfNoProject { file: file() });
    }
    if project.name.trim().is_empty() {
        return Err(EarlierError::NoProject);
    }
    if !same_name(named, &project.name) && !same_name(named, &project.formerly) {
        let (earlier, now) = (named.to_owned(), project.name.clone());
        return Err(EarlierError::OtherProject { file: file(), earlier, now });
    }
    let (then, now) = (earlier.currency(), project.currency.code());
    if !then.is_empty() && !same_name(then, now) {
        return Err(EarlierError::OtherCurrency { file: file(), earlier: then.into(), now: now.into() });
    }
    let now: HashMap<String, &Opening> = survey
        .openings
        .iter()
        .filter(|opening| !opening.who.written.is_empty())
        .map(|opening| (opening_key(&opening.who.building, &opening.who.unit, &opening.who.written), opening))
        .collect();
    let then: HashMap<String, &KeptOpening> =
        earlier.surveyed.iter().filter_map(|opening| Some((opening.key()?, opening))).collect();
    let both = || then.iter().filter_map(|(key, then)| Some((*then, *now.get(key)?)));
    let found = both().count();
    if 2 * found < then.len() {
        return Err(EarlierError::OtherOpenings { file: file(), found, all: then.len() });
    }
    let off = both().filter(|(then, now)| has_another_size(then, now)).count();
    match off > 0 && 2 * off >= found {
        true => Err(EarlierError::OtherSizes { file: file(), off, all: found }),
        false => Ok(()),
    }
}

fn has_another_size(then: &KeptOpening, now: &Opening) -> bool {
    [&WIDTHS, &HEIGHTS].into_iter().any(|columns| {
        let then = least(columns, |column| then.said(column));
        let now = least(columns, |column| now.as_read.taken(column));
        then.zip(now).is_some_and(|(then, now)| (then - now).abs() > ANOTHER_SIZE)
    })
}
