//! A finished size, and the window of sizes that would also do.

use crate::length::Length;

/// A finished size.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Size {
    /// Finished width.
    pub width: Length,
    /// Finished drop.
    pub drop: Length,
}

/// Sizes that would also do: both ends allowed; the preferred size is always inside.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SizeWindow {
    preferred: Size,
    least: Size,
    most: Size,
}

impl SizeWindow {
    /// A window around a preferred size; an end that would leave it outside is moved to it.
    pub fn new(preferred: Size, least: Size, most: Size) -> SizeWindow {
        SizeWindow {
            preferred,
            least: Size { width: least.width.min(preferred.width), drop: least.drop.min(preferred.drop) },
            most: Size { width: most.width.max(preferred.width), drop: most.drop.max(preferred.drop) },
        }
    }

    /// A window that holds one size alone.
    pub fn only(size: Size) -> SizeWindow {
        SizeWindow { preferred: size, least: size, most: size }
    }

    /// The size that the rules prefer.
    pub fn preferred(&self) -> Size {
        self.preferred
    }

    /// Least width and least drop that would do.
    pub fn least(&self) -> Size {
        self.least
    }

    /// Most width and most drop that would do.
    pub fn most(&self) -> Size {
        self.most
    }

    /// Whether a size would do.
    pub fn takes(&self, size: Size) -> bool {
        (self.least.width..=self.most.width).contains(&size.width)
            && (self.least.drop..=self.most.drop).contains(&size.drop)
    }
}
