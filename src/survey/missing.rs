//! Units that lack one opening which all units like them have: it was probably left out on the day.
//!
//! Units are alike if their openings stand at the same positions ([`position_in_id`]) of the same
//! rooms: above one another in a building where their names say so and there are enough of them,
//! else anywhere in it. A unit is asked about if no other has just its openings, and four at least
//! have these and the same one more. Natural plans come in numbers, so that a smaller plan is no slip.

use std::collections::{BTreeMap, HashMap};

use rayon::prelude::*;

use crate::name::folded;
use crate::query::{OpeningIndex, Query};
use crate::schema::openings::UNIT;

use super::file::Row;
use super::peers::{place_on_floor, position_in_id};
use super::queries::SurveyQuery;
use super::{Identity, Opening};

/// Fewer units that have an opening say nothing of one that has not (common practice, no source).
const LEAST_PEERS: usize = 4;
/// A unit with fewer openings is like too many others (common practice, no source).
const LEAST_OPENINGS: usize = 2;
/// What has more openings is no unit but a floor or a building under one name (common practice, no
/// source). It also bounds the work.
const MOST_OPENINGS: usize = 100;

/// A check for each unit that lacks an opening, in survey order.
pub(super) fn ask(rows: &[Row<'_>], openings: &[Opening]) -> Vec<Query> {
    let (units, positions) = units(openings);
    let mut lacking: Vec<(&Unit, Position, usize)> =
        groups(&units).values().flat_map(|of| lacking(of)).collect();
    lacking.sort_unstable_by_key(|(unit, ..)| unit.first);
    let query = |(unit, position, peers): (&Unit, Position, usize)| {
        let (row, name) = (&rows[unit.first], &openings[unit.first].who.unit);
        let at = row.joined.entry(&UNIT).map_or(row.at(), |entry| entry.at);
        let query = Query::new(&SurveyQuery::OpeningMissing, Some(at)).about(unit.first);
        query.with_detail(format!("{name} has no {}, as {peers} others have", positions[position]))
    };
    lacking.into_iter().map(query).collect()
}

/// A unit and where its openings stand.
struct Unit {
    first: OpeningIndex,
    building: String,
    /// Its own place on its floor; empty where its name does not say.
    stack: String,
    /// Rising.
    openings: Vec<Position>,
}

/// Where an opening stands in its unit, as counted in survey order.
type Position = usize;

/// The units in survey order, and what each position is called.
fn units(openings: &[Opening]) -> (Vec<Unit>, Vec<String>) {
    let spots: Vec<(String, String, String)> = openings
        .par_iter()
        .map(|Opening { who, .. }| (folded(&who.building), folded(&who.unit), place_in_unit(who)))
        .collect();
    let (mut units, mut called): (Vec<Unit>, Vec<String>) = Default::default();
    let mut by_name: HashMap<(&str, &str), usize> = HashMap::new();
    let mut met: HashMap<(usize, &str), usize> = HashMap::new();
    let mut numbers: HashMap<(&str, usize), Position> = HashMap::new();
    for (index, (building, unit, place)) in spots.iter().enumerate().filter(|(_, spot)| !spot.1.is_empty()) {
        let at = *by_name.entry((building, unit)).or_insert(units.len());
        if at == units.len() {
            let stack = place_on_floor(unit);
            units.push(Unit { first: index, building: building.clone(), stack, openings: Vec::new() });
        }
        // A second one at the same place is an opening of its own.
        let count = met.entry((at, place)).or_insert(0);
        *count += 1;
        let position = *numbers.entry((place, *count)).or_insert(called.len());
        if position == called.len() {
            called.push(called_at(&openings[index].who, *count));
        }
        units[at].openings.push(position);
    }
    for unit in &mut units {
        unit.openings.sort_unstable();
    }
    (units, called)
}

/// Where an opening stands in its unit: what its id says, and its room. Two plans may give one id to
/// doors of different rooms.
fn place_in_unit(who: &Identity) -> String {
    format!("{}\u{1f}{}", position_in_id(who).unwrap_or_default(), folded(&who.room))
}

fn called_at(who: &Identity, count: usize) -> String {
    let name = match position_in_id(who) {
        Some(position) if folded(&who.written) == position => who.written.to_string(),
        Some(position) => position.to_uppercase(),
        None if who.room.is_empty() => "opening".to_owned(),
        None => format!("opening in {}", who.room),
    };
    if count == 1 { name } else { format!("{name} ({count})") }
}

/// The units that are held against one another: those of a stack, if there are enough of them, else
/// those of a building.
fn groups(units: &[Unit]) -> BTreeMap<(&str, &str), Vec<&Unit>> {
    let mut stacks: BTreeMap<(&str, &str), Vec<&Unit>> = BTreeMap::new();
    for unit in units {
        stacks.entry((&unit.building, &unit.stack)).or_default().push(unit);
    }
    let mut groups: BTreeMap<(&str, &str), Vec<&Unit>> = BTreeMap::new();
    for ((building, stack), units) in stacks {
        let own = if units.len() > LEAST_PEERS { stack } else { "" };
        groups.entry((building, own)).or_default().extend(units);
    }
    groups
}

/// The units of a group that lack an opening, with its position and how many have it.
fn lacking<'u>(units: &[&'u Unit]) -> Vec<(&'u Unit, Position, usize)> {
    let mut plans: BTreeMap<&[Position], Vec<&'u Unit>> = BTreeMap::new();
    for unit in units.iter().filter(|unit| unit.openings.len() <= MOST_OPENINGS) {
        plans.entry(&unit.openings).or_default().push(unit);
    }
    // What is left of a plan without one of its openings, and which; nothing where two plans leave the same.
    let mut lessened: HashMap<Vec<Position>, Option<(Position, usize)>> = HashMap::new();
    for (plan, units) in plans.iter().filter(|(_, units)| units.len() >= LEAST_PEERS) {
        for (at, position) in plan.iter().enumerate() {
            let rest = [&plan[..at], &plan[at + 1..]].concat();
            let lacks = Some((*position, units.len()));
            lessened.entry(rest).and_modify(|known| *known = None).or_insert(lacks);
        }
    }
    let alone = plans.iter().filter_map(|(plan, units)| match units.as_slice() {
        [unit] if plan.len() >= LEAST_OPENINGS => Some((*plan, *unit)),
        _ => None,
    });
    let lacks = |(plan, unit)| lessened.get(plan).copied().flatten().map(|(at, peers)| (unit, at, peers));
    alone.filter_map(lacks).collect()
}
