//! The columns of `Cost summary` that a later run reads back: what people may change, and beside it,
//! folded away, what the run printed and the name by which its row is known again.

use super::{Form, Kind, columns};

/// A count, an amount or a share.
const NUMBER: Kind = Kind::Number { most: 4_000_000_000 };

columns! { COST_SUMMARY, "Cost summary", Form::Rows, "What the job costs, live.";
    QUANTITY "quantity" "Quantity" [] NUMBER, "not known", "How many.";
    RATE "rate" "Rate" [] NUMBER, "not known", "Price of one, or the share.";
    MINUTES "minutes" "Minutes" [] NUMBER, "not known, or not charged by the hour", "Minutes of work.";
    KNOWN_AS "known_as" "Known as" [] Kind::Text, "nothing to change in the row", "The name by which a later run knows the row again.";
    PRINTED_QUANTITY "printed_quantity" "Printed quantity" [] NUMBER, "the quantity is not to be changed", "The quantity or the minutes as they were counted.";
    PRINTED_RATE "printed_rate" "Printed rate" [] NUMBER, "the rate is not to be changed", "The rate as the survey has it.";
}
