//! Openings by the window of sizes that they take.
//!
//! Openings of one window are compared at once, and windows are found by drop and width, so that each
//! blind of a large building takes hardly longer than one of a small building. Where very many windows
//! overlap, only the nearest are looked at, and whoever asks is told.

use std::collections::BTreeMap;

use crate::length::Length;
use crate::query::OpeningIndex;
use crate::sizing::{Size, SizeWindow};

/// Windows, and openings, that are compared for blinds alike at most.
pub const MOST_COMPARED: usize = 5_000;

/// Openings of one sort and one window, in survey order.
pub(super) struct Alike {
    /// The window.
    pub window: SizeWindow,
    /// Those that lack an ordered blind.
    pub open: Vec<OpeningIndex>,
    /// Those whose blinds are all ordered.
    pub ordered: Vec<OpeningIndex>,
}

impl Alike {
    /// No opening yet.
    pub(super) fn of(window: SizeWindow) -> Alike {
        Alike { window, open: Vec::new(), ordered: Vec::new() }
    }

    /// How many openings.
    pub(super) fn count(&self) -> usize {
        self.open.len() + self.ordered.len()
    }
}

/// The openings of one sort, to be found by their windows.
#[derive(Default)]
pub(super) struct Windows {
    alike: Vec<Alike>,
    /// For each band of drops the windows that reach into it.
    bands: BTreeMap<i64, Band>,
}

/// Windows that reach into one band of drops.
#[derive(Default)]
struct Band {
    /// Their places, by the least width.
    windows: Vec<usize>,
    /// How much the broadest of them takes between its least width and its most.
    broadest: Length,
}

/// About as much as a window leaves a drop.
const BAND: Length = Length::inches(10);

fn band(drop: Length) -> i64 {
    drop.nm().div_euclid(BAND.nm())
}

impl Windows {
    /// Windows in any order.
    pub(super) fn of(mut alike: Vec<Alike>) -> Windows {
        alike.sort_by_key(|alike| alike.window.least().width);
        let mut bands: BTreeMap<i64, Band> = BTreeMap::new();
        for (place, Alike { window, .. }) in alike.iter().enumerate() {
            for reached in band(window.least().drop)..=band(window.most().drop) {
                let band = bands.entry(reached).or_default();
                band.windows.push(place);
                band.broadest = band.broadest.max(window.most().width - window.least().width);
            }
        }
        Windows { alike, bands }
    }

    /// The windows that take a size, and whether all were looked at that might.
    pub(super) fn taking(&self, size: Size) -> (Vec<&Alike>, bool) {
        let Some(band) = self.bands.get(&band(size.drop)) else { return (Vec::new(), true) };
        let least = |place: usize| self.alike[place].window.least().width;
        let end = band.windows.partition_point(|&place| least(place) <= size.width);
        let near = band.windows[..end].iter().rev().copied();
        let mut near = near.take_while(|&place| size.width - least(place) <= band.broadest);
        let compared = near.by_ref().take(MOST_COMPARED).map(|place| &self.alike[place]);
        let taking = compared.filter(|alike| alike.window.takes(size)).collect();
        (taking, near.next().is_none())
    }
}

/// How far a size is off the one that a window prefers, width and drop together.
pub(super) fn off(window: SizeWindow, size: Size) -> Length {
    let wanted = window.preferred();
    (size.width - wanted.width).abs() + (size.drop - wanted.drop).abs()
}
