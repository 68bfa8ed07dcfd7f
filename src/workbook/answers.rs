//! `Answers`: every answer of the surveys and what became of it, so that a round of answers is never
//! lost from sight. Accepted queries are listed here, with who and when, and nowhere counted again.

use super::layout::fixed;
use super::look::Tone;
use super::pages::{Form, Frozen, Pages, columns_of};
use super::paper::Lie;
use super::{Press, Written};
use crate::report::rows::AnswerRow;

pub(super) fn write(press: &Press<'_>) -> Written {
    if press.report.answers.is_empty() {
        return Ok(Vec::new());
    }
    let form = Form {
        name: fixed::ANSWERS,
        title: "Answers",
        remarks: vec![
            "Keep these answers in the survey: each run reads every sheet of answers in it. New ones go on a sheet of their own, such as Answers 2.".into(),
            "accepted: not counted again; the caution stays on pages, with who accepted it.".into(),
        ],
        lie: Lie::Landscape,
        frozen: Frozen::Headings,
    };
    let mut pages = Pages::open(press, form)?;
    let columns = columns_of::<AnswerRow<'_>>(press, |lead| press.address(lead));
    pages.table(&columns, AnswerRow::all(press.report), |_| Tone::Body)?;
    pages.finish()
}
