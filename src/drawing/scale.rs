//! From exact lengths to whole dots, by one scale across and down.
//!
//! One scale for both directions, a half dot at most off; the section beside the elevation has a
//! scale of its own. A wall's end more than 12 in past the blind, and a ceiling or wood more than
//! 18 in above the bracket, are out of the picture; a recess deeper than 8 in is broken off in the
//! section.

use super::canvas::{Area, Dot};
use super::elevation::Span;
use crate::length::Length;

/// How many dots a length takes. A position is rounded by itself, half away from zero, so each is
/// within half a dot of where it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Scale {
    nm_a_dot: i64,
}

impl Scale {
    /// The largest scale by which lengths across and down take no more dots than there is room for
    /// them, yet a dot stands for `least_nm_a_dot` nanometers at the least.
    pub fn to_fit(across: (Length, i32), down: (Length, i32), least_nm_a_dot: i64) -> Scale {
        let needed = |(length, room): (Length, i32)| {
            let room = i64::from(room.max(1));
            length.nm().div_euclid(room) + 1
        };
        Scale { nm_a_dot: needed(across).max(needed(down)).max(least_nm_a_dot) }
    }

    /// A length in dots.
    pub fn dots(self, length: Length) -> i32 {
        let magnitude = (2 * length.abs().nm() + self.nm_a_dot) / (2 * self.nm_a_dot);
        let dots = i32::try_from(magnitude).unwrap_or(i32::MAX / 4);
        if length < Length::ZERO { -dots } else { dots }
    }
}

/// A scale, and where positions are counted from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct View {
    /// The scale.
    pub scale: Scale,
    /// The dot of position 0 across and 0 down.
    pub origin: Dot,
}

impl View {
    /// Column of a position across.
    pub fn x(self, across: Length) -> i32 {
        self.origin.x + self.scale.dots(across)
    }

    /// Row of a position down.
    pub fn y(self, down: Length) -> i32 {
        self.origin.y + self.scale.dots(down)
    }

    /// Dots of what lies between positions.
    pub fn area(self, across: Span, down: Span) -> Area {
        Area {
            left: self.x(across.from),
            top: self.y(down.from),
            right: self.x(across.to),
            bottom: self.y(down.to),
        }
    }
}
