//! New openings that may be those of ordered blinds whose own openings are gone: their key has changed,
//! and a blind that is ordered already would be ordered once more. They are held until somebody says
//! where the ordered blind goes; nothing is assumed.
//!
//! They are of one kind, and in the same unit and room, of the same sizes, or in the same unit; the first
//! of these that finds one decides, and each is put together once, in the order of the lines.

use std::collections::{HashMap, HashSet, VecDeque};

use crate::earlier::{Earlier, KeptBlind, KeptIndex, KeptOpening, least, opening_key};
use crate::length::Length;
use crate::name::folded;
use crate::query::OpeningIndex;
use crate::schema::choices::Kind;
use crate::schema::openings::{HEIGHTS, WIDTHS};
use crate::survey::{Opening, Survey};

/// What an opening is known by beside its key.
struct Traits {
    kind: Kind,
    unit: String,
    room: String,
    sizes: Option<(Length, Length)>,
}

/// By what two openings may be the same, the most telling first.
const TELLING: [fn(&Traits) -> Option<String>; 3] = [
    |it| Some(format!("{} {} \u{1f}{}", it.kind, it.unit, it.room)),
    |it| it.sizes.map(|(width, height)| format!("{} {} {}", it.kind, width.nm(), height.nm())),
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
    // All of these are looked up only, never walked.
    let surveyed: HashMap<String, &KeptOpening> =
        earlier.surveyed.iter().filter_map(|opening| Some((opening.key()?, opening))).collect();
    let ordered: HashSet<String> = earlier.blinds.iter().filter_map(KeptBlind::key).collect();
    let is_new = |opening: &Opening| {
        let who = &opening.who;
        let key = opening_key(&who.building, &who.unit, &who.written);
        !surveyed.contains_key(&key) && !ordered.contains(&key)
    };
    let openings = survey.openings.iter().enumerate().filter(|(_, opening)| is_new(opening));
    let mut new: Vec<(OpeningIndex, Traits)> =
        openings.filter_map(|(index, opening)| Some((index, of_opening(opening)?))).collect();
    let mut met = HashSet::new();
    let traits = |&kept: &KeptIndex| {
        let blind = &earlier.blinds[kept];
        let key = blind.key().filter(|key| met.insert(key.clone()))?;
        Some((kept, of_blind(blind, surveyed.get(&key).copied())?))
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
    let facts = opening.facts.as_ref()?;
    Some(Traits {
        kind: facts.kind,
        unit: folded(&opening.who.unit),
        room: folded(&opening.who.room),
        sizes: Some((facts.width.least().value, facts.height.least().value)),
    })
}

fn of_blind(blind: &KeptBlind, surveyed: Option<&KeptOpening>) -> Option<Traits> {
    let size = |columns| surveyed.and_then(|opening| least(columns, |column| opening.said(column)));
    Some(Traits {
        kind: blind.kind?,
        unit: folded(&blind.unit),
        room: folded(&blind.room),
        sizes: size(&WIDTHS[..]).zip(size(&HEIGHTS[..])),
    })
}
