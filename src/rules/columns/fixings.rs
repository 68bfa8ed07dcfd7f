//! The sheet `Fixings`: screws with their anchors.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::{PACK, SCREW};
use crate::length::Length;
use crate::place::CellRef;
use crate::rules::{Capacity, FixingId};
use crate::schema::choices::Substrate;
use crate::schema::{Form, Kind};

sheet! { FIXINGS, "Fixings", Form::Rows, "Screws with their anchors, each for one substrate. The sheet replaces the built-in list.";
    /// A screw with its anchor, if any.
    pub struct Fixing, read(row, id: FixingId, capacity: Capacity) {
        item: Arc<str>, "Item" ["Fixing"] Kind::Text, "the row is left out", "Its name, unique in the list.";
        substrate: Substrate, "Substrate" ["Into"] Kind::Choice(Substrate::WORDS), "the row is left out", "What it goes into.";
        diameter: Option<Length>, "Diameter" [] SCREW, "unknown", "Diameter of the screw.", unknown;
        length: Option<Length>, "Length" [] SCREW, "unknown", "Length of the screw.", unknown;
        thread: Option<Length>, "Thread" [] SCREW, "unknown", "Length of thread in the substrate.", unknown;
        capacity, "Capacity" [] Kind::Text, "unknown", "NDS for a wood screw; AISI and the stud's thickness, such as `AISI, 33 mil`; or a working load with its unit, such as `30 lbf` or `133 N`.", unknown;
        pilot: Option<Length>, "Pilot" ["Pilot hole"] SCREW, "none", "Pilot hole to drill.", unknown;
        pack_of, "Pack of" ["Pack"] PACK, "1: sold singly", "How many are in a pack.";
        price: Option<Decimal>, "Price" [] Kind::Money, "unknown", "Price of a pack.", unknown;
        note, "Note" [] Kind::Text, "none", "A price marked `example price, not a quote` is shown so until it or the mark is changed.", unknown;
    }
    and {
        /// Which it is.
        id: FixingId = id;
        /// Where its capacity comes from.
        capacity: Capacity = capacity;
        /// How many are in a pack.
        pack_of: u32 = row.value(&COLUMNS.pack_of).unwrap_or(1);
        /// Whether the price is the built-in example.
        example: bool = row.example;
        /// Cell of the price, if the survey gives it.
        at: Option<CellRef> = row.at(&COLUMNS.price);
    }
}
