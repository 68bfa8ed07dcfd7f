//! Mount, preferred width and drop, and the window of sizes that would also do.

use crate::length::Length;
use crate::rules::Product;

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

/// Within the recess, or on the wall face.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Mount {
    /// Within the recess.
    Inside,
    /// On the wall face.
    Outside,
}

/// Whether a blind may be made now.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Release {
    /// It may.
    Make,
    /// Sized and costed, but not to be made until it is measured with a tape.
    Provisional,
}

/// How one opening is to be covered.
#[derive(Clone, Debug)]
pub struct Sizing<'r> {
    /// The product.
    pub product: &'r Product,
    /// The colour, one of the product's.
    pub colour: &'r str,
    /// The mount.
    pub mount: Mount,
    /// Whether it may be made now.
    pub release: Release,
    /// The preferred size and what else would do.
    pub window: SizeWindow,
    /// What the opening allows: null facts of a survey of finished sizes.
    pub allowance: Option<Allowance>,
}

/// What the opening allows a blind of any size that hangs there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Allowance {
    /// Within the recess.
    Inside(InsideAllowance),
    /// On the wall face.
    Outside(OutsideAllowance),
}

/// Within the recess. Heights are from the bottom of the opening.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct InsideAllowance {
    /// Width of the opening, the least.
    pub opening_width: Length,
    /// Head above the bottom of the opening, where the height is least.
    pub head: Length,
}

/// On the wall face. Heights are from the bottom of the opening.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OutsideAllowance {
    /// Width of the opening, the most.
    pub opening_width: Length,
    /// Width of the opening, the least: what must be clear when open.
    pub clear_width: Length,
    /// Overlap to aim at on the left; negative where a wall stands in front of the opening.
    pub left: SideAllowance,
    /// The same on the right.
    pub right: SideAllowance,
    /// Head above the bottom of the opening: the least height for a door, the most for a window.
    pub head: Length,
    /// Bottom of the blind above the bottom of the opening; usually negative for a window.
    pub bottom: Length,
    /// Rail top above the head at the preferred size.
    pub above: Length,
    /// Drop at the preferred size: its rounding leaves the top where it is.
    pub preferred_drop: Length,
}

/// One side of an outside mount.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SideAllowance {
    /// Overlap to aim at.
    pub aim: Length,
    /// Most overlap that the wall leaves; `None` if no wall was measured.
    pub most: Option<Length>,
    /// Whether what the wall ends at closes a gap: a `wall`.
    pub ends_at_wall: bool,
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
    pub fn holds(&self, size: Size) -> bool {
        (self.least.width..=self.most.width).contains(&size.width)
            && (self.least.drop..=self.most.drop).contains(&size.drop)
    }
}
