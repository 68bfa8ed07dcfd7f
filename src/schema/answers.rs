//! The columns of `Answers`: the sheet `Queries` of a fit-out workbook, filled in and copied whole
//! into the survey that it asks about.

use super::{Form, Kind, columns};

columns! { ANSWERS, "Answers", Form::Rows, "Answers to the queries of an earlier run: the sheet Queries of its workbook, copied here.";
    QUERY "query" "Query" ["What is wrong"] Kind::Text, "as above", "What was asked.";
    OPENING "opening" "Opening" [] Kind::Text, "every opening listed under the query that has no answer of its own", "The opening, as the sheet Queries names it, or a cell of its row.";
    COLUMN "column" "Column" [] Kind::Text, "the answer changes nothing", "The heading of the sheet Openings that the answer is for.";
    VALUE "value" "Value" ["Answer"] Kind::Text, "no answer", "What the opening's cell in that column should say.";
}
