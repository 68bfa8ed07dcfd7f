//! What each opening is called: known by building, unit and id, shown by the shortest of `id`,
//! `unit/id` and `building/unit/id` that no other opening of the run is shown by.
//!
//! A type that a list of types with counts lists again is so many openings more, not the same
//! opening twice: its rows are told apart by a number, `P1` and `P1 (2)`, with a check.
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
    /// The first row of each type that a list of types with counts has again, and how many there are.
    pub repeated: Vec<(OpeningIndex, u32)>,
}

impl Named {
    /// Names every opening; `of_types` are the rows of lists of types with counts. Those that no name
    /// tells apart are shown with `row_of` their place.
    pub fn new(
        mut openings: Vec<Identity>,
        of_types: &[bool],
        row_of: impl Fn(OpeningIndex) -> String,
    ) -> Named {
        let keys: Vec<Option<String>> = openings
            .par_iter()
            .map(|opening| (!opening.written.is_empty()).then(|| key(opening, &opening.written)))
            .collect();
        let twins = twins(&keys, of_types);
        let (ids, repeated) = ids(&openings, &keys, of_types);
        let names = names(&openings, &ids, row_of);
        for (opening, name) in openings.iter_mut().zip(names) {
            opening.name = name;
        }
        Named { openings, twins, repeated }
    }
}

/// Building, unit and id as keys are compared.
fn key(opening: &Identity, id: &str) -> String {
    [&*opening.building, &*opening.unit, id].map(folded).join("\u{1f}")
}

fn twins(keys: &[Option<String>], of_types: &[bool]) -> Vec<Option<OpeningIndex>> {
    let mut twins = vec![None; keys.len()];
    let mut first = HashMap::with_capacity(keys.len());
    for (index, (key, of_type)) in keys.iter().zip(of_types).enumerate() {
        let Some(key) = key.as_ref().filter(|_| !of_type) else { continue };
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
/// and unit in survey order; a type's that is listed again gets a number behind it. Both pass over
/// what another row has written itself. With the ids come the types that are listed again.
fn ids(
    openings: &[Identity],
    keys: &[Option<String>],
    of_types: &[bool],
) -> (Vec<Id>, Vec<(OpeningIndex, u32)>) {
    let mut written: Option<HashSet<&str>> = None;
    let mut counters: HashMap<String, u32> = HashMap::new();
    let mut listed: HashMap<&str, Listed> = HashMap::new();
    let mut ids = Vec::with_capacity(openings.len());
    for (index, (opening, own)) in openings.iter().zip(keys).enumerate() {
        let mut is_written = |text: &str| {
            let written = written.get_or_insert_with(|| keys.iter().flatten().map(String::as_str).collect());
            written.contains(key(opening, text).as_str())
        };
        let text = match own {
            Some(own) if of_types[index] => {
                let listed = listed.entry(own).or_insert(Listed { first: index, rows: 0, number: 0 });
                listed.rows += 1;
                numbered(&mut listed.number, |number| match number {
                    1 => Some(Arc::clone(&opening.written)),
                    _ => Some(Arc::from(format!("{} ({number})", opening.written)))
                        .filter(|text| !is_written(text)),
                })
            }
            Some(_) => Arc::clone(&opening.written),
            None => numbered(counters.entry(key(opening, "")).or_insert(0), |number| {
                let text = format!("{} {number}", opening.shown_unit());
                Some(Arc::from(text)).filter(|text| !is_written(text))
            }),
        };
        ids.push(Id { text, from_unit: own.is_none() });
    }
    let mut repeated: Vec<(OpeningIndex, u32)> = listed
        .into_values()
        .filter(|listed| listed.rows > 1)
        .map(|listed| (listed.first, listed.rows))
        .collect();
    repeated.sort_unstable();
    (ids, repeated)
}

/// The rows of one type in lists of types with counts.
struct Listed {
    first: OpeningIndex,
    rows: u32,
    /// The last number given to one of them.
    number: u32,
}

/// The text with the next number that may be used.
fn numbered(counter: &mut u32, mut text: impl FnMut(u32) -> Option<Arc<str>>) -> Arc<str> {
    loop {
        *counter += 1;
        if let Some(text) = text(*counter) {
            return text;
        }
    }
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
