//! Floors whose every size repeats another floor's: copied, not measured.
//!
//! Where every floor is built alike, a drawing's sizes repeat from floor to floor, and those of a
//! list of types; what a tape shows never does in every opening. So a floor is held against others
//! only if four openings of it at least show that they were taped one by one: readings at several
//! places that differ, or sizes finer than a drawing's that no other opening of the floor has.

use std::collections::{BTreeMap, HashMap};

use rayon::prelude::*;

use crate::length::{Length, Units};
use crate::name::folded;
use crate::query::{OpeningIndex, Query};
use crate::schema::openings::FLOOR;

use super::file::Row;
use super::peers::from_type;
use super::queries::SurveyQuery;
use super::{Facts, Measured, Opening, SizeSource};

/// Fewer taped openings may repeat by chance (common practice, no source).
const LEAST_TAPED: usize = 4;
/// What the sizes of drawings and catalogs are mostly whole multiples of, in inches and in
/// millimeters (common practice, no source).
const DRAWN_STEP_IN: Length = Length::sixty_fourths(16);
const DRAWN_STEP_MM: Length = Length::from_mm(5);

/// A check for each floor that repeats an earlier one, in survey order.
pub(super) fn ask(rows: &[Row<'_>], openings: &[Opening], units: Units) -> Vec<Query> {
    let mut floors: BTreeMap<(String, String), Vec<OpeningIndex>> = BTreeMap::new();
    for (index, Opening { who, .. }) in
        openings.iter().enumerate().filter(|(_, opening)| !opening.who.floor.is_empty())
    {
        floors.entry((folded(&who.building), folded(&who.floor))).or_default().push(index);
    }
    let mut floors: Vec<Vec<OpeningIndex>> = floors.into_values().collect();
    floors.sort_unstable();
    let taped: Vec<Option<Vec<Reading>>> = floors
        .par_iter()
        .map(|floor| is_taped(floor, rows, openings, units).then(|| readings(floor, openings)))
        .collect();
    let mut first: HashMap<&[Reading], OpeningIndex> = HashMap::new();
    let mut asked = Vec::new();
    for (floor, readings) in floors.iter().zip(&taped) {
        let (Some(&index), Some(readings)) = (floor.first(), readings) else { continue };
        let original = *first.entry(readings).or_insert(index);
        if original == index {
            continue;
        }
        let at = rows[index].joined.entry(&FLOOR).map_or(rows[index].at(), |entry| entry.at);
        let [own, other] = [index, original].map(|index| called(&openings[index]));
        let query = Query::new(&SurveyQuery::FloorCopied, Some(at)).about(index);
        asked.push(query.with_detail(format!("floor {own} repeats floor {other}: {} openings", floor.len())));
    }
    asked
}

/// A floor, and its building if it has one.
fn called(opening: &Opening) -> String {
    let who = &opening.who;
    if who.building.is_empty() { who.floor.to_string() } else { format!("{} of {}", who.floor, who.building) }
}

/// One size of a floor, or where those of an opening end.
#[derive(Clone, Copy, PartialEq, Eq, Hash)]
enum Reading {
    Width(Length),
    Height(Length),
    Diagonal(Length),
    Held,
    End,
}

/// Every size of a floor, opening by opening as they are listed.
fn readings(floor: &[OpeningIndex], openings: &[Opening]) -> Vec<Reading> {
    let mut readings = Vec::new();
    for &index in floor {
        match &openings[index].facts {
            Some(facts) => {
                readings.extend(facts.width.all().map(|width| Reading::Width(width.value)));
                readings.extend(facts.height.all().map(|height| Reading::Height(height.value)));
                let diagonals = facts.diagonals.into_iter().flatten();
                readings.extend(diagonals.map(|diagonal| Reading::Diagonal(diagonal.value)));
            }
            None => readings.push(Reading::Held),
        }
        readings.push(Reading::End);
    }
    readings
}

/// Whether enough openings of a floor show that they were measured one by one.
fn is_taped(floor: &[OpeningIndex], rows: &[Row<'_>], openings: &[Opening], units: Units) -> bool {
    let sizes = |facts: &Facts| (facts.width.least().value, facts.height.least().value);
    let mut alike: HashMap<(Length, Length), usize> = HashMap::new();
    let known = || floor.iter().filter_map(|&index| Some((index, openings[index].facts.as_deref()?)));
    for (_, facts) in known() {
        *alike.entry(sizes(facts)).or_insert(0) += 1;
    }
    let step = match units {
        Units::Inches => DRAWN_STEP_IN,
        Units::Millimeters => DRAWN_STEP_MM,
    };
    let is_fine = |length: Length| length.nm() % step.nm() != 0;
    let differs = |size: &Measured| size.least().value != size.most().value;
    let taped = known().filter(|(index, facts)| {
        let (width, height) = sizes(facts);
        let own = [facts.width.least(), facts.height.least()];
        let is_own = !own.into_iter().any(|given| from_type(rows[*index].joined, given));
        let is_one = openings[*index].who.quantity == 1 && facts.source == SizeSource::Tape;
        let shows = differs(&facts.width)
            || differs(&facts.height)
            || (is_fine(width) || is_fine(height)) && alike[&(width, height)] == 1;
        is_own && is_one && shows
    });
    taped.count() >= LEAST_TAPED
}
