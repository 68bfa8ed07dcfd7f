//! Openings that are gone and openings that are new, which may be the same under another name: of one
//! kind, and in the same room, of the same sizes or in the same unit. It is asked, never assumed.
//!
//! The more two of them share, the sooner they are put together; each is put together once, in survey order.

use std::collections::{BTreeMap, BTreeSet, HashMap, VecDeque};

use super::memory::Memory;
use super::place::{Place, PlaceIndex};

/// What two openings share, the most telling first.
#[derive(Clone, Copy)]
struct Shared {
    unit: bool,
    room: bool,
    sizes: bool,
}

const SHARED: [Shared; 7] = [
    Shared { unit: true, room: true, sizes: true },
    Shared { unit: true, room: false, sizes: true },
    Shared { unit: true, room: true, sizes: false },
    Shared { unit: false, room: true, sizes: true },
    Shared { unit: false, room: false, sizes: true },
    Shared { unit: true, room: false, sizes: false },
    Shared { unit: false, room: true, sizes: false },
];

/// For openings that are gone the new ones that they may be.
pub fn of(
    then: &Memory<'_>,
    gone: &[PlaceIndex],
    now: &Memory<'_>,
    new: &[PlaceIndex],
) -> BTreeMap<PlaceIndex, PlaceIndex> {
    let mut twins = BTreeMap::new();
    let (mut gone, mut new) = (gone.to_vec(), new.to_vec());
    for shared in SHARED {
        // Looked up only, never walked.
        let mut alike: HashMap<String, VecDeque<PlaceIndex>> = HashMap::new();
        for &index in &new {
            if let Some(key) = shared.key(now.openings[index]) {
                alike.entry(key).or_default().push_back(index);
            }
        }
        gone.retain(|&index| {
            let key = shared.key(then.openings[index]);
            match key.and_then(|key| alike.get_mut(&key)?.pop_front()) {
                Some(twin) => {
                    twins.insert(index, twin);
                    false
                }
                None => true,
            }
        });
        let taken: BTreeSet<PlaceIndex> = twins.values().copied().collect();
        new.retain(|index| !taken.contains(index));
    }
    twins
}

impl Shared {
    /// What of an opening must be the same; `None` where it does not say all of that.
    fn key(self, place: Place<'_>) -> Option<String> {
        let mut key = place.kind()?.to_string();
        let mut add = |part: String| {
            key.push('\u{1e}');
            key.push_str(&part);
        };
        if self.unit {
            add(place.unit()?);
        }
        if self.room {
            add(place.room()?);
        }
        if self.sizes {
            let (width, height) = place.sizes()?;
            add(format!("{} {}", width.nm(), height.nm()));
        }
        Some(key)
    }
}
