//! The sheet `Rates`: times and charges.

use crate::schema::{Form, Kind};

sheet! { RATES, "Rates", Form::Rows, "Times, charged at the labor rate, and charges. A blank takes the built-in value.";
    item, "Item" [] Kind::Text, "the row is left out", "What it is a rate of.";
    rate, "Rate" ["Value"] Kind::Number { most: 1_000_000_000 }, "as built in", "Minutes, or an amount in the project's currency.", unknown;
    unit, "Unit" ["Per"] Kind::Text, "as built in", "What the rate counts; each item has its own.", unknown;
    note, "Note" [] Kind::Text, "none", "A charge marked `example price, not a quote` is shown so until it or the mark is changed.", unknown;
}
