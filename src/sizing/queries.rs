//! What sizing asks, in its own words.

use thiserror::Error;

use super::Mount;
use crate::length::Shown;
use crate::query::Wording;
use crate::schema::Column;
use crate::schema::openings::{
    COLOUR, CONTROL, DEPTH_TO, DRAW, DROP_WANTED, FLOOR_TO_COME, HANDLE, HEAD_HEIGHT, HEIGHT, MEASURED,
    MOUNT, OPENING_LEAF, PRODUCT, RECESS_DEPTH, SILL_HEIGHT,
};
use crate::survey::{Kind, Opens, Source};

/// A doubt about how an opening is to be covered.
#[derive(Debug, Error)]
pub(super) enum SizingQuery {
    #[error("no product suits a {kind}")]
    NothingSuits { kind: Kind },
    #[error("no product is called \"{name}\"")]
    UnknownProduct { name: String, known: String },
    #[error("{name} is not meant for a {kind}")]
    NotSuited { name: String, kind: Kind },
    #[error("\"{colour}\" is not a listed colour of {product}; it is ordered as written")]
    UnlistedColour { colour: String, product: String, listed: String },
    #[error("{} is over {most}: likely in the wrong unit", .column.name.to_lowercase())]
    Implausible { column: &'static Column, most: Shown },
    #[error("recess depth is under {least}: likely in the wrong unit")]
    ShallowDepth { least: Shown },
    #[error("the sill is at or above the head of the opening")]
    SillOverHead,
    #[error("head height less sill height differs from the height by more than {most}")]
    HeadDiffers { most: Shown },
    #[error("the opening ends above the ceiling")]
    OverCeiling,
    #[error("a handle is given, but not what it and the recess depth were measured from")]
    HandleFromWhat,
    #[error("a cord is asked for: its safety rules are not worked out here")]
    Cord,
    #[error("opening leaf is not given on a door")]
    LeafUnknown,
    #[error("handle is not given on a door; it is taken as 0")]
    HandleUnknown,
    #[error("no single leaf of this door is fixed; the louvers are taken to stack at the left")]
    DrawUnknown,
    #[error("the louvers stack over the leaf that opens")]
    StackOverLeaf,
    #[error("the opening leans over its height by more than {limit}")]
    Leans { limit: Shown },
    #[error("its {what} differ by more than {limit}")]
    Spread { what: &'static str, limit: Shown },
    #[error("the recess is too shallow for an inside mount, which needs {needed}")]
    InsideTooShallow { needed: Shown },
    #[error("inside mount with an unknown recess depth; it needs {needed}")]
    DepthUnknown { needed: Shown },
    #[error("an inside mount does not go with a leaf that opens \"{opens}\"")]
    InsideLeafComesIn { opens: Opens },
    #[error("the opening leans by more than {most}: an inside blind would bind")]
    InsideLeans { most: Shown },
    #[error("the drop wanted is over the {most} that the recess takes")]
    DropOverRecess { most: Shown },
    #[error("finished {what} is under the product's least, {least}")]
    UnderLimit { what: &'static str, least: Shown },
    #[error("finished {what} is over the product's most, {most}")]
    OverLimit { what: &'static str, most: Shown },
    #[error("the wall above is too low for an outside mount, which needs {least}")]
    NoRoomAbove { least: Shown },
    #[error("the drop wanted leaves the rail less than {least} above the head")]
    DropTooShort { least: Shown },
    #[error("the drop wanted puts the rail within {room} of the end of the wall above, or past it")]
    DropOverWall { room: Shown },
    #[error("the drop wanted puts the rail outside {least} to {most} above the head")]
    DropMovesRail { least: Shown, most: Shown },
    #[error("the header has no place for both screws of a bracket, {edge} inside its edges")]
    NoTimber { edge: Shown },
    #[error("the wall below is too low to lap over: the blind ends {above} above the sill")]
    EndsAboveSill { above: Shown },
    #[error("no bracket reaches far enough: the longest reaches {longest}, {needed} is needed")]
    NoBracketReaches { longest: Shown, needed: Shown },
    #[error("finished sizes are given without a mount")]
    FinishedWithoutMount,
    #[error("{}", not_from_tape(*measured, *mount))]
    NotFromTape { measured: Source, mount: Mount },
    #[error("the floor is not laid and its thickness is not given; the blind is provisional")]
    FloorToCome,
    #[error("several openings share one measurement of an inside mount")]
    MeasureEach,
}

fn not_from_tape(source: Source, mount: Mount) -> String {
    match mount {
        Mount::Inside => format!("sizes are \"{source}\", not from a tape; the inside blind is provisional"),
        Mount::Outside => format!("sizes are \"{source}\", not from a tape"),
    }
}

impl Wording for SizingQuery {
    fn fills(&self) -> Option<&'static Column> {
        use SizingQuery::*;
        match self {
            NothingSuits { .. } | UnknownProduct { .. } | NotSuited { .. } => Some(&PRODUCT),
            UnlistedColour { .. } => Some(&COLOUR),
            Implausible { column, .. } => Some(column),
            ShallowDepth { .. } | DepthUnknown { .. } => Some(&RECESS_DEPTH),
            SillOverHead => Some(&SILL_HEIGHT),
            HeadDiffers { .. } => Some(&HEAD_HEIGHT),
            OverCeiling => Some(&HEIGHT),
            HandleFromWhat => Some(&DEPTH_TO),
            Cord => Some(&CONTROL),
            LeafUnknown => Some(&OPENING_LEAF),
            HandleUnknown => Some(&HANDLE),
            DrawUnknown | StackOverLeaf => Some(&DRAW),
            InsideTooShallow { .. }
            | InsideLeafComesIn { .. }
            | InsideLeans { .. }
            | NoRoomAbove { .. }
            | FinishedWithoutMount => Some(&MOUNT),
            DropOverRecess { .. } | DropTooShort { .. } | DropOverWall { .. } | DropMovesRail { .. } => {
                Some(&DROP_WANTED)
            }
            NotFromTape { .. } => Some(&MEASURED),
            FloorToCome => Some(&FLOOR_TO_COME),
            // Several columns would have to be filled, a row added, or something done on site.
            Leans { .. }
            | Spread { .. }
            | UnderLimit { .. }
            | OverLimit { .. }
            | NoTimber { .. }
            | EndsAboveSill { .. }
            | NoBracketReaches { .. }
            | MeasureEach => None,
        }
    }

    fn hint(&self) -> String {
        use SizingQuery::*;
        match self {
            NothingSuits { .. } => {
                "name a product in the column Product, or add one to the sheet Products".into()
            }
            UnknownProduct { known, .. } => format!("the products are {known}"),
            NotSuited { .. } => "choose another product, or confirm this one with whoever will use it".into(),
            UnlistedColour { listed, .. } => {
                format!("listed colours: {listed}; add this one to Products if it is right")
            }
            Implausible { .. } | ShallowDepth { .. } => {
                "write the unit beside the number, or correct it".into()
            }
            SillOverHead => "measure both from the floor again".into(),
            HeadDiffers { .. } => "measure height, sill and head again: one of them is off".into(),
            OverCeiling => {
                "measure its height and sill again, or correct Ceiling height on the sheet Project".into()
            }
            HandleFromWhat => "fill in Depth to: glass, frame or handle".into(),
            Cord => "choose wand or motor in the column Control".into(),
            LeafUnknown => "fill in Opening leaf: left, right, both or none, as seen from inside".into(),
            HandleUnknown => "measure how far the handle's tip stands out, or write 0".into(),
            DrawUnknown => "fill in Draw: left, right or split, as seen from inside".into(),
            StackOverLeaf => "draw the louvers over the fixed leaf, unless this is what is wanted".into(),
            Leans { .. } => "measure both diagonals again".into(),
            Spread { .. } => {
                "measure again; the blind is sized from the least (inside) or the most (outside)".into()
            }
            InsideTooShallow { .. } => {
                "mount it outside, or measure the depth to the first thing in the way".into()
            }
            DepthUnknown { .. } => "measure: louvers must turn clear".into(),
            InsideLeafComesIn { .. } => "mount it outside".into(),
            InsideLeans { .. } => "mount it outside".into(),
            DropOverRecess { .. } => "ask for a shorter drop, or mount it outside".into(),
            UnderLimit { .. } | OverLimit { .. } => {
                "check the measurement and its unit, or choose another product".into()
            }
            NoRoomAbove { .. } => {
                "mount it inside if the recess takes it, or fix to the ceiling by another way".into()
            }
            DropTooShort { .. } => "ask for a longer drop".into(),
            DropOverWall { .. } => "ask for a shorter drop, or measure the wall above again".into(),
            DropMovesRail { .. } => "see that there is something to fix to at that height".into(),
            NoTimber { .. } => "find what the screws will go into, or put timber there first".into(),
            EndsAboveSill { .. } => "see that light under the blind is acceptable".into(),
            NoBracketReaches { .. } => {
                "pack the brackets out, or take the casing or handle off the way".into()
            }
            FinishedWithoutMount => "fill in Mount: inside or outside".into(),
            NotFromTape { .. } => "measure with a tape before it is made".into(),
            FloorToCome => "fill in Floor to come: the thickness still to be laid, 0 if none".into(),
            MeasureEach => "measure each opening and give each a row".into(),
        }
    }
}
