//! The pictures of a report: one for each elevation that differs from the others.

use std::collections::BTreeMap;

use rayon::prelude::*;

use super::DrawingError;
use super::elevation::Elevation;
use super::layout;
use super::letters::Letters;
use super::picture::Picture;
use crate::query::OpeningIndex;
use crate::report::Report;

/// Every picture once, in the order in which the survey first needs it, and which is whose.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Pictures {
    /// The pictures; no two show the same elevation.
    pub distinct: Vec<Picture>,
    /// One place for each opening of the survey: its picture's position, or `None` where it is held.
    pub of_opening: Vec<Option<usize>>,
}

impl Pictures {
    /// Draws a report's openings, on all cores; the result does not depend on how many there are.
    ///
    /// # Errors
    /// If the bundled font cannot be read, or dots cannot be put into a file.
    pub fn of(report: &Report<'_>) -> Result<Pictures, DrawingError> {
        let letters = Letters::new()?;
        let elevations: Vec<Option<Elevation>> = (0..report.survey.openings.len())
            .into_par_iter()
            .map(|opening| elevation(report, opening))
            .collect();
        let mut places: BTreeMap<&Elevation, usize> = BTreeMap::new();
        let mut distinct: Vec<&Elevation> = Vec::new();
        let mut of_opening = Vec::with_capacity(elevations.len());
        for elevation in &elevations {
            of_opening.push(elevation.as_ref().map(|elevation| {
                *places.entry(elevation).or_insert_with(|| {
                    distinct.push(elevation);
                    distinct.len() - 1
                })
            }));
        }
        let units = report.rules.project.units;
        let drawn: Result<Vec<Picture>, DrawingError> =
            distinct.par_iter().map(|elevation| layout::picture(elevation, units, &letters)).collect();
        Ok(Pictures { distinct: drawn?, of_opening })
    }
}

/// An opening with its blind; `None` where it is held.
pub fn elevation(report: &Report<'_>, opening: OpeningIndex) -> Option<Elevation> {
    let blind = report.blinds.get(opening)?.as_ref()?;
    let facts = report.survey.openings.get(opening)?.facts.as_ref()?;
    Some(Elevation::of(blind, facts, &report.rules.project))
}
