//! The columns of `Headings`: what a person says that the headings of a schedule mean, so that the
//! schedule itself need not be touched.

use super::{Form, Kind, columns};

/// What `Means` says of a heading that no column needs.
pub const NOT_NEEDED: &str = "not needed";

columns! { HEADINGS, "Headings", Form::Rows, "What the headings of a schedule mean, where they are not known by their words.";
    SHEET "sheet" "Sheet" [] Kind::Text, "every sheet", "The sheet that the heading is on.";
    HEADING "heading" "Heading" ["As read"] Kind::Text, "the row says nothing", "The heading as it is written; spaces and capitals do not matter.";
    MEANS "means" "Means" ["Answer"] Kind::Text, "the row says nothing", "The column of the sheet Openings that it is, or: not needed.";
    UNIT "numbers_in" "Unit" [] Kind::Text, "the unit that the heading or its cells name, otherwise that of the survey", "The unit of its numbers, such as mm or in.";
}
