//! The columns of `Answers`: the sheet `Queries` of a fit-out workbook, filled in and copied whole
//! into the survey that it asks about.

use super::{Form, Kind, columns};

columns! { ANSWERS, "Answers", Form::Rows, "Answers to the queries of an earlier run: the sheet Queries of its workbook, copied here.";
    QUERY "query" "Query" ["What is wrong"] Kind::Text, "same as in the row above", "The query, as on the sheet Queries.";
    OPENING "opening" "Opening" [] Kind::Text, "all openings of the query, except those answered one by one", "The opening, as on the sheet Queries, or a cell of its row.";
    COLUMN "column" "Column" [] Kind::Text, "the answer changes nothing", "The column of the sheet Openings that the answer fills.";
    VALUE "value" "Value" ["Answer"] Kind::Text, "no answer", "What that cell should say.";
}
