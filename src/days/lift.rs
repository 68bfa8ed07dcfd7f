//! Whether a long box goes into the elevator.
//!
//! The cabin is known by its depth, by the lower of its own height and its door's, and by the width of
//! its door, as wide as which it is at least. A box fits if it is not longer than the longest straight line
//! across two of these three: stood up, laid flat or leaning. The third is left for its thickness, which is
//! not known; so a box that could only lean from corner to opposite corner does not fit. Lengths are
//! compared by their squares, exactly. Where a size is missing, nothing is said.

use crate::length::Length;
use crate::rules::Project;
use crate::schema::fitting_days::FitsLift;

/// Whether a box of this length fits the elevator of the project.
pub fn fits(longest: Length, project: &Project) -> FitsLift {
    let sizes = [project.lift_door_width, project.lift_height, project.lift_depth];
    let [Some(width), Some(height), Some(depth)] = sizes else { return FitsLift::Unknown };
    let mut squares = [width, height, depth].map(square);
    squares.sort_unstable();
    let [_, shorter, longer] = squares;
    if square(longest) <= shorter + longer { FitsLift::Yes } else { FitsLift::No }
}

fn square(length: Length) -> i128 {
    i128::from(length.nm()) * i128::from(length.nm())
}
