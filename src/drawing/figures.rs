//! Lengths as the figures of a drawing, and figures in a row that would be in each other's way.
//!
//! Bracket figures that do not fit above the blind even in small type become numbers.

use crate::length::{Length, Unit, Units, fraction_of_inch};
use crate::rounding::half_away;

/// A length as the sheets show it: inches to the nearest sixteenth, millimeters to a tenth. The
/// drawing says its unit once.
pub fn figure(length: Length, units: Units) -> String {
    match units {
        Units::Inches => {
            let sixteenths =
                Length::from_ratio(i128::from(length.nm()) * 16, i128::from(Unit::Inch.nanometers()));
            let shown = Length::sixty_fourths(4 * sixteenths.nm());
            fraction_of_inch(shown, 16).unwrap_or_default()
        }
        Units::Millimeters => half_away(length.in_unit(Unit::Millimeter), 1).normalize().to_string(),
    }
}

/// One of a row: the dot that it belongs to, and the dots that it takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Wanted {
    /// Where its middle would best be.
    pub middle: i32,
    /// How wide it is.
    pub width: i32,
}

/// Left ends for a row of texts, in order, each as near to its place as the others allow, with
/// `gap` dots between two and all between `least` and `most`; `None` if they do not fit.
pub fn spread(row: &[Wanted], gap: i32, least: i32, most: i32) -> Option<Vec<i32>> {
    // Less all that stands before it, each left end must not be under the one before: neighbors
    // out of order share their mean.
    let mut before = Vec::with_capacity(row.len());
    let mut taken = 0;
    let mut blocks: Vec<(i32, i32)> = Vec::new();
    for wanted in row {
        let mut block = (wanted.middle - wanted.width / 2 - taken, 1);
        while let Some(last) = blocks.pop_if(|last| last.0 / last.1 > block.0 / block.1) {
            block = (last.0 + block.0, last.1 + block.1);
        }
        blocks.push(block);
        before.push(taken);
        taken += wanted.width + gap;
    }
    let last = most - (taken - gap);
    if last < least {
        return None;
    }
    let means =
        blocks.into_iter().flat_map(|(sum, count)| (0..count).map(move |_| (sum / count).clamp(least, last)));
    Some(means.zip(before).map(|(mean, before)| mean + before).collect())
}
