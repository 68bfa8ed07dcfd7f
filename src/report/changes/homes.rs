//! Which opening each blind was meant for, and at which it hangs or will, among the openings of one time.

use std::collections::HashMap;

use super::place::{Place, PlaceIndex};
use crate::earlier::KeptBlind;
use crate::frozen::BoundFor;
use crate::name::squeezed;

/// The openings by their keys and names, as what is ordered is tied to them. Looked up only, never walked.
pub struct Homes {
    /// Of each opening.
    keys: Vec<String>,
    by_key: HashMap<String, PlaceIndex>,
    shown: HashMap<String, PlaceIndex>,
}

impl Homes {
    /// Of all openings of one time.
    pub fn of(openings: &[Place<'_>]) -> Homes {
        let keys: Vec<String> = openings.iter().map(|place| place.key()).collect();
        let mut by_key = HashMap::with_capacity(keys.len());
        for (index, key) in keys.iter().enumerate() {
            by_key.entry(key.clone()).or_insert(index);
        }
        let shown = openings.iter().enumerate().map(|(index, place)| (squeezed(place.name()), index));
        Homes { keys, by_key, shown: shown.collect() }
    }

    /// The opening that a blind was meant for; of several of one key the first.
    pub fn home(&self, kept: &KeptBlind) -> Option<PlaceIndex> {
        match kept.key() {
            Some(key) => self.by_key.get(&key).copied(),
            None => self.named(&kept.opening),
        }
    }

    /// The opening for which a blind was worked out together with these: of several of one key that of its
    /// name.
    pub fn printed(&self, kept: &KeptBlind) -> Option<PlaceIndex> {
        let named = self.named(&kept.opening);
        named
            .filter(|&index| kept.key().is_none_or(|key| self.keys[index] == key))
            .or_else(|| self.home(kept))
    }

    fn named(&self, name: &str) -> Option<PlaceIndex> {
        self.shown.get(&squeezed(name)).copied()
    }

    /// The opening that a blind which is ordered hangs at, or will.
    pub fn at(&self, kept: &KeptBlind) -> Option<PlaceIndex> {
        match kept.bound_for() {
            _ if !kept.is_wanted() => None,
            BoundFor::Home => self.home(kept),
            BoundFor::Store => None,
            // Until somebody says where it goes, nothing is ordered in its place.
            BoundFor::Named(name) => self.named(name).or_else(|| self.home(kept)),
        }
    }
}
