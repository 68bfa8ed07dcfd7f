//! Plan types of an invented block: what the drawings would say of each flat's openings.

use sillbook::survey::{Draw, EndsAt, Floor, Kind, Leaf, MountWanted, Opens, Species, Substrate};

use super::tape::Marks;

/// A flat of the block. Left and right are as seen from inside; a handed flat swaps them.
pub struct Plan {
    /// Its openings, as one walks through the flat.
    pub openings: &'static [PlanOpening],
}

/// One opening of a plan.
pub struct PlanOpening {
    /// Its mark in the flat.
    pub mark: &'static str,
    /// The room.
    pub room: &'static str,
    /// What it is.
    pub kind: Kind,
    /// Width by the drawings.
    pub width: Marks,
    /// Height by the drawings.
    pub height: Marks,
    /// Floor to the bottom of the opening.
    pub sill: Marks,
    /// Depth of the recess to the frame.
    pub recess: Marks,
    /// Handle beyond the frame.
    pub handle: Marks,
    /// How far the casing stands out, and how wide it is at the head; `None` where there is none.
    pub casing: Option<[Marks; 2]>,
    /// Free wall on the left.
    pub left: Side,
    /// Free wall on the right.
    pub right: Side,
    /// Free wall above; `None` where it goes up to the ceiling.
    pub above: Option<Marks>,
    /// The floor in front of it.
    pub floor: Floor,
    /// Solid wood above the opening on the floors that are framed.
    pub header: Option<Marks>,
    /// What else of the wall around it on those floors is known.
    pub wall: Wall,
    /// Which leaf opens.
    pub leaf: Leaf,
    /// How it opens.
    pub opens: Opens,
    /// Where the louvers are to stack, if anyone said.
    pub draw: Option<Draw>,
    /// The mount wanted.
    pub mount: MountWanted,
    /// The wall on the floors that are framed; below them all walls are concrete.
    pub framed_in: Substrate,
    /// The product, if it is not the first that suits.
    pub product: Option<&'static str>,
    /// What its sash leaves clear, width and height, where it must serve for escape.
    pub escape: Option<[Marks; 2]>,
    /// How often it was measured.
    pub readings: Readings,
}

/// What stands behind the board of a framed wall, where no header is known.
#[derive(Clone, Copy)]
pub enum Wall {
    /// Nobody looked.
    Unknown,
    /// Wood whose grade stamp could be read.
    Stamped(Species),
    /// Studs at 16 in, found from the opening's left edge.
    Studs,
    /// Steel studs at 16 in, so many mil thick, behind one board of 5/8 in.
    SteelStuds(i32),
    /// Blocking along the rail, behind two boards of 5/8 in.
    Blocked,
}

/// Free wall on one side.
#[derive(Clone, Copy)]
pub struct Side {
    /// How much.
    pub wall: Marks,
    /// What it ends at.
    pub ends_at: EndsAt,
}

/// How often a width and a height were measured.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Readings {
    /// Once, in the columns `Width` and `Height`.
    Once,
    /// At three places.
    Thrice,
}

const fn free(inches: i32) -> Side {
    Side { wall: Marks::inches(inches, 0), ends_at: EndsAt::Free }
}

const fn to_wall(inches: i32, sixteenths: i32) -> Side {
    Side { wall: Marks::inches(inches, sixteenths), ends_at: EndsAt::Wall }
}

const fn to_cupboard(inches: i32) -> Side {
    Side { wall: Marks::inches(inches, 0), ends_at: EndsAt::Cupboard }
}

/// Solid above an opening, from the dressed sizes of lumber (American Softwood Lumber Standard PS 20).
const HEADER_2X6: Option<Marks> = Some(Marks::inches(5, 8));
const HEADER_2X8: Option<Marks> = Some(Marks::inches(7, 4));
const HEADER_2X10: Option<Marks> = Some(Marks::inches(9, 4));

/// A sliding door to a balcony.
const PATIO_DOOR: PlanOpening = PlanOpening {
    mark: "D1",
    room: "Living",
    kind: Kind::PatioDoor,
    width: Marks::inches(96, 0),
    height: Marks::inches(80, 0),
    sill: Marks::ZERO,
    recess: Marks::inches(1, 4),
    handle: Marks::inches(1, 12),
    casing: None,
    left: free(14),
    right: free(22),
    above: Some(Marks::inches(28, 0)),
    floor: Floor::Hard,
    header: HEADER_2X8,
    wall: Wall::Unknown,
    leaf: Leaf::Right,
    opens: Opens::Slide,
    draw: None,
    mount: MountWanted::Either,
    framed_in: Substrate::StudWall,
    product: None,
    escape: None,
    readings: Readings::Thrice,
};

/// The door from the main bedroom to the balcony, over carpet.
const BEDROOM_DOOR: PlanOpening = PlanOpening {
    mark: "D2",
    room: "Main bedroom",
    width: Marks::inches(72, 0),
    floor: Floor::Carpet,
    header: HEADER_2X10,
    wall: Wall::Stamped(Species::DouglasFirLarch),
    framed_in: Substrate::Wood,
    leaf: Leaf::Left,
    left: free(30),
    right: free(9),
    ..PATIO_DOOR
};

/// A bedroom window whose recess is too shallow for a blind.
const BEDROOM_WINDOW: PlanOpening = PlanOpening {
    mark: "W1",
    room: "Bedroom 2",
    kind: Kind::Window,
    width: Marks::inches(60, 0),
    height: Marks::inches(54, 0),
    sill: Marks::inches(26, 0),
    recess: Marks::inches(2, 0),
    handle: Marks::inches(1, 0),
    casing: Some([Marks::inches(0, 12), Marks::inches(2, 4)]),
    left: free(18),
    right: free(18),
    above: None,
    floor: Floor::Carpet,
    opens: Opens::Slide,
    escape: Some([Marks::inches(27, 8), Marks::inches(50, 0)]),
    readings: Readings::Once,
    ..PATIO_DOOR
};

/// What the sash of a narrower bedroom window leaves clear.
const NARROW_SASH: Option<[Marks; 2]> = Some([Marks::inches(21, 8), Marks::inches(50, 0)]);

/// A kitchen window deep enough for a blind within its recess.
const KITCHEN_WINDOW: PlanOpening = PlanOpening {
    mark: "W2",
    room: "Kitchen",
    kind: Kind::Window,
    width: Marks::inches(36, 0),
    height: Marks::inches(42, 0),
    sill: Marks::inches(42, 0),
    recess: Marks::inches(4, 12),
    handle: Marks::inches(1, 4),
    left: to_cupboard(6),
    right: to_cupboard(6),
    above: None,
    header: HEADER_2X6,
    leaf: Leaf::None,
    opens: Opens::Out,
    framed_in: Substrate::Wood,
    ..PATIO_DOOR
};

/// Three bedrooms on a corner: seven openings.
pub const CORNER: Plan = Plan {
    openings: &[
        PATIO_DOOR,
        BEDROOM_DOOR,
        PlanOpening {
            mark: "D3",
            room: "Dining",
            width: Marks::inches(108, 0),
            above: Some(Marks::inches(9, 8)),
            leaf: Leaf::Both,
            draw: Some(Draw::Split),
            product: Some("louver-127"),
            ..PATIO_DOOR
        },
        PlanOpening {
            mark: "D4",
            width: Marks::inches(72, 0),
            handle: Marks::inches(2, 12),
            left: to_wall(3, 0),
            ..PATIO_DOOR
        },
        BEDROOM_WINDOW,
        KITCHEN_WINDOW,
        PlanOpening {
            mark: "W3",
            room: "Bedroom 3",
            width: Marks::inches(48, 0),
            recess: Marks::inches(3, 8),
            handle: Marks::inches(0, 6),
            casing: None,
            framed_in: Substrate::Wood,
            escape: NARROW_SASH,
            readings: Readings::Thrice,
            ..BEDROOM_WINDOW
        },
    ],
};

/// One bedroom and a den: five openings.
pub const ONE_BEDROOM: Plan = Plan {
    openings: &[
        PlanOpening { width: Marks::inches(75, 0), ..PATIO_DOOR },
        BEDROOM_DOOR,
        PlanOpening {
            mark: "D3",
            room: "Dining",
            width: Marks::inches(63, 0),
            header: None,
            wall: Wall::Studs,
            leaf: Leaf::Left,
            right: to_cupboard(7),
            ..PATIO_DOOR
        },
        PlanOpening { room: "Den", ..BEDROOM_WINDOW },
        KITCHEN_WINDOW,
    ],
};

/// One room and a sleeping corner: four openings.
pub const STUDIO: Plan = Plan {
    openings: &[
        PlanOpening { width: Marks::inches(102, 0), ..PATIO_DOOR },
        PlanOpening {
            width: Marks::inches(63, 0),
            room: "Sleeping corner",
            header: HEADER_2X6,
            wall: Wall::Unknown,
            left: to_wall(1, 4),
            framed_in: Substrate::StudWall,
            ..BEDROOM_DOOR
        },
        PlanOpening {
            room: "Sleeping corner",
            width: Marks::inches(48, 0),
            escape: NARROW_SASH,
            ..BEDROOM_WINDOW
        },
        PlanOpening {
            width: Marks::inches(30, 0),
            header: None,
            framed_in: Substrate::StudWall,
            ..KITCHEN_WINDOW
        },
    ],
};

/// Two bedrooms: six openings.
pub const TWO_BEDROOM: Plan = Plan {
    openings: &[
        PATIO_DOOR,
        PlanOpening { sill: Marks::inches(0, 12), ..BEDROOM_DOOR },
        PlanOpening {
            mark: "D3",
            room: "Dining",
            width: Marks::inches(75, 0),
            header: None,
            wall: Wall::Blocked,
            leaf: Leaf::Left,
            ..PATIO_DOOR
        },
        BEDROOM_WINDOW,
        KITCHEN_WINDOW,
        PlanOpening {
            mark: "W3",
            room: "Study",
            width: Marks::inches(48, 0),
            casing: None,
            header: None,
            wall: Wall::SteelStuds(43),
            framed_in: Substrate::Steel,
            escape: None,
            ..BEDROOM_WINDOW
        },
    ],
};
