//! The columns of `Answers`: the sheet `Queries` of a fit-out workbook, filled in and copied whole
//! into the survey that it asks about.

use super::{Form, Kind, columns};

columns! { ANSWERS, "Answers", Form::Rows, "Answers to the queries of an earlier run: the sheet Queries of its workbook, copied here.";
    CODE "code" "Code" [] Kind::Text, "the query is known by its words", "The short name of the query, as on the sheet Queries.";
    QUERY "query" "Query" ["What is wrong"] Kind::Text, "same as in the row above", "The query, as on the sheet Queries.";
    OPENING "opening" "Opening" [] Kind::Text, "all openings of the query, except those answered one by one", "The opening, as on the sheet Queries, or a cell of its row.";
    ROOM "room" "Room" [] Kind::Text, "not compared", "The room of the opening, which tells it from another of the same running number.";
    COLUMN "column" "Column" [] Kind::Text, "the query can only be accepted", "The column of the sheet Openings that the answer fills, or Headings.";
    AS_READ "as_read" "As read" [] Kind::Text, "not compared", "What the survey said when the query was asked.";
    VALUE "answer" "Answer" ["Value"] Kind::Text, "no answer", "What that cell should say, or ok to leave it as it is.";
    BY "by" "By" ["Answered by"] Kind::Text, "not said", "Who answered.";
    ON "on" "On" ["Answered on"] Kind::Date, "not said", "When, as year, month and day.";
    DETAILS "details" "Details" [] Kind::Text, "not compared", "The figures of the query when it was asked.";
}

/// What stands for a blank cell under `As read`.
pub const BLANK: &str = "(blank)";

/// What stands there for a cell that a type fills.
pub fn of_type(name: &str) -> String {
    format!("(type {name})")
}

/// Words that leave what the survey says as it is. `yes` is one where the column does not ask whether.
const ACCEPTING: [&str; 26] = [
    "ok",
    "okay",
    "correct",
    "checked",
    "correct checked",
    "checked correct",
    "ok checked",
    "checked ok",
    "confirmed",
    "fine",
    "accept",
    "accepted",
    "leave it",
    "leave as it is",
    "as it is",
    "as is",
    "as measured",
    "yes",
    "yes ok",
    "ok yes",
    "o k",
    "no change",
    "leave as is",
    "agreed",
    "approved",
    "correct checked on site",
];

/// Whether an answer leaves a cell of a column as it is; no column is that of a query which no
/// cell would settle.
pub fn accepts(answer: &str, column: Option<&super::Column>) -> bool {
    let words = answer.split(|letter: char| !letter.is_alphanumeric()).filter(|word| !word.is_empty());
    let words = words.map(str::to_lowercase).collect::<Vec<_>>().join(" ");
    let asks_whether = column.is_some_and(|column| column.kind == super::YES_NO);
    ACCEPTING.contains(&words.as_str()) && !(asks_whether && words == "yes")
}
