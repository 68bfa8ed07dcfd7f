//! The sheet `Fixings`: screws with their anchors.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::{PACK, SCREW};
use crate::length::Length;
use crate::place::CellRef;
use crate::rules::{Capacity, FixingId};
use crate::schema::choices::Substrate;
use crate::schema::{Form, Kind};

sheet! { FIXINGS, "Fixings", Form::Rows, "Screws and anchors, each for one substrate. This sheet replaces the built-in list.";
    /// A screw with its anchor, if any.
    pub struct Fixing, read(row, id: FixingId, capacity: Capacity) {
        item: Arc<str>, "Item" ["Fixing"] Kind::Text, "required (the row is ignored without it)", "Name of the fixing. Must be different in every row.";
        substrate: Substrate, "Substrate" ["Into"] Kind::Choice(Substrate::WORDS), "required (the row is ignored without it)", "What it is fixed into.";
        diameter: Option<Length>, "Diameter" [] SCREW, "unknown", "Outside diameter of the screw.", unknown;
        length: Option<Length>, "Length" [] SCREW, "unknown", "Length of the screw.", unknown;
        thread: Option<Length>, "Thread length" ["Thread"] SCREW, "unknown", "Length of the thread that is in the substrate.", unknown;
        capacity, "Capacity" [] Kind::Text, "unknown", "What one fixing holds: NDS (wood screw), AISI with the stud thickness (`AISI, 33 mil`), or a working load with its unit (`30 lbf`, `133 N`).", unknown;
        pilot: Option<Length>, "Pilot hole" ["Pilot"] SCREW, "none", "Diameter of the pilot hole to drill.", unknown;
        pack_of, "Pack of" ["Pack"] PACK, "1: sold singly", "Number in a pack.";
        price: Option<Decimal>, "Price" [] Kind::Money, "unknown", "Price of a pack.", unknown;
        note, "Note" [] Kind::Text, "none", "`example price, not a quote` here marks an example price. Change the price, or delete these words, and it counts as yours.", unknown;
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
