//! How many brackets, and where. Each center is rounded by itself, half away from zero.

use std::sync::Arc;

use super::heights::Heights;
use super::overlap::Overlaps;
use crate::length::Length;
use crate::rules::CoverRules;
use crate::sizing::Sizing;
use crate::worked::{Number, Record, Source};

/// The brackets of one blind.
#[derive(Clone, Debug)]
pub struct Brackets {
    /// The bracket's item.
    pub item: Arc<str>,
    /// Centers from the left end of the rail; two at the least.
    pub from_left: Vec<Length>,
    /// Centers from the left edge of the opening; `None` if the opening is unknown.
    pub from_opening_left: Option<Vec<Length>>,
    /// Bracket top above the floor as it is on the day; `None` if the sill is unknown.
    pub top_above_floor: Option<Length>,
    /// Bracket top above the head: 0 inside; `None` if the opening is unknown.
    pub top_above_head: Option<Length>,
}

impl Brackets {
    /// How many brackets there are.
    pub fn count(&self) -> u32 {
        let count = u32::try_from(self.from_left.len());
        debug_assert!(count.is_ok(), "brackets are placed by a count of 32 bits");
        count.unwrap_or(u32::MAX)
    }

    /// Rail's left end from the left edge of the opening: into the opening if above zero, past it
    /// if below; `None` if the opening is unknown. Any bracket's two positions differ by as much.
    pub fn rail_from_opening(&self) -> Option<Length> {
        let from_opening = *self.from_opening_left.as_ref()?.first()?;
        Some(from_opening - *self.from_left.first()?)
    }
}

/// Places the brackets of a blind of this width.
pub(super) fn place<'r>(
    sizing: &Sizing<'r>,
    overlaps: Option<&Overlaps>,
    heights: &Heights,
    width: Length,
    cover: &'r CoverRules,
    record: &mut Record<'r>,
) -> Brackets {
    let count = cover.brackets_across(width);
    record.step(Number::Brackets, "so that no span exceeds the spacing", &cover.bracket_spacing, count);
    let centers = Centers::of(width, count, cover);
    let from_left = centers.shifted_by(0);
    for center in &from_left {
        record.step(Number::CenterFromRail, "evenly spaced", &cover.bracket_inset, *center);
    }
    let from_opening_left = overlaps.map(|overlaps| centers.shifted_by(-overlaps.doubled[0]));
    for center in from_opening_left.iter().flatten() {
        record.step(Number::CenterFromOpening, "minus the overlap, or plus the gap", Source::Above, *center);
    }
    Brackets {
        item: Arc::clone(sizing.hung.bracket()),
        from_left,
        from_opening_left,
        top_above_floor: heights.bracket_top,
        top_above_head: heights.above_head.map(|above| above.bracket_top),
    }
}

/// Evenly spaced centers in quarters of a nanometer, which hold a quarter of any width exactly.
struct Centers {
    inset_quarters: i128,
    width_quarters: i128,
    count: u32,
}

impl Centers {
    fn of(width: Length, count: u32, cover: &CoverRules) -> Centers {
        let width_quarters = 4 * i128::from(width.nm());
        let inset_quarters = (4 * i128::from(cover.bracket_inset.nm())).min(i128::from(width.nm()));
        Centers { inset_quarters, width_quarters, count }
    }

    fn quarters_between(&self) -> i128 {
        self.width_quarters - 2 * self.inset_quarters
    }

    /// Each center, moved by half of `doubled` nanometers and rounded once.
    fn shifted_by(&self, doubled: i64) -> Vec<Length> {
        let spans = i128::from(self.count) - 1;
        let start = self.inset_quarters + 2 * i128::from(doubled);
        (0..=spans)
            .map(|index| Length::from_ratio(start * spans + self.quarters_between() * index, 4 * spans))
            .collect()
    }
}
