//! The choices of a survey, each a run of its own: the surveys are read again with what the choice has in
//! place of theirs, but for openings of which a blind is ordered, and all that follows is worked out as
//! ever, and held to every invariant. Only its figures are kept. What is cut alike in several is planned once.

use std::collections::BTreeSet;

use rayon::prelude::*;

use super::{Input, Progress, RunError, Silent, Stage, memory, understand_as, work_one};
use crate::cutting::KnownPlans;
use crate::frozen;
use crate::grid::Grid;
use crate::invariants;
use crate::length::Unit;
use crate::name::{nearest, same_name};
use crate::place::{SheetId, Sheets};
use crate::report::{AsItStands, Choice, Report};
use crate::rules::{AS_IT_STANDS, OptionRow};

/// The choices of a survey, and what is needed to read it as each of them says.
#[derive(Debug, Default)]
pub struct Options {
    /// The choices, in their order.
    pub rows: Vec<OptionRow>,
    /// The place of the one that the run is of; `None` for the survey as it stands.
    pub taken: Option<usize>,
    /// What they are read from; `None` without a choice.
    pub(super) source: Option<Source>,
}

/// All that is read again for a choice.
#[derive(Debug)]
pub(super) struct Source {
    pub earlier: Option<Grid>,
    pub grids: Vec<Grid>,
    pub sheets: Sheets,
    pub unit: Option<Unit>,
}

/// A choice to read a survey with, but for openings of these rows.
#[derive(Clone, Copy, Debug)]
pub(super) struct Chosen<'o> {
    pub row: &'o OptionRow,
    pub but_for: &'o BTreeSet<(SheetId, u32)>,
}

/// The rows of openings of which a blind is ordered: no choice changes what they ask for.
pub(super) fn ordered(input: &Input) -> BTreeSet<(SheetId, u32)> {
    let frozen = frozen::tie(&input.survey, input.earlier.as_ref()).value;
    let openings = input.survey.openings.iter().enumerate();
    let is_ordered = openings.filter(|(opening, _)| frozen.as_ordered(*opening).is_some());
    is_ordered.map(|(_, opening)| (opening.who.at.sheet, opening.who.at.row)).collect()
}

impl Options {
    /// The choice that the run is of.
    pub fn option(&self) -> Option<&OptionRow> {
        self.rows.get(self.taken?)
    }

    /// Where the plans of all of them are remembered.
    pub(super) fn known_plans(&self) -> KnownPlans {
        if self.rows.is_empty() { KnownPlans::default() } else { KnownPlans::remembered() }
    }

    /// The place of a choice.
    ///
    /// # Errors
    /// [`RunError::UnknownOption`] if there is none of that name.
    pub(super) fn find(rows: &[OptionRow], wanted: &str) -> Result<usize, RunError> {
        let names = || rows.iter().map(|row| row.name.as_str());
        names().position(|name| same_name(name, wanted)).ok_or_else(|| RunError::UnknownOption {
            wanted: wanted.to_owned(),
            nearest: nearest(wanted, names()).map(str::to_owned),
            options: names().map(str::to_owned).collect(),
        })
    }
}

/// An error with the choice that it came of.
fn named(option: &str, error: impl Into<RunError>) -> RunError {
    RunError::InOption { option: option.to_owned(), error: Box::new(error.into()) }
}

/// Hands the result of a choice on, once every invariant holds of it; what does not names the choice.
///
/// # Errors
/// [`RunError::InOption`] of a [`RunError::Breach`].
pub fn verified_option<'r>(option: &str, report: Report<'r>) -> Result<Report<'r>, RunError> {
    invariants::hold(&report).map_err(|breach| named(option, breach))?;
    Ok(report)
}

/// The survey as it stands, and every choice compared with it; empty without choices. `report` is that of
/// the run itself.
///
/// # Errors
/// [`RunError`] where a choice, read alone, would stop the run.
pub(super) fn compare(
    input: &Input,
    report: &Report<'_>,
    known: &KnownPlans,
    progress: &dyn Progress,
) -> Result<Vec<Choice>, RunError> {
    let Options { rows, taken, source: Some(source) } = &input.options else { return Ok(Vec::new()) };
    progress.begin(Stage::Comparing);
    let read = |chosen: Option<Chosen<'_>>| {
        understand_as(chosen, source.earlier.as_ref(), &source.grids, source.sheets.clone(), source.unit)
    };
    let (base, but_for) = match taken {
        None => (AsItStands::of(report), ordered(input)),
        Some(_) => {
            let input = read(None)?;
            let report = verified_option(AS_IT_STANDS, work_one(&input, known, &Silent)?)?;
            (AsItStands::of(&report), ordered(&input))
        }
    };
    let but_for = &but_for;
    let choice = |place, row: &OptionRow| {
        let says = row.says.iter().map(|(what, value)| format!("{what}: {value}")).collect();
        let with = |report: &Report<'_>| base.with(&row.name, &row.note, says, report);
        if *taken == Some(place) {
            return Ok(with(report));
        }
        let input = read(Some(Chosen { row, but_for })).map_err(|error| named(&row.name, error))?;
        let report = work_one(&input, known, &Silent).map_err(|error| named(&row.name, error))?;
        Ok(with(&verified_option(&row.name, report)?))
    };
    let numbered: Vec<(usize, &OptionRow)> = rows.iter().enumerate().collect();
    // The first error in their order, whichever comes first in time.
    let choices = numbered.chunks(memory::choices_at_once(&input.survey)).flat_map(|some| {
        some.par_iter().map(|(place, row)| choice(*place, row)).collect::<Vec<Result<Choice, RunError>>>()
    });
    std::iter::once(Ok(base.itself())).chain(choices).collect()
}
