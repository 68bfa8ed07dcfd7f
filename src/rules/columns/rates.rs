//! The sheet `Rates`: times and charges.

use crate::schema::{Form, Kind};

sheet! { RATES, "Rates", Form::Rows, "Times (charged at the labor rate) and fixed charges. Blank cells use the built-in value.";
    item, "Item" [] Kind::Text, "required (the row is ignored without it)", "What the rate is for.";
    rate, "Rate" ["Value"] Kind::Number { most: 1_000_000_000 }, "the built-in value", "Minutes, or an amount in the project currency, as Unit says.", unknown;
    unit, "Unit" ["Per"] Kind::Text, "the built-in unit", "What the rate counts. Each item has its own unit.", unknown;
    note, "Note" [] Kind::Text, "none", "`example price, not a quote` here marks an example charge. Change the rate, or delete these words, and it counts as yours.", unknown;
}
