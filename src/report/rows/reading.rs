//! What was read of the surveys: their headings, and what people answered.

use crate::date::Date;
use crate::query::{Answer, Taken};
use crate::report::Report;
use crate::report::figure::row;
use crate::tables::{By, ColumnRead};

/// One heading of a table that was read.
#[derive(Clone, Copy)]
pub struct ColumnReadRow<'r> {
    report: &'r Report<'r>,
    read: &'r ColumnRead,
}

row! {
    /// One heading of a survey's tables, and what was made of it.
    ColumnReadRow<'r>: row {
        /// File name of the survey.
        survey: &'r str = row.report.sheets.survey(row.read.at.sheet) => shown;
        /// The sheet.
        sheet: &'r str = row.report.sheets.sheet(row.read.at.sheet) => shown;
        /// The first heading of its table.
        table_at: String = row.read.table.address() => shown;
        /// The heading as written.
        heading: &'r str = &row.read.heading => shown, strong;
        /// The column of Openings that it was taken as; null if it was taken as none.
        taken_as: Option<&'static str> = row.read.taken.map(|column| column.name) => shown, strong;
        /// By what it was taken as that, or why as none.
        by: &'static str = row.read.by.words() => one_of(&By::WORDS), shown;
        /// The unit of its bare numbers; null if it holds no lengths.
        unit: Option<String> = row.in_unit().map(|(unit, _)| unit) => shown;
        /// What names that unit; null if it holds no lengths.
        unit_from: Option<&'static str> = row.in_unit().map(|(_, from)| from) => shown;
        /// Cells below it that hold anything.
        filled: u64 = row.read.filled as u64 => headed("Cells filled");
        /// The first three of them, as written.
        first: Vec<&'r str> = row.read.first.iter().map(String::as_str).collect()
            => headed("First three"), worded(|_, first| first.join(", ")), wide(30);
        /// The column that it resembles most, where it was taken as none; otherwise null.
        nearest: Option<&'static str> = row.read.nearest.map(|column| column.name) => headed("Nearest column");
        /// The code of the query about it; null if there is none.
        query: Option<&'static str> = row.read.query => shown;
    }
}

impl<'r> ColumnReadRow<'r> {
    /// Every heading, table by table, from the left.
    pub fn all(report: &'r Report<'r>) -> impl Iterator<Item = ColumnReadRow<'r>> {
        report.survey.columns.iter().map(move |read| ColumnReadRow { report, read })
    }

    /// The unit of its lengths, and what names it.
    fn in_unit(self) -> Option<(String, &'static str)> {
        self.read.taken.filter(|column| column.holds_lengths())?;
        let own = self.read.unit.map(|(unit, from)| (unit.to_string(), from));
        let bare = self.report.survey.bare;
        Some(own.unwrap_or_else(|| (bare.unit.to_string(), bare.from.words())))
    }
}

/// One answer, with what became of it.
#[derive(Clone, Copy)]
pub struct AnswerRow<'r> {
    report: &'r Report<'r>,
    answer: &'r Answer,
}

row! {
    /// One answer to a query of an earlier run, and what became of it.
    AnswerRow<'r>: row {
        /// The query's code; empty where it was not given.
        code: &'r str = &row.answer.code => shown;
        /// The query's words.
        query: &'r str = &row.answer.query => shown, wide(34);
        /// The opening, or the cell, that it is for.
        opening: &'r str = row.shown_opening() => shown, strong;
        /// The survey column that it fills; empty if the query can only be accepted.
        column: &'r str = &row.answer.column => shown;
        /// What the survey said when it was asked; empty where it was not given.
        as_read: &'r str = &row.answer.as_read => shown;
        /// The answer.
        answer: &'r str = &row.answer.answer => shown, strong;
        /// Who answered; empty if not said.
        by: &'r str = &row.answer.by => shown;
        /// When; null if not said.
        on: Option<Date> = row.answer.on => shown;
        /// The query's figures when it was asked; empty if it had none.
        details: &'r str = &row.answer.details => shown, wide(30);
        /// The cell that it stands in.
        from: String = row.report.sheets.show(row.answer.at) => shown;
        /// What became of it.
        taken: &'static str = row.answer.taken.words() => one_of(&Taken::WORDS), shown, strong;
    }
}

impl<'r> AnswerRow<'r> {
    /// Every answer, in the order of the surveys and their sheets.
    pub fn all(report: &'r Report<'r>) -> impl Iterator<Item = AnswerRow<'r>> {
        report.answers.iter().map(move |answer| AnswerRow { report, answer })
    }

    fn shown_opening(self) -> &'r str {
        let known = self.answer.of.map(|opening| &*self.report.survey.openings[opening].who.name);
        known.unwrap_or(&self.answer.opening)
    }
}
