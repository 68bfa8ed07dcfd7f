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
    /// Ends of the window of an inside blind, which may not move to both of them.
    limits: Option<(Size, Size)>,
}

impl Room {
    /// The part of a window that is no further than `furthest` from the preferred size, ends
    /// rounded inward.
    pub(super) fn within(window: &SizeWindow, furthest: Length, step: Length, mount: Mount) -> Room {
        let preferred = window.preferred();
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
            limits: (mount == Mount::Inside).then_some((window.least(), window.most())),
        }
    }

    /// The room of a blind that has its size already.
    pub(super) fn fixed(size: Size, step: Length) -> Room {
        Room { preferred: size, least: size, most: size, step, limits: None }
    }

    /// Whether the blind could have this size.
    pub(super) fn takes(&self, size: Size) -> bool {
        let moved_across = size.width != self.preferred.width;
        let moved_down = size.drop != self.preferred.drop;
        let on_step = |length: Length| length.rounded_down_to(self.step) == length;
        let at_both_limits = self.limits.is_some_and(|(least, most)| {
            moved_across
                && moved_down
                && (size.width == least.width || size.width == most.width)
                && (size.drop == least.drop || size.drop == most.drop)
        });
        (self.least.width..=self.most.width).contains(&size.width)
            && (self.least.drop..=self.most.drop).contains(&size.drop)
            && (!moved_across || on_step(size.width))
            && (!moved_down || on_step(size.drop))
            && !at_both_limits
    }

    /// Whether no size could serve both.
    pub(super) fn is_apart_from(&self, other: &Room) -> bool {
        self.most.width < other.least.width
            || other.most.width < self.least.width
            || self.most.drop < other.least.drop
            || other.most.drop < self.least.drop
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
