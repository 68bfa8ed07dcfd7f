//! What each opening is called: known by building, unit and id, shown by the shortest of `id`,
//! `unit/id` and `building/unit/id` that no other opening of the run is shown by.
//!
//! A mark that lists several openings (`W7/W8`, `W1-W4`) is one opening and a check, unless the
//! quantity says as many; a note that wants no blind (`omitted`, `by others`) is a check: only a
//! person strikes an opening out.

use std::collections::{HashMap, HashSet};
use std::sync::Arc;

use rayon::prelude::*;

use crate::name::folded;
use crate::query::OpeningIndex;

use super::Identity;

/// The openings of the run, each with a name of its own.
pub(super) struct Named {
    /// The openings, named.
    pub openings: Vec<Identity>,
    /// For each opening another one with the same building, unit and id, if there is one. Case
    /// and the width of spaces make no difference: a label on a box would not show them.
    pub twins: Vec<Option<OpeningIndex>>,
}

impl Named {
    /// Names every opening. Those that no name tells apart are shown with `row_of` their place.
    pub fn new(mut openings: Vec<Identity>, row_of: impl Fn(OpeningIndex) -> String) -> Named {
        let keys: Vec<Option<String>> = openings
            .par_iter()
            .map(|opening| (!opening.written.is_empty()).then(|| key(opening, &opening.written)))
            .collect();
        let twins = twins(&keys);
        let ids = ids(&openings, &keys);
        let names = names(&openings, &ids, row_of);
        for (opening, name) in openings.iter_mut().zip(names) {
            opening.name = name;
        }
        Named { openings, twins }
    }
}

/// Building, unit and id as keys are compared.
fn key(opening: &Identity, id: &str) -> String {
    [&*opening.building, &*opening.unit, id].map(folded).join("\u{1f}")
}

fn twins(keys: &[Option<String>]) -> Vec<Option<OpeningIndex>> {
    let mut twins = vec![None; keys.len()];
    let mut first = HashMap::with_capacity(keys.len());
    for (index, key) in keys.iter().enumerate() {
        let Some(key) = key else { continue };
        let first = *first.entry(key.as_str()).or_insert(index);
        if first != index {
            twins[index] = Some(first);
            twins[first].get_or_insert(index);
        }
    }
    twins
}

/// An opening's id: as written, or made from its unit.
struct Id {
    text: Arc<str>,
    from_unit: bool,
}

/// Every opening's id. A blank one becomes the unit and a running number, counted within building
/// and unit in survey order and passing over numbers that another row has written itself.
fn ids(openings: &[Identity], keys: &[Option<String>]) -> Vec<Id> {
    let mut written: Option<HashSet<&str>> = None;
    let mut counters: HashMap<String, u32> = HashMap::new();
    let mut id = |(opening, own): (&Identity, &Option<String>)| {
        if own.is_some() {
            return Id { text: Arc::clone(&opening.written), from_unit: false };
        }
        let written = written.get_or_insert_with(|| keys.iter().flatten().map(String::as_str).collect());
        let counter = counters.entry(key(opening, "")).or_insert(0);
        loop {
            *counter += 1;
            let text = format!("{} {counter}", opening.shown_unit());
            if !written.contains(key(opening, &text).as_str()) {
                return Id { text: Arc::from(text), from_unit: true };
            }
        }
    };
    openings.iter().zip(keys).map(&mut id).collect()
}

/// How much of its key an opening's name shows.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Extent {
    Id,
    UnitAndId,
    BuildingUnitAndId,
}

impl Extent {
    fn next(self) -> Option<Extent> {
        match self {
            Extent::Id => Some(Extent::UnitAndId),
            Extent::UnitAndId => Some(Extent::BuildingUnitAndId),
            Extent::BuildingUnitAndId => None,
        }
    }

    fn of(self, opening: &Identity, id: &Id) -> Arc<str> {
        let text = &id.text;
        match (self, id.from_unit) {
            // An id made from the unit does not show the unit twice.
            (Extent::Id, _) | (Extent::UnitAndId, true) => Arc::clone(text),
            (Extent::BuildingUnitAndId, true) if opening.building.is_empty() => Arc::clone(text),
            (Extent::BuildingUnitAndId, true) => format!("{}/{text}", opening.building).into(),
            (Extent::BuildingUnitAndId, false) if !opening.building.is_empty() => {
                format!("{}/{}/{text}", opening.building, opening.shown_unit()).into()
            }
            (Extent::UnitAndId | Extent::BuildingUnitAndId, false) => {
                format!("{}/{text}", opening.shown_unit()).into()
            }
        }
    }
}

/// Names that clash show more of their key, until none do or there is no more to show.
fn names(openings: &[Identity], ids: &[Id], row_of: impl Fn(OpeningIndex) -> String) -> Vec<Arc<str>> {
    let mut extents = vec![Extent::Id; openings.len()];
    let mut names: Vec<Arc<str>> = ids.iter().map(|id| Arc::clone(&id.text)).collect();
    loop {
        let clashing = clashing(&names);
        let longer: Vec<(OpeningIndex, Extent)> =
            clashing.iter().filter_map(|&index| Some((index, extents[index].next()?))).collect();
        if longer.is_empty() {
            tell_apart_by_row(&mut names, &clashing, row_of);
            return names;
        }
        for (index, extent) in longer {
            extents[index] = extent;
            names[index] = extent.of(&openings[index], &ids[index]);
        }
    }
}

/// The openings whose name is that of another, in order.
fn clashing(names: &[Arc<str>]) -> Vec<OpeningIndex> {
    let folded: Vec<String> = names.par_iter().map(|name| folded(name)).collect();
    let mut counts: HashMap<&str, u32> = HashMap::with_capacity(names.len());
    for name in &folded {
        *counts.entry(name).or_insert(0) += 1;
    }
    (0..names.len()).filter(|&index| counts[folded[index].as_str()] > 1).collect()
}

fn tell_apart_by_row(
    names: &mut [Arc<str>],
    clashing: &[OpeningIndex],
    row_of: impl Fn(OpeningIndex) -> String,
) {
    if clashing.is_empty() {
        return;
    }
    let mut used: HashSet<String> = names.iter().map(|name| folded(name)).collect();
    for &index in clashing {
        let by_row = format!("{} ({})", names[index], row_of(index));
        let mut name = by_row.clone();
        // Two files of the same name may hold the same row.
        for copy in 2_u32.. {
            if used.insert(folded(&name)) {
                break;
            }
            name = format!("{by_row} ({copy})");
        }
        names[index] = Arc::from(name);
    }
}
