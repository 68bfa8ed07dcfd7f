//! The limits of a product. Every window of sizes ends at them, on the step, and a preferred size past
//! one is moved to it; only where nothing is left of a window is the opening held.

use super::queries::SizingQuery;
use super::{Size, SizeWindow};
use crate::length::Length;
use crate::rules::CoverRules;
use crate::worked::{Number, Record, Rule};

/// One dimension of a window.
#[derive(Clone, Copy, Debug)]
pub(super) struct Ends {
    pub(super) preferred: Length,
    pub(super) least: Length,
    pub(super) most: Length,
}

impl Ends {
    /// The one length that would do.
    pub(super) const fn only(length: Length) -> Ends {
        Ends { preferred: length, least: length, most: length }
    }
}

/// The limits of one dimension.
#[derive(Clone, Copy)]
struct Limits<'r> {
    of: Number,
    least: &'r Rule<Length>,
    most: &'r Rule<Length>,
}

/// A window within the limits of both dimensions.
pub(super) fn window<'r>(
    width: Ends,
    drop: Ends,
    cover: &'r CoverRules,
    record: &mut Record<'r>,
) -> Result<SizeWindow, SizingQuery> {
    let width = limits_of_width(cover).keep(width, cover, record)?;
    let drop = limits_of_drop(cover).keep(drop, cover, record)?;
    Ok(SizeWindow::new(
        Size { width: width.preferred, drop: drop.preferred },
        Size { width: width.least, drop: drop.least },
        Size { width: width.most, drop: drop.most },
    ))
}

/// A range of drops within the limits.
pub(super) fn drops<'r>(
    drop: Ends,
    cover: &'r CoverRules,
    record: &mut Record<'r>,
) -> Result<Ends, SizingQuery> {
    limits_of_drop(cover).keep(drop, cover, record)
}

fn limits_of_width(cover: &CoverRules) -> Limits<'_> {
    Limits { of: Number::Width, least: &cover.least_width, most: &cover.most_width }
}

fn limits_of_drop(cover: &CoverRules) -> Limits<'_> {
    Limits { of: Number::Drop, least: &cover.least_drop, most: &cover.most_drop }
}

impl<'r> Limits<'r> {
    fn keep(self, ends: Ends, cover: &CoverRules, record: &mut Record<'r>) -> Result<Ends, SizingQuery> {
        let (least, most) = (ends.least.min(ends.preferred), ends.most.max(ends.preferred));
        if (**self.least..=**self.most).contains(&least) && (**self.least..=**self.most).contains(&most) {
            return Ok(Ends { least, most, ..ends });
        }
        let step = *cover.rounding_step;
        let lowest = if least < **self.least { self.least.rounded_up_to(step) } else { least };
        let highest = if most > **self.most { self.most.rounded_down_to(step) } else { most };
        let what = self.of.name();
        if lowest > highest {
            return Err(if most < **self.least {
                SizingQuery::UnderLimit { what, least: record.shown(**self.least) }
            } else {
                SizingQuery::OverLimit { what, most: record.shown(**self.most) }
            });
        }
        let mut preferred = ends.preferred;
        if preferred < lowest {
            preferred = record.step(self.of, "no less than the minimum", self.least, lowest);
        } else if preferred > highest {
            preferred = record.step(self.of, "no more than the maximum", self.most, highest);
        }
        Ok(Ends { preferred, least: lowest, most: highest })
    }
}
