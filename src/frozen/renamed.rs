//! New openings that may be those of ordered blinds whose own openings are gone: their key has changed,
//! and a blind that is ordered already would be ordered once more. They are held until somebody says
//! where the ordered blind goes; nothing is assumed.
//!
//! They are of one kind, and in the same unit and room, or of the same id and room, or in the same unit; the
//! first of these that finds one decides, and each is put together once, in the order of the lines. Only what
//! the row of the blind itself says counts: it is there in every later run too, so that who was held stays so.

use std::collections::{HashMap, HashSet, VecDeque};

use crate::earlier::{Earlier, KeptBlind, KeptIndex, opening_key};
use crate::name::folded;
use crate::query::OpeningIndex;
use crate::schema::choices::Kind;
use crate::survey::{Opening, Survey};

/// What an opening is known by.
struct Traits {
    kind: Kind,
    unit: String,
    room: String,
    id: String,
}

/// By what two openings may be the same, the most telling first.
const TELLING: [fn(&Traits) -> Option<String>; 3] = [
    |it| Some(format!("{} {}\u{1f}{}", it.kind, it.unit, it.room)),
    |it| (!it.id.is_empty()).then(|| format!("{} {}\u{1f}{}", it.kind, it.id, it.room)),
    |it| Some(format!("{} {}", it.kind, it.unit)),
];

/// For ordered blinds whose openings are gone the new opening that each may be for.
pub(super) fn may_be(
    survey: &Survey,
    earlier: &Earlier,
    gone: &[KeptIndex],
) -> Vec<(OpeningIndex, KeptIndex)> {
    if gone.is_empty() {
        return Vec::new();
    }
    // It is looked up only, never walked.
    let of_no_id = |blind: &KeptBlind| opening_key(&blind.building, &blind.unit, &blind.opening);
    let known: HashSet<String> =
        earlier.blinds.iter().map(|blind| blind.key().unwrap_or_else(|| of_no_id(blind))).collect();
    let is_new = |opening: &Opening| {
        let who = &opening.who;
        let id = if who.written.is_empty() { &who.name } else { &who.written };
        !known.contains(&opening_key(&who.building, &who.unit, id))
    };
    let openings = survey.openings.iter().enumerate().filter(|(_, opening)| is_new(opening));
    let mut new: Vec<(OpeningIndex, Traits)> =
        openings.filter_map(|(index, opening)| Some((index, of_opening(opening)?))).collect();
    let mut met = HashSet::new();
    let traits = |&kept: &KeptIndex| {
        let blind = &earlier.blinds[kept];
        blind.key().filter(|key| met.insert(key.clone()))?;
        Some((kept, of_blind(blind)?))
    };
    let mut gone: Vec<(KeptIndex, Traits)> = gone.iter().filter_map(traits).collect();
    let mut found = Vec::new();
    for telling in TELLING {
        let mut alike: HashMap<String, VecDeque<OpeningIndex>> = HashMap::new();
        for (index, traits) in &new {
            if let Some(key) = telling(traits) {
                alike.entry(key).or_default().push_back(*index);
            }
        }
        let mut taken = HashSet::new();
        gone.retain(|(kept, traits)| {
            let twin = telling(traits).and_then(|key| alike.get_mut(&key)?.pop_front());
            if let Some(twin) = twin {
                found.push((twin, *kept));
                taken.insert(twin);
            }
            twin.is_none()
        });
        new.retain(|(index, _)| !taken.contains(index));
    }
    found
}

fn of_opening(opening: &Opening) -> Option<Traits> {
    let who = &opening.who;
    let kind = opening.facts.as_ref()?.kind;
    Some(Traits { kind, unit: folded(&who.unit), room: folded(&who.room), id: folded(&who.written) })
}

fn of_blind(blind: &KeptBlind) -> Option<Traits> {
    let (unit, room, id) = (folded(&blind.unit), folded(&blind.room), folded(&blind.id));
    Some(Traits { kind: blind.kind?, unit, room, id })
}
