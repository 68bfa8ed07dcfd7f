//! The sheet `Fixings`: screws with their anchors.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::{PACK, SCREW};
use crate::length::Length;
use crate::place::CellRef;
use crate::rules::fixing::Room;
use crate::rules::{Capacity, FixingId};
use crate::schema::choices::Substrate;
use crate::schema::{Form, Kind, LENGTH};

sheet! { FIXINGS, "Fixings", Form::Rows, "Screws and anchors, each for one substrate. This sheet replaces the built-in list.";
    /// A screw with its anchor, if any.
    pub struct Fixing, read(row, id: FixingId, capacity: Capacity, usual: Room) {
        item: Arc<str>, "Item" ["Fixing"] Kind::Text, "required (the row is ignored without it)", "Name of the fixing. Must be different in every row.";
        substrate: Substrate, "Substrate" ["Into"] Kind::Choice(Substrate::WORDS), "required (the row is ignored without it)", "What it is fixed into.";
        diameter: Option<Length>, "Diameter" [] SCREW, "unknown", "Outside diameter of the screw.", unknown;
        length: Option<Length>, "Length" [] SCREW, "unknown", "Length of the screw.", unknown;
        thread: Option<Length>, "Thread length" ["Thread"] SCREW, "unknown", "Length of the thread that is in the substrate.", unknown;
        capacity, "Capacity" [] Kind::Text, "unknown", "What one fixing holds: NDS (wood screw), NDS lag (lag screw), AISI with the stud thickness (`AISI, 33 mil`), its working load with the unit (`30 lbf`, `133 N`), or its ultimate load over its factor (`200 lbf / 5`).", unknown;
        source: Option<Arc<str>>, "Source" ["Capacity from"] Kind::Text, "not said", "Where the capacity comes from, such as the anchor's own approval.", unknown;
        edge, "Minimum edge distance" ["Edge"] LENGTH, "3/4 in in wood, 1/2 in in steel, 1 1/2 in in concrete, otherwise 2 in", "From the center of the screw to the nearest edge of what it goes into.";
        spacing, "Minimum spacing" ["Spacing"] LENGTH, "none in wood, 1/2 in in steel, 1 1/2 in in concrete, otherwise 2 in", "From one screw to the next. Of two that are closer, one counts.";
        pilot: Option<Length>, "Pilot hole" ["Pilot", "Hole"] SCREW, "none", "Diameter of the hole to drill.", unknown;
        driver: Option<Arc<str>>, "Driver bit" ["Driver", "Drive"] Kind::Text, "unknown", "Bit that drives the screw.", unknown;
        pack_of, "Pack of" ["Pack"] PACK, "1: sold singly", "Number in a pack.";
        price: Option<Decimal>, "Price" [] Kind::Money, "unknown", "Price of a pack.", unknown;
        note, "Note" [] Kind::Text, "none", "`example price, not a quote` here marks an example price. Change the price, or delete these words, and it counts as yours.", unknown;
    }
    and {
        /// Which it is.
        id: FixingId = id;
        /// Where its capacity comes from.
        capacity: Capacity = capacity;
        /// From its center to the nearest edge of what it goes into, at the least.
        edge: Length = row.value(&COLUMNS.edge).unwrap_or(usual.edge);
        /// From one to the next, at the least.
        spacing: Length = row.value(&COLUMNS.spacing).unwrap_or(usual.spacing);
        /// How many are in a pack.
        pack_of: u32 = row.value(&COLUMNS.pack_of).unwrap_or(1);
        /// Whether the price is the built-in example.
        example: bool = row.example;
        /// Cell of the price, if the survey gives it.
        at: Option<CellRef> = row.at(&COLUMNS.price);
    }
}
