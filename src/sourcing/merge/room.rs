//! The sizes that one blind could have.

use crate::length::Length;
use crate::sizing::{Mount, Size, SizeWindow};

/// The sizes that a blind could have: its preferred size, and every other in a rectangle around it
/// that is whole steps wide and long.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Room {
    pub(super) preferred: Size,
    pub(super) least: Size,
    pub(super) most: Size,
    step: Length,
    /// Least width and least drop of the window of an inside blind, which may not move to both at once:
    /// it would leave gaps all around. `None` where the window has no choice of one of them.
    smallest: Option<Size>,
}

impl Room {
    /// The part of a window that is no further than `furthest` from the preferred size, ends
    /// rounded inward.
    pub(super) fn within(window: &SizeWindow, furthest: Length, step: Length, mount: Mount) -> Room {
        let preferred = window.preferred();
        let (smallest, largest) = (window.least(), window.most());
        let has_choice = smallest.width < largest.width && smallest.drop < largest.drop;
        let least =
            |end: Length, preferred: Length| end.max(preferred - furthest).rounded_up_to(step).min(preferred);
        let most = |end: Length, preferred: Length| {
            end.min(preferred + furthest).rounded_down_to(step).max(preferred)
        };
        Room {
            preferred,
            least: Size {
                width: least(window.least().width, preferred.width),
                drop: least(window.least().drop, preferred.drop),
            },
            most: Size {
                width: most(window.most().width, preferred.width),
                drop: most(window.most().drop, preferred.drop),
            },
            step,
            smallest: (mount == Mount::Inside && has_choice).then_some(window.least()),
        }
    }

    /// The room of a blind that has its size already.
    pub(super) fn fixed(size: Size, step: Length) -> Room {
        Room { preferred: size, least: size, most: size, step, smallest: None }
    }

    /// Whether the blind could have this size.
    pub(super) fn takes(&self, size: Size) -> bool {
        let moved_across = size.width != self.preferred.width;
        let moved_down = size.drop != self.preferred.drop;
        let on_step = |length: Length| length.rounded_down_to(self.step) == length;
        (self.least.width..=self.most.width).contains(&size.width)
            && (self.least.drop..=self.most.drop).contains(&size.drop)
            && (!moved_across || on_step(size.width))
            && (!moved_down || on_step(size.drop))
            && (self.smallest != Some(size) || size == self.preferred)
    }

    /// Whether no size could serve both.
    pub(super) fn is_apart_from(&self, other: &Room) -> bool {
        self.most.width < other.least.width
            || other.most.width < self.least.width
            || self.most.drop < other.least.drop
            || other.most.drop < self.least.drop
    }

    /// Lengths of the room, of widths or of drops: its least, preferred and most.
    pub(super) fn widths(&self) -> [Length; 3] {
        [self.least.width, self.preferred.width, self.most.width]
    }

    /// The same of its drops.
    pub(super) fn drops(&self) -> [Length; 3] {
        [self.least.drop, self.preferred.drop, self.most.drop]
    }

    /// How far a size is from the preferred one, in width and drop together.
    pub(super) fn movement(&self, size: Size) -> Length {
        (size.width - self.preferred.width).abs() + (size.drop - self.preferred.drop).abs()
    }

    /// The step to which sizes are rounded.
    pub(super) fn step(&self) -> Length {
        self.step
    }
}
